"""Visits moved or dropped on the screen, to see what would come of it. Nothing is written."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date

from readiness.trade.words import column_day
from readiness.tui.diary.rows import VisitKey
from readiness.visits.asked import Promise
from readiness.visits.plan import Visit, VisitPlan, days_of_visits, days_to_move, on_days

SECONDS = 5.0


@dataclass(frozen=True, slots=True)
class Moves:
    """A plan, and what is done to its visits: (farm, day planned) → the day instead, None: nobody
    comes."""

    plan: VisitPlan
    to: dict[VisitKey, int | None] = field(default_factory=dict)

    @property
    def any(self) -> bool:
        return bool(self.to)

    def day_of(self, visit: VisitKey) -> int | None:
        """The day on which that visit takes place now."""
        return self.to.get(visit, visit[1])

    def _days(self, without: VisitKey | None = None) -> dict[str, list[int]]:
        """Farm → the days on which somebody comes now, but for one visit."""
        days: dict[str, list[int]] = {farm: [] for farm in days_of_visits(self.plan)}
        for visit in self.plan.visits:
            key = (visit.farm, visit.on)
            on = self.day_of(key)
            if on is not None and key != without:
                days[visit.farm].append(on)
        return days

    def step(self, visit: VisitKey, by: int) -> Moves:
        """That visit on the next day (``by`` 1) or the one before (-1) on which it may be."""
        on = self.day_of(visit)
        on = visit[1] if on is None else on
        free = days_to_move(self.plan, visit[0], self._days(without=visit))
        ahead = [d for d in free if d > on] if by > 0 else [d for d in reversed(free) if d < on]
        return self._with(visit, ahead[0]) if ahead else self

    def drop(self, visit: VisitKey) -> Moves:
        """Nobody comes; asked for again, somebody does."""
        return self._with(visit, visit[1] if self.day_of(visit) is None else None)

    def back(self) -> Moves:
        """Everything as planned."""
        return Moves(self.plan)

    def promise(self, visit: VisitKey, promised: tuple[Promise, ...]) -> tuple[Promise, ...]:
        """What is promised, with this visit on the day on which it stands; without it where it is
        promised for that day. A visit moved after it was promised is so for its new day alone."""
        farm, planned = visit
        day = self.day_of(visit)
        now = Promise(date.fromordinal(planned if day is None else day), farm)
        before = Promise(date.fromordinal(planned), farm)
        others = tuple(each for each in promised if each not in (now, before))
        return others if now in promised else (*others, now)

    def _with(self, visit: VisitKey, to: int | None) -> Moves:
        moved = {**self.to, visit: to}
        if to == visit[1]:
            del moved[visit]
        return replace(self, to=moved)

    def outcome(self) -> VisitPlan:
        """The plan that comes of it: the same checks on the days that are left."""
        return on_days(self.plan, self._days(), SECONDS)

    def shown(self, after: VisitPlan) -> list[tuple[VisitKey, Visit, str]]:
        """Each planned visit as it is now, in the order planned, with what was done to it."""
        now = {(visit.farm, visit.on): visit for visit in after.visits}
        found = []
        for visit in self.plan.visits:
            key = (visit.farm, visit.on)
            on = self.day_of(key)
            mark = ""
            if on is None:
                mark = "dropped"
            elif on != visit.on:
                mark = f"was {column_day(visit.on, self.plan.board.on)}"
            found.append((key, visit if on is None else now.get((visit.farm, on), visit), mark))
        return found
