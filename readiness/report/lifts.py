"""Whose feet are to be lifted within the week, and which: what a trimmer wants to know first."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from readiness.engine.results import Assessment, Board, Check
from readiness.system.plain import plain
from readiness.trade.checks import LIFTING
from readiness.trade.feet import FEET

WEEK = 7


@dataclass(frozen=True, slots=True)
class Lift:
    """One bull with feet to lift. ``bull``: his name where no other has it, else his tag, too.
    ``plan_by``: of the first of the checks that need it; ``overdue``: one of them is."""

    key: str
    bull: str
    farm: str
    group: str
    feet: tuple[str, ...]
    plan_by: int
    overdue: bool

    @property
    def words(self) -> str:
        """His name and the feet: "Quern RH", "Otter all four"."""
        return f"{self.bull} {'all four' if self.feet == FEET else ' '.join(self.feet)}"


def needs_lift(check: Check) -> bool:
    """Whether a foot has to be lifted for it."""
    return check.check in LIFTING


def lifts(board: Board, days: int = WEEK) -> list[Lift]:
    """The bulls with a foot to lift within so many days, the first day first."""
    names = Counter(bull.name for bull in board.bulls)
    found = [
        _lift(bull, checks, alone=names[bull.name] == 1)
        for bull in board.bulls
        if (checks := _within(bull, board.on + days))
    ]
    return sorted(found, key=lambda lift: (not lift.overdue, lift.plan_by))


def _within(bull: Assessment, last: int) -> list[Check]:
    return [
        check
        for check in bull.outstanding
        if needs_lift(check) and check.has_last_day and check.plan_by <= last
    ]


def _lift(bull: Assessment, checks: list[Check], *, alone: bool) -> Lift:
    asked = {foot for check in checks for foot in (check.feet or (check.foot,))}
    name = bull.name or ""
    return Lift(
        key=bull.key,
        bull=plain(name if name and alone else f"{bull.bull} {name}".strip()),
        farm=plain(bull.farm or ""),
        group=plain(bull.group or ""),
        feet=tuple(foot for foot in FEET if foot in asked),
        plan_by=min(check.plan_by for check in checks),
        overdue=any(check.overdue for check in checks),
    )
