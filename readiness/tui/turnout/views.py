"""What the Turnout screen shows: who goes, who stays and why, a line or a few of each bull."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from readiness.cover.turnout import TurnoutDay
from readiness.engine.results import Assessment
from readiness.report import turnout_words as words
from readiness.report.look import hanging, wrapped
from readiness.system.width import cells
from readiness.trade.words import full_day_words
from readiness.tui.shared.looks import ROLES, Glyphs, at_both_ends, painted


@dataclass(frozen=True, slots=True)
class Row:
    """A line, or the few of one bull; ``bull`` None: a heading."""

    content: Content
    bull: Assessment | None = None

    @property
    def head(self) -> bool:
        return self.bull is None


def top_line(day: TurnoutDay, width: int, glyphs: Glyphs) -> Content:
    """Whose turnout on the left, the day on the right."""
    right = full_day_words(day.on)
    left = glyphs.fit(glyphs.text(f" {words.title(day)}"), width - cells(right) - 2)
    return at_both_ends([(left, "head")], right, width)


def told(day: TurnoutDay, width: int, glyphs: Glyphs) -> Content:
    """Whether those who are ready carry the females; and that each is walked once more."""
    enough = wrapped(glyphs.text(words.enough(day)), width - 2)
    again = wrapped(words.WALK_AGAIN if day.goes else words.nobody(day), width - 2)
    lines = [painted((f" {line}", "strong")) for line in enough]
    return Content("\n").join([*lines, *(painted((f" {line}", "quiet")) for line in again)])


def rows(day: TurnoutDay, width: int, glyphs: Glyphs) -> list[Row]:
    """Every part that has anybody, with its bulls."""
    found: list[Row] = []
    for heading, said in words.parts(day):
        if said:
            found.append(Row(painted((f" {heading} ({len(said)})", "head"))))
        found += [Row(_bull(bull, of_him, width, glyphs), bull) for bull, of_him in said]
    return found


def _bull(bull: Assessment, said: str, width: int, glyphs: Glyphs) -> Content:
    state = words.state(bull)
    lead = f"{glyphs.sign(state)} {glyphs.text(words.name(bull))}:"
    text = "\n".join(hanging(f"{lead} {glyphs.text(said)}", width - 1))
    content = Content(text)
    return content.stylize(f"bold {ROLES[state]}", 0, len(lead) + 2)
