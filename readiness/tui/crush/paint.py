"""Painting the Crush screen: how the rows are shared, and what goes where."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from textual.content import Content
from textual.widgets import Digits, Static

from readiness.tui.crush import views
from readiness.tui.shared.big import big_tag
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.looks import TEXT

if TYPE_CHECKING:
    from readiness.tui.crush.screen import CrushScreen

COMING = 8
MESSAGE_ROWS = 2
MOST_ASKED = 5
TYPING_KEYS = (("Enter", "done"), ("Tab", "completes"), ("Esc", "back to the keys"))
QUESTION_KEYS = (("Backspace", "takes back the last key"), ("?", "help"))
FEET_ROWS, BIG_ROWS = 6, 3
LOW, WIDE_ENOUGH = 24, 76
TALL, ROOMY, DRAWN_ROWS = 36, 110, 21
SAVED_SHARE = 0.38


class Rows(NamedTuple):
    """How many rows each part has."""

    due: int
    feet: int
    saved: int
    lower: int
    """What is read back, and below it what is asked."""
    coming: int


def rows_of(width: int, height: int, message: int = 0) -> Rows:
    """The rows of a screen of this size, of which a message takes some; what stands on every screen
    takes the rest."""
    coming = 0 if height < LOW else 1
    drawn = width >= ROOMY and height >= TALL
    feet = DRAWN_ROWS if drawn else FEET_ROWS
    free = height - (1 + BIG_ROWS + feet + 1 + coming + 1) - message
    lower = max(MOST_ASKED + 1, min(MOST_ASKED + 4, free - free // 3))
    saved = feet if width >= WIDE_ENOUGH else 0
    return Rows(max(free - lower, 1), feet, saved, lower, coming)


class Paint:
    """Paints a Crush screen from its state."""

    def __init__(self, screen: CrushScreen) -> None:
        self._screen = screen

    @property
    def rows(self) -> Rows:
        """The rows of each part, at this size and with this message."""
        width, height = self._screen.size
        return rows_of(width, height, len(self.message(width)))

    def message(self, width: int) -> list[Content]:
        """The message in lines, two of them at most."""
        said = self._screen.tui.glyphs.text(self._screen.message)
        lines = Content.assemble((f" {said}", f"bold {TEXT}")).wrap(max(width - 1, 20))
        return lines[:MESSAGE_ROWS] if said else []

    def all(self) -> None:
        """Everything."""
        screen, glyphs = self._screen, self._screen.tui.glyphs
        width = screen.size.width
        rows = self.rows
        self._share(width, rows)
        farm = glyphs.text(screen.gate.team.group or screen.gate.team.farm or "")
        left = len(screen.gate.race.keys)
        top = views.top_line(farm, len(screen.handled), left, screen.today, width, glyphs)
        self._put("top", top)
        self._head()
        card = screen.card
        due = views.due(card, screen.today, rows.due, width, glyphs) if card else Content("")
        self._put("due", due)
        names = [screen.called(key) for key in screen.gate.race.keys if key != screen.key]
        self._put("coming", views.coming(names[:COMING], width, glyphs))
        self._put("line", Content("\n").join(self.message(width)))
        screen.query_one("#line").set_class(bool(screen.message), "-said")
        self._saved()
        self.pad()

    def _share(self, width: int, rows: Rows) -> None:
        for name, height in (
            ("due", rows.due), ("coming", rows.coming), ("saved", rows.saved),
            ("feet", rows.feet), ("middle", rows.feet),
        ):  # fmt: skip
            part = self._screen.query_one(f"#{name}")
            part.styles.height = height
            part.display = height > 0
        self._screen.query_one("#feet").styles.width = self._feet_width(width)

    @staticmethod
    def _feet_width(width: int) -> int:
        return width - int(width * SAVED_SHARE) if width >= WIDE_ENOUGH else width

    def _head(self) -> None:
        screen, glyphs = self._screen, self._screen.tui.glyphs
        digits = screen.query_one("#tag", Digits)
        if screen.card is None:
            digits.update("")
            digits.set_class(True, "-hidden")
            self._put("person", Content.assemble(("Nobody is in the crush.", "bold")))
            return
        tag = glyphs.text(screen.card.assessment.bull)
        large = "" if glyphs.ascii_only else big_tag(tag)
        digits.update(large)
        digits.set_class(not large, "-hidden")
        on = screen.today.toordinal()
        self._put("person", views.head(screen.card, on, glyphs, tag if tag != large else ""))

    def _saved(self) -> None:
        width = self._screen.size.width
        room = width - self._feet_width(width) - 1
        said = views.saved(self._screen.last, self.rows.saved, room, self._screen.tui.glyphs)
        self._put("saved", said)

    def pad(self) -> None:
        """What is said of him, and what is asked."""
        screen, glyphs = self._screen, self._screen.tui.glyphs
        width = screen.size.width
        pad, card = screen.pad, screen.card
        big = screen.query_one("#big", Static)
        self._keys()
        if pad is None or card is None:
            for part in ("feet", "slip", "words", "question", "big"):
                self._put(part, Content(""))
            big.display = False
            return
        drawn = self.rows.feet == DRAWN_ROWS
        feet = views.feet_drawn if drawn else views.feet
        self._put("feet", feet(pad, self._feet_width(width), glyphs))
        text = screen.unread or pad.slip.line(pad.before.scales)
        self._put("slip", views.line(text, bool(screen.unread), width, glyphs))
        large = views.big_foot(pad, glyphs)
        self._put("big", large)
        big.display = bool(pad.mode.place[0])
        if not screen.typing.on:
            room = width - max(line.cell_length for line in large.split("\n", allow_blank=True))
            self.lower(
                views.question(pad, room - 1, glyphs),
                lambda rows: views.words(pad, card, screen.last, rows, width, glyphs),
            )

    def _keys(self) -> None:
        """The keys that mean something now: within a question Enter saves nothing."""
        screen = self._screen
        line = screen.query_one(KeyLine)
        if screen.typing.on:
            line.instead(*TYPING_KEYS)
        elif screen.pad is not None and screen.pad.mode != screen.pad.top:
            line.instead(*QUESTION_KEYS)
        else:
            line.instead()

    def lower(self, asked: Content, said: Callable[[int], Content]) -> None:
        """What is asked, in as many rows as it takes; above it, in the others, what ``said`` gives
        for so many rows."""
        big = self._screen.query_one("#big", Static)
        least = BIG_ROWS if big.display else 1
        rows = min(max(asked.plain.count("\n") + 1, least), MOST_ASKED)
        left = self.rows.lower - rows
        self._screen.query_one("#asking").styles.height = rows
        self._screen.query_one("#words").styles.height = left
        self._put("question", asked)
        self._put("words", said(left))

    def _put(self, part: str, content: Content) -> None:
        widget = self._screen.query_one(f"#{part}", Static)
        # Every part has its size from elsewhere: to lay the screen out anew costs ten milliseconds.
        widget.update(content, layout=False)
