"""The line under the feet, where it is typed into: shorthand, a note, or which bull."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input

from readiness.crush.pad import Pad
from readiness.shorthand import ShorthandError
from readiness.shorthand.complete import complete
from readiness.trade.tags import match_tag, tag_key
from readiness.tui.crush import views
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT
from readiness.tui.shared.view import View, bulls_in

if TYPE_CHECKING:
    from readiness.tui.crush.screen import CrushScreen

ReadBack = Callable[[int], Content]
LINE, NOTE, PICK = "line", "note", "pick"
SHOWN = 8


class Entry(Input):
    """The line typed into; there only while something is typed."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("tab", "complete", "complete the word", show=False),
        Binding("down", "choose(1)", "the next of those found", show=False),
        Binding("up", "choose(-1)", "the one before", show=False),
        Binding("escape", "leave", "done typing", show=False),
    ]

    def __init__(self) -> None:
        super().__init__(id="entry", compact=True, select_on_focus=False)
        self.display = False
        self.seen: events.Key | None = None
        """The last key that came here."""

    def on_key(self, event: events.Key) -> None:
        self.seen = event

    def action_complete(self) -> None:
        self._typing.complete()

    def action_choose(self, step: int) -> None:
        self._typing.choose(step)

    def action_leave(self) -> None:
        self._typing.leave()

    @property
    def _typing(self) -> Typing:
        from readiness.tui.crush.screen import CrushScreen

        assert isinstance(self.screen, CrushScreen)
        return self.screen.typing


class Typing:
    """What is being typed on a Crush screen: ``on`` while something is."""

    def __init__(self, screen: CrushScreen) -> None:
        self._screen = screen
        self._what = ""
        self._began: Pad | None = None
        self._found: list[str] = []
        self._chosen: int | None = None

    @property
    def on(self) -> bool:
        return bool(self._what)

    # ---- begin and end -------------------------------------------------------------------------

    def line(self) -> None:
        """Type what is said of him as shorthand."""
        screen = self._screen
        if screen.pad is None:
            screen.say("No bull is in the crush: / picks one, g lets a group in.")
            return
        self._began = screen.pad
        text = screen.unread or screen.pad.slip.line(screen.pad.before.scales)
        self._open(LINE, text, "shorthand, as lf o su@4/2 pare; walk 1")

    def note(self) -> None:
        """Type a note on what is said of him."""
        pad = self._screen.pad
        if pad is None or not pad.slip:
            self._screen.say("Say first what was seen; a note goes with it.")
            return
        note = next((c["note"] for c in pad.slip.contents if "note" in c), "")
        self._open(NOTE, note, "in your own words")

    def pick(self) -> None:
        """Type which bull comes now."""
        self._open(PICK, "", "the last digits of his tag, or his name")

    def _open(self, what: str, text: str, hint: str) -> None:
        self._what = what
        entry = self._entry
        entry.placeholder = hint
        entry.value = text
        entry.cursor_position = len(text)
        entry.display = True
        self._screen.query_one("#slip").display = False
        self._screen.set_focus(entry)
        self.changed(text)

    def leave(self) -> None:
        """Done with typing; what was typed of him stays said."""
        self._what = ""
        self._entry.display = False
        self._screen.query_one("#slip").display = True
        self._screen.set_focus(None)
        self._screen.paint.pad()

    @property
    def _entry(self) -> Entry:
        return self._screen.query_one(Entry)

    def late(self, key: str) -> None:
        """A key that was pressed before the line was open."""
        entry = self._entry
        if key == "enter":
            self.submitted(entry.value)
        elif key == "escape":
            self.leave()
        elif key == "backspace":
            entry.action_delete_left()
            self.changed(entry.value)
        elif key == "tab":
            self.complete()
            self.changed(entry.value)
        elif len(key) == 1:
            entry.insert_text_at_cursor(key)
            self.changed(entry.value)

    # ---- as it is typed ------------------------------------------------------------------------

    def changed(self, text: str) -> None:
        if self._what == LINE:
            self._line_changed(text)
        elif self._what == PICK:
            self._pick_changed(text)
        elif self._what == NOTE:
            self._show("A note: what else is there to say?", "Enter keeps it, Esc leaves it")

    def _line_changed(self, text: str) -> None:
        """Read the line back as it grows. What cannot be read yet is kept as it stands."""
        screen, began = self._screen, self._began
        if began is None or screen.card is None:
            return
        try:
            slip = began.slip.read(text, began.before.scales)
        except ShorthandError as problem:
            screen.unread = text
            said = self._refused(problem.why)
        else:
            screen.unread = ""
            screen.pad = began.done(slip) if slip != began.slip else began
            said = self._read_back()
        screen.keep(text)
        screen.paint.pad()
        next_words = ", ".join(line.split()[-1] for line in self._completions(text)[:SHOWN])
        more = f"; Tab: {next_words}" if next_words else ""
        self._show(f"Enter saves, Esc goes back to the keys{more}", "", said)

    def _completions(self, text: str) -> list[str]:
        screen = self._screen
        groups = [line.group for line in screen.sheet.board.groups] if screen.sheet else []
        checks = [check.name for check in screen.card.rules.checks] if screen.card else []
        return complete(text, groups=groups, checks=checks)

    def complete(self) -> None:
        """Take the first word that may come next."""
        if self._what == LINE and (found := self._completions(self._entry.value)):
            self._entry.value = found[0] + " "
            self._entry.cursor_position = len(self._entry.value)

    def _pick_changed(self, text: str) -> None:
        screen = self._screen
        self._chosen = None
        self._found = []
        if screen.sheet is None or not text.strip():
            self._show_found()
            return
        by_tag = match_tag(text, screen.bulls)
        by_name = [bull.key for bull in bulls_in(screen.sheet.board, View(find=text))]
        self._found = by_tag or by_name
        self._show_found()

    def choose(self, step: int) -> None:
        if self._what == PICK and self._found:
            at = (-1 if step > 0 else 0) if self._chosen is None else self._chosen
            self._chosen = (at + step) % len(self._found)
            self._show_found()

    def _show_found(self) -> None:
        screen = self._screen
        halves = screen.half_entered
        parts = []
        for at, key in enumerate(self._found[:SHOWN]):
            half = " (half entered)" if key in halves else ""
            mark = screen.tui.glyphs.arrow if at == self._chosen else ""
            parts.append(f"{mark}{screen.called(key)}{half}")
        if not self._entry.value.strip():
            waiting = ", ".join(screen.called(key) for key in halves)
            self._show("Which bull?", f"half entered: {waiting}" if waiting else "")
        elif not self._found:
            self._show("Which bull?", "none has such a tag or name")
        else:
            self._show("Which bull? Enter takes him, arrows choose.", "  ".join(parts))

    # ---- Enter ---------------------------------------------------------------------------------

    def submitted(self, text: str) -> None:
        if self._what == LINE:
            if self._screen.unread:
                return  # what is wrong stands under the line
            self.leave()
            self._screen.action_save()
        elif self._what == NOTE:
            pad = self._screen.pad
            self.leave()
            if pad is not None:
                self._screen.take(pad.done(pad.slip.note(text.strip())))
        elif self._what == PICK:
            self._pick_entered(text)

    def _pick_entered(self, text: str) -> None:
        exact = [key for key in self._found if key == tag_key(text)]
        chosen = self._found[self._chosen : self._chosen + 1] if self._chosen is not None else []
        one = chosen or exact or (self._found if len(self._found) == 1 else [])
        if one:
            self.leave()
            self._screen.pick(one[0])
        elif self._found:
            names = ", ".join(self._screen.called(key) for key in self._found[:SHOWN])
            self._show("Which of them? Type more, or choose with the arrows.", names)

    # ---- painting ------------------------------------------------------------------------------

    def _show(
        self, question: str, below: str, said: Callable[[int], Content] | None = None
    ) -> None:
        """What is asked while one types, and above it what is read back."""
        glyphs = self._screen.tui.glyphs
        parts = [(f" {question}", f"bold {TEXT}")]
        parts += [(f"\n {glyphs.text(below)}", QUIET)] if below else []
        self._screen.query_one("#big").display = False
        self._screen.paint.lower(Content.assemble(*parts), said or (lambda rows: Content("")))

    def _refused(self, why: str) -> ReadBack:
        glyphs = self._screen.tui.glyphs
        words = Content.assemble((f" {glyphs.late} {glyphs.text(why)}", f"bold {ORANGE}"))
        return lambda rows: words

    def _read_back(self) -> ReadBack:
        screen = self._screen
        pad, card = screen.pad, screen.card
        assert pad is not None and card is not None
        return lambda rows: views.words(pad, card, None, rows, screen.size.width, screen.tui.glyphs)
