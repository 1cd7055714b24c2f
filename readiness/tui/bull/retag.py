"""A bull under another tag: his tag is asked for, and all that is said of him is said of it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from textual import on
from textual.app import ComposeResult
from textual.widgets import Input, Static

from readiness.system.errors import ReadinessError
from readiness.trade.tags import tag_key, tag_problem
from readiness.tui.shared.dialogs import Choice, Dialog, PlainInput
from readiness.tui.shared.errands import in_thread

if TYPE_CHECKING:
    from readiness.desk.retagging import TagTaken
    from readiness.tui.shared.live import LiveScreen
    from readiness.tui.shared.reading import BullSheet


class AskTag(Dialog[str | None]):
    """The whole tag that a bull has now, typed. ``typed``: what stands there at first."""

    KEYS = "Enter asks once more.  Esc: leave it as it is"

    def __init__(self, tag: str, typed: str = "") -> None:
        super().__init__(f"Another tag for {tag}: misread, or lost and replaced")
        self._typed = typed

    def body(self) -> ComposeResult:
        yield PlainInput(self._typed, compact=True, id="new-tag", select_on_focus=False)
        yield Static(id="said", markup=False)

    def on_mount(self) -> None:
        self.query_one("#new-tag", Input).focus()

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        odd = tag_problem(event.value) if event.value.strip() else None
        self.refuse(odd) if odd else self.say("")

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        if event.value.strip():
            self.dismiss(event.value.strip())
        else:
            self.refuse("Type the whole tag that he has now.")


class Retag(NamedTuple):
    """The bull of ``tag`` gets another one; ``renamed`` is given the key that he has then."""

    screen: LiveScreen[BullSheet]
    tag: str
    renamed: Callable[[str], None]

    def ask(self, typed: str = "") -> None:
        """Ask for it, and write it; where another bull of the book has it, ask once more first.
        ``typed``: what stands there at first."""
        if self.screen.desk.readonly:
            said = "Nothing is changed: the book was opened to be read only."
            self.screen.tui.tell(said, wrong=True)
            return

        def typed_in(new: str | None) -> None:
            if new is not None:
                yes = Choice(f"he is {new} from now on", new, f"as he was {self.tag} until now")
                title = f"Say all that is written of {self.tag} of another tag?"
                self.screen.decide(title, {"y": yes}, partial(self._write, same=False))

        self.screen.app.push_screen(AskTag(self.tag, typed), typed_in)

    def _write(self, new: str, *, same: bool) -> None:
        job, again = partial(self._written, new, same=same), partial(self._again, new)
        in_thread(self.screen, job, again, group="write", exit_on_error=False)

    def _written(self, new: str, *, same: bool) -> Callable[[], None]:
        from readiness.desk.retagging import TagTaken, retag

        try:
            done = retag(self.screen.desk, self.tag, new, same=same)
        except TagTaken as taken:
            return partial(self._ask_same, new, taken)
        odd = "".join(f" {warning.text}." for warning in done.outcome.warnings)

        def then() -> None:
            self.screen.tui.tell(f"{done.words}.{odd}")
            self.renamed(tag_key(done.tag))

        return then

    def _ask_same(self, new: str, taken: TagTaken) -> None:
        together = Choice(
            f"one animal: all that is said of {self.tag} is said of {taken.tag}",
            partial(self._write, new, same=True),
            "where he was booked in twice; one undo takes it back",
        )
        other = Choice("another bull: type the tag again", partial(self.ask, new))
        self.screen.decide(taken.there, {"y": together}, lambda then: then(), other)

    def _again(self, new: str, problem: ReadinessError) -> None:
        """Say why it was not written; what was typed stands there again."""
        self.screen.refuse(problem)
        if self.screen.is_current:
            self.ask(new)
