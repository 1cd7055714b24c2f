"""What comes first: a bull's next check, what is to be done within the week, whose feet are to be
lifted by then.

Pure: an assessment or a board in, its checks out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from readiness.engine.results import Assessment, Board, Check
from readiness.system.plain import plain
from readiness.trade.checks import LIFTING
from readiness.trade.feet import FEET
from readiness.trade.words import Day

WEEK = 7


def next_check(bull: Assessment, *, lifting: bool = False) -> Check | None:
    """What is to be done next: the check whose day comes first. ``lifting``: of those for which a
    foot has to be lifted."""
    return next(iter(in_order(_checks(bull, lifting=lifting))), None)


def soon_checks(bull: Assessment, on: Day, *, lifting: bool = False) -> list[Check]:
    """Every check that is to be done within a week, the first first."""
    return in_order(c for c in _checks(bull, lifting=lifting) if _by(c, on + WEEK))


def deciding(bull: Assessment) -> Check | None:
    """The check that decides on which day he could go: the last one of his chain."""
    last = next((link.to for link in reversed(bull.chain) if link.to != "turnout"), None)
    return next((check for check in bull.outstanding if check.id == last), None)


def _checks(bull: Assessment, *, lifting: bool) -> Iterable[Check]:
    return (check for check in bull.outstanding if not lifting or check.check in LIFTING)


def _by(check: Check, last: Day) -> bool:
    return check.has_last_day and check.plan_by <= last


def in_order(checks: Iterable[Check]) -> list[Check]:
    """Checks by the day for which people plan them, of one day the vet's first: he is the hardest
    to get. Those of which nothing says by when come last, as they can be done."""
    return sorted(
        checks,
        key=lambda c: (
            not c.has_last_day,
            c.plan_by,
            c.has_last_day and c.who != "vet",
            c.not_before,
        ),
    )


def overdue_first(checks: Iterable[Check]) -> list[Check]:
    """Checks as they are planned, what is overdue before all."""
    return sorted(in_order(checks), key=lambda check: not check.overdue)


class Lift(NamedTuple):
    """One bull with feet to lift. ``bull``: his name where no other has it, else his tag, too.
    ``plan_by``: of the first of the checks that need it; ``overdue``: one of them is."""

    key: str
    bull: str
    farm: str
    group: str
    feet: tuple[str, ...]
    plan_by: Day
    overdue: bool

    @property
    def words(self) -> str:
        """His name and the feet: "Quern RH", "Otter all four"."""
        return f"{self.bull} {'all four' if self.feet == FEET else ' '.join(self.feet)}"


def lifts(board: Board, days: int = WEEK) -> list[Lift]:
    """The bulls with a foot to lift within so many days, the first day first."""
    names = Counter(bull.name for bull in board.bulls)
    found = [
        _lift(bull, checks, alone=names[bull.name] == 1)
        for bull in board.bulls
        if (checks := [c for c in _checks(bull, lifting=True) if _by(c, board.on + days)])
    ]
    return sorted(found, key=lambda lift: (not lift.overdue, lift.plan_by))


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
