"""What of the farm or group in view goes onto paper, as files beside the book: which pages."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from readiness.herd.team import Team
from readiness.report import paper
from readiness.tui.shared.dialogs import Choice

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen

What = TypeVar("What")
OfAGroup = Callable[[Callable[[Team], None]], None]
"""Does it for the group in view, else asks for which."""


def choose_paper(screen: LiveScreen[What], team: Team, of_a_group: OfAGroup) -> None:
    """Ask which pages, and write them."""
    desk, farm, group = screen.desk, team.farm, team.group or None

    def board() -> list[Path]:
        return paper.write_beside(desk, farm=farm, group=group)

    def cover() -> list[Path]:
        return [paper.write_cover(desk, farm=farm, group=group)]

    def diary() -> list[Path]:
        return paper.write_diary(desk, farm=farm)

    def gate(of: Team) -> None:
        screen.put_on_paper(lambda: [paper.write_gate(desk, of)])

    choices: list[Choice[Callable[[], None]]] = [
        Choice("the board, and the sheet of the day", lambda: screen.put_on_paper(board),
               "who can go, who cannot and why; what was found and done today"),
        Choice("cover", lambda: screen.put_on_paper(cover),
               "are the bulls enough for the females, and what mends a shortage"),
        Choice("the gate", lambda: of_a_group(gate),
               "one group's turnout: who goes out today, who stays"),
        Choice("the diary, and a calendar of it", lambda: screen.put_on_paper(diary),
               "checks, turnouts, the days of the season, days for the vet"),
    ]  # fmt: skip
    screen.choose("On paper, beside the book:", choices, lambda write: write())
