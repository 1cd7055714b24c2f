"""The Turnout screen: who of a group goes out today, who stays and why, and letting them out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Resize
from textual.widgets import Input, OptionList, Static

from readiness.cover.turnout import TurnoutDay, came_in, let_out, may_go
from readiness.desk.half_entered import left_now
from readiness.engine.care import cares
from readiness.engine.results import Assessment
from readiness.herd.team import Team
from readiness.report.turnout_words import early_words, is_held, name, stayer_words
from readiness.trade.cautions import LOOSE
from readiness.trade.words import full_day_words, list_words, plural, sentence
from readiness.tui.shared.dialogs import Choice, Dialog, PlainInput
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.listed import Listed
from readiness.tui.shared.live import LiveScreen
from readiness.tui.shared.looks import painted
from readiness.tui.shared.view import group_choices, team_words
from readiness.tui.turnout import views

Told = tuple[Assessment, str | None]
"""One to let out, and why, where he is on HOLD."""


ASKED_MOST = 3
"""Bulls whom the question names with what is to be asked of them first."""


class TurnoutScreen(LiveScreen[TurnoutDay]):
    """One group on the day: who goes, who stays, who is in reserve, who is out already."""

    TOPIC = "turnout"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("l", "let_out", "let out", tooltip="let out those who are GO: shown first"),
        Binding("enter", "let_one", "this one",
                tooltip="let the one under the cursor out, on HOLD only with a reason, or in"),
        Binding("g", "group", "group", tooltip="another group"),
        Binding("v", "cover", "cover", tooltip="is it enough, what mends it, who replaces whom"),
        Binding("o", "paper", "paper", tooltip="the page for the gate, beside the book"),
        Binding("u", "undo", "take back what was last written", show=False),
        Binding("j", "focused.cursor_down", "down", show=False),
        Binding("k", "focused.cursor_up", "up", show=False),
        Binding("escape,b", "leave", "back", tooltip="back to where one came from"),
    ]  # fmt: skip

    def __init__(self, team: Team) -> None:
        super().__init__()
        self.team = team
        self.seen: TurnoutDay | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="top", markup=False)
        yield Static(id="told", markup=False)
        yield Listed[views.Row](id="gate")
        yield Static(id="line", markup=False)
        yield Static(painted((f" The vet decides. {LOOSE}", "quiet")), id="legend", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    @property
    def _listed(self) -> Listed[views.Row]:
        return self.query_one("#gate", Listed)

    # ---- reading ---------------------------------------------------------------------------------

    def read(self) -> TurnoutDay:
        return self.desk.reading().turnout(self.team.group or "", self.team.farm)

    def show(self, seen: TurnoutDay) -> None:
        self.seen = seen
        self._paint()

    def _paint(self) -> None:
        if self.seen is None:
            return
        glyphs, width = self.tui.glyphs, self.size.width
        self.put(
            top=views.top_line(self.seen, self.head_width, glyphs),
            told=views.told(self.seen, width, glyphs),
        )
        self._listed.fill(views.rows(self.seen, width - 1, glyphs))

    @on(OptionList.OptionHighlighted)
    def _moved_to(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self._listed.mark(event.option_index)

    def on_resize(self, event: Resize) -> None:
        self._paint()

    # ---- letting out -----------------------------------------------------------------------------

    def action_let_out(self) -> None:
        """Show those who are GO, and let them out where that is wanted."""
        if self.seen is None:
            return
        going: list[Told] = [(goer.bull, None) for goer in self.seen.goes]
        if going:
            self._ask(f"Walked each once more? {self._names(going)}.", going)
        else:
            self.tui.tell("Nobody who is GO is left to go. Enter lets out one by name.")

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_let_one()

    def action_let_one(self) -> None:
        """Let out the one under the cursor by name; on HOLD or too early only with a reason."""
        row, day = self._listed.row, self.seen
        if row is None or row.bull is None or day is None:
            return
        bull = row.bull
        if day.who(bull.key) is None:
            self._ask_in(bull)
        elif may_go(bull, day.on):
            self._ask("", [(bull, None)])
        else:
            self.app.push_screen(AskWhy(bull, day.on), partial(self._why_given, bull))

    def _why_given(self, bull: Assessment, why: str | None) -> None:
        if why is not None:
            held = "It is too early for him" if bull.status == "GO" else "He is on HOLD"
            self._ask(f"{held}. Noted: {why}", [(bull, why)])

    def _ask(self, below: str, going: Sequence[Told]) -> None:
        """Whether they are to go: how many, of which group, on which day."""
        assert self.seen is not None
        whom = self._names(going) if len(going) == 1 else plural(len(going), "bull")
        when = f"{full_day_words(self.desk.on)}{early_words(self.seen)}"
        title = f"{whom} of {team_words(self.team)}: out to the females on {when}?"
        found = [(name(bull), [care.text for care in cares(bull)]) for bull, _ in going]
        asked = [f"{called}: {list_words(texts)}" for called, texts in found if texts]
        if asked:
            more = f"; {len(asked) - ASKED_MOST} more" if len(asked) > ASKED_MOST else ""
            first = f"Ask first of {'; '.join(asked[:ASKED_MOST])}{more}."
            below = f"{first} {below}".strip()
        if half := self._half_entered(going):
            below = f"Half entered in the crush and not saved: {half}. {below}".strip()
        self.decide(title, {"y": Choice(f"let {whom} out", going, below)}, self._write)

    def _half_entered(self, going: Sequence[Told]) -> str:
        """Those of whom something is said that no assessment knows yet."""
        left = left_now(self.desk)
        said = (f"{name(bull)} ({left[bull.key].line})" for bull, _ in going if bull.key in left)
        return list_words(said)

    def _ask_in(self, bull: Assessment) -> None:
        why: dict[str, Choice[Told]] = {
            "l": Choice("lame", (bull, "lame"), "it holds him until somebody has looked"),
            "r": Choice("to rest", (bull, "rested")),
            "w": Choice("without a reason said", (bull, None)),
        }
        when = full_day_words(self.desk.on)
        self.decide(f"{name(bull)} is out already. Bring him in on {when}:", why, self._bring_in)

    def _names(self, going: Sequence[Told]) -> str:
        return list_words(name(bull) for bull, _ in going)

    def _write(self, going: Sequence[Told]) -> None:
        """Let them out as one batch, if each still stands as he was shown."""
        entries = let_out(going, self.desk.on, self.desk.who)
        self._add(
            entries,
            f"Out: {self._names(going)}",
            lambda now: all(now.who(bull.key) == bull for bull, _ in going),
        )

    def _bring_in(self, told: Told) -> None:
        """Bring him in, if he still stands as he was shown."""
        bull, why = told
        entry = came_in(bull, why, self.desk.on, self.desk.who)
        self._add([entry], f"In: {name(bull)}", lambda now: bull in now.out)

    def _add(
        self, entries: list[dict[str, Any]], words: str, still: Callable[[TurnoutDay], bool]
    ) -> None:
        def job() -> Callable[[], None]:
            if not still(self.read()):
                return self._changed
            done = self.desk.add(entries)
            texts = dict.fromkeys(each.text for each in done.warnings)
            odd = "".join(f" {sentence(text)}" for text in texts)
            return partial(self._written, f"{words}. u takes it back.{odd}")

        in_thread(self, job, self.refuse, group="write", exit_on_error=False)

    def _written(self, words: str) -> None:
        self.tui.tell(words)
        self.action_reread()

    def _changed(self) -> None:
        self.tui.tell("The book changed since: look again. Nothing was written.", wrong=True)
        self.action_reread()

    # ---- other keys ------------------------------------------------------------------------------

    def action_group(self) -> None:
        """Another group."""

        def job() -> Callable[[], None]:
            return partial(self._ask_group, group_choices(self.desk.board(), "turnout"))

        in_thread(self, job, self.refuse, group="ask", exclusive=True)

    def _ask_group(self, choices: Sequence[Choice[Team]]) -> None:
        self.choose("Whose turnout?", choices, self._look_at)

    def _look_at(self, team: Team) -> None:
        self.team, self.seen = team, None
        self.read_another()

    def action_cover(self) -> None:
        """The cover of this group."""
        self.tui.open("cover", self.team)

    def action_paper(self) -> None:
        """The page for the gate, beside the book."""

        def write() -> list[Path]:
            from readiness.report.paper import write_gate

            return [write_gate(self.desk, self.team)]

        self.put_on_paper(write)


class AskWhy(Dialog[str | None]):
    """Asks why one on HOLD goes all the same: a line of text."""

    KEYS = "Enter shows it once more, Esc goes back"

    def __init__(self, bull: Assessment, today: int) -> None:
        super().__init__(f"{name(bull)} {is_held(bull)} {stayer_words(bull, today)}.")

    def body(self) -> ComposeResult:
        yield PlainInput(placeholder="why he goes all the same", compact=True)
        yield Static(id="said", markup=False)

    @on(Input.Submitted)
    def _given(self, event: Input.Submitted) -> None:
        event.stop()
        if why := event.value.strip():
            self.dismiss(why)
        else:
            self.say("Say what speaks for it: it stays beside him.", "alert")
