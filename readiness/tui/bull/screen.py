"""The Bull screen: why he is held, and what would make him ready."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import Digits, Static

from readiness.herd.card import Card
from readiness.tui.bull import facts
from readiness.tui.bull.feet import feet, scores
from readiness.tui.shared.dialogs import Paper
from readiness.tui.shared.keys import KeyLine, numbered
from readiness.tui.shared.live import ScrolledScreen
from readiness.tui.shared.looks import LINE, TEXT, Glyphs, big_tag
from readiness.tui.shared.reading import BullSheet, read_bull

Draw = Callable[[int], Content]


class Section(Widget):
    """A part of the screen with a heading: it draws itself for whatever width in cells it gets."""

    def __init__(self, heading: str, glyphs: Glyphs, *, id: str) -> None:
        super().__init__(id=id)
        self._heading = heading
        self._glyphs = glyphs
        self._draw: Draw = lambda width: Content("")
        self._drawn: dict[int, Content] = {}

    def set(self, draw: Draw) -> None:
        """Draw this from now on."""
        self._draw = draw
        self._drawn = {}
        self.refresh(layout=True)

    def _at(self, width: int) -> Content:
        """The content for a width, drawn once."""
        if width not in self._drawn:
            rule = self._glyphs.rule * max(width - len(self._heading) - 1, 0)
            head = Content.assemble((f"{self._heading} ", f"bold {TEXT}"), (rule, LINE))
            self._drawn[width] = Content("\n").join([head, self._draw(width)])
        return self._drawn[width]

    def render(self) -> Content:
        return self._at(self.content_size.width)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(self._at(width).get_height({}, width), 1)


SECTIONS = {
    "why": "1 Why",
    "checks": "2 Checks: from, by, who, what and why",
    "chain": "3 Step by step: what decides the day",
    "feet": "4 Feet",
    "findings": "5 Open findings and blocks",
    "scores": "6 Walk and condition",
    "advice": "7 Advice: never holds him",
    "vet": "8 Vet's last examination, and tests",
    "history": "9 History, newest first",
}


class BullScreen(ScrolledScreen[BullSheet]):
    """One bull of ``keys``, the order in which he stood on the board."""

    TOPIC = "bull"
    HEAD = "status"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,b", "back", "board", tooltip="back to the board"),
        Binding("n,right", "next(1)", "next bull", tooltip="the next bull as on the board"),
        Binding("e", "correct", "correct", tooltip="correct or take back an earlier entry"),
        Binding("asterisk", "mend", "mend feet", key_display="*",
                tooltip="another foot or claw, how bad, the day: as his feet are drawn"),
        Binding("l", "look", "look", tooltip="enter a look at what is open on a foot"),
        Binding("v,left", "next(-1)", "bull before", tooltip="the bull before as on the board"),
        *numbered("section", {key: f"go to {of[2:]}" for key, of in SECTIONS.items()}, "sections"),
        Binding("c", "crush", "crush", tooltip="he stands in the crush"),
        Binding("s", "sources", "sources", tooltip="the rules in play, with their sources"),
        Binding("o", "paper", "paper", tooltip="all that is known of him as a page"),
        *ScrolledScreen.SCROLLING,
        Binding("u", "undo", "take back what was last written", show=False),
        Binding("t", "retag", "another tag: misread, or lost and replaced", show=False),
    ]  # fmt: skip

    def __init__(self, key: str, keys: Sequence[str]) -> None:
        super().__init__()
        self.key = key
        self._keys = list(keys) or [key]
        self.sheet: BullSheet | None = None

    def compose(self) -> ComposeResult:
        glyphs = self.tui.glyphs
        made = [Section(title, glyphs, id=name) for name, title in SECTIONS.items()]
        with Horizontal(id="head"):
            yield Digits("", id="tag")
            yield Static(id="person", markup=False)
        yield Static(id="status", markup=False)
        with VerticalScroll(id="body", can_focus=True):
            with Container(id="pair"):
                with Vertical(id="left"):
                    yield from made[:3]
                with Vertical(id="right"):
                    yield from made[3:6]
            yield from made[6:]
        yield Static(id="line", markup=False)
        yield KeyLine([*self.BINDINGS, *self.tui.BINDINGS])

    # ---- reading -------------------------------------------------------------------------------

    def read(self) -> BullSheet:
        return read_bull(self.desk, self.key)

    def show(self, seen: BullSheet) -> None:
        self.sheet = seen
        card, glyphs, on = seen.card, self.tui.glyphs, self.desk.on.toordinal()
        self._head(card, on)
        draws: dict[str, Draw] = {
            "why": lambda width: facts.reasons(card, on, glyphs),
            "checks": partial(facts.checks, card, on=on, glyphs=glyphs),
            "chain": lambda width: facts.chain(card, on, glyphs),
            "feet": partial(feet, card, on=on, glyphs=glyphs),
            "findings": lambda width: facts.findings(card, on, glyphs),
            "scores": partial(scores, card, on=on, glyphs=glyphs),
            "advice": lambda width: facts.advice(card, glyphs),
            "vet": partial(facts.vet, card, on=on, glyphs=glyphs),
            "history": partial(facts.history, card, seen.words, on=on, glyphs=glyphs),
        }
        for name, draw in draws.items():
            self.query_one(f"#{name}", Section).set(draw)

    def _head(self, card: Card, on: int) -> None:
        glyphs, bull = self.tui.glyphs, card.assessment
        tag = glyphs.text(bull.bull)
        big = "" if glyphs.ascii_only else big_tag(tag)
        digits = self.query_one("#tag", Digits)
        digits.update(big)
        digits.set_class(not big, "-hidden")
        who = facts.person(card, on, glyphs)
        if tag != big:
            who = Content.assemble((f"{tag}  ", "bold"), who)
        self.put(person=who, status=facts.status_line(card, on, glyphs))

    # ---- keys ----------------------------------------------------------------------------------

    def action_back(self) -> None:
        self.tui.back_to_board(self.key)

    def action_next(self, step: int) -> None:
        """The next bull as he stood on the board, round the end."""
        at = self._keys.index(self.key) if self.key in self._keys else 0
        self._turn_to(self._keys[(at + step) % len(self._keys)])

    def renamed(self, key: str) -> None:
        """He is the bull of this key now."""
        self._keys = [*dict.fromkeys(key if each == self.key else each for each in self._keys)]
        self._turn_to(key)

    def _turn_to(self, key: str) -> None:
        self.key = key
        self.query_one("#body", VerticalScroll).scroll_home(animate=False)
        self.sheet = None
        self.read_another()

    def action_section(self, name: str) -> None:
        self.query_one(f"#{name}", Section).scroll_visible(top=True, animate=False)

    def action_sources(self) -> None:
        """Every rule in play for this bull, with its standing and source."""
        if self.sheet is not None:
            card, glyphs = self.sheet.card, self.tui.glyphs
            title = f"Sources: why the rules say so for {glyphs.text(card.assessment.bull)}"
            used = facts.sources(card, self.desk.on.toordinal(), glyphs)
            self.app.push_screen(Paper(title, used))

    def action_crush(self) -> None:
        """To the crush, with this bull in it."""
        self.tui.open("crush", self.key)

    def action_correct(self) -> None:
        """Choose an entry of his, and say it better."""
        from readiness.tui.bull.correct import choose_entry

        if self.sheet is not None:
            choose_entry(self, self.sheet)

    def action_retag(self) -> None:
        """Say all that is written of him of another tag."""
        from readiness.tui.bull.retag import Retag

        if self.sheet is not None:
            Retag(self, self.sheet.card.assessment.bull, self.renamed).ask()

    def action_mend(self) -> None:
        """Say of his feet, as they are drawn, what was another one, or worse, or on another day."""
        from readiness.tui.bull.mending import mend_feet

        if self.sheet is not None:
            mend_feet(self, self.sheet)

    def action_look(self) -> None:
        """Say what became of what is open on a foot."""
        from readiness.tui.shared.look import ask_look

        ask_look(self, self.key)

    def action_paper(self) -> None:
        """All that is known of him, as a page beside the book."""
        key = self.key

        def write() -> list[Path]:
            from readiness.report.paper import write_bull

            return [write_bull(self.desk, key)]

        if self.sheet is not None:
            self.put_on_paper(write)
