"""What is to come on the farms asked for, for everybody: the diary of their bulls, the days of the
groups' seasons, and the days proposed for the vet.

Pure. Days are ordinals.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from readiness.cover.after import after_seasons
from readiness.cover.groups import groups_of_board
from readiness.cover.season import Event, to_bring_in
from readiness.cover.whole import days_to_keep, strays
from readiness.engine.results import Board
from readiness.herd.board import Herd, assess_herd
from readiness.herd.diary import planned
from readiness.trade.words import Day
from readiness.visits.vet_days import VET, VetDays, vet_days


@dataclass(frozen=True, slots=True)
class Ahead:
    """``season``: who is out still before all, then the first first, those under way too. ``last``:
    the last day that is told, None: no end."""

    board: Board
    season: tuple[Event, ...] = ()
    vet: VetDays = field(default_factory=VetDays)
    last: Day | None = None

    def for_person(self, who: str | None, last: Day | None) -> Ahead:
        """Up to the day ``last``; the vet's days only where ``who`` (None: everybody) is he."""
        season = tuple(event for event in self.season if last is None or event.first <= last)
        vet = self.vet.until(last) if who in (None, VET) else VetDays()
        return replace(self, season=season, vet=vet, last=last)


def ahead(herd: Herd, farm: str | None = None) -> Ahead:
    """What is to come; ``farm`` None: of every farm."""
    board = assess_herd(herd, farm=farm)
    after = after_seasons(herd, board.bulls)
    season = days_to_keep(herd, board, groups_of_board(herd, board), after)
    today = to_bring_in(herd, strays(herd, board))
    return Ahead(board, (*today, *season), vet_days(planned(board), herd.rulebook))
