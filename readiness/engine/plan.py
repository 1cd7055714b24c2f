"""A check that is outstanding, before its days are worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import NamedTuple

from readiness.history import History
from readiness.history.records import NEVER, Mark
from readiness.rules.limits import Limits

TODAY, TURNOUT = "today", "turnout"
VISIT = "visit"
"""The rule of a bound that comes from what somebody means to do, and not from the trade."""


class Wait(NamedTuple):
    """Not before ``frm`` and ``days``: an entry with its ``day``, or a planned check (None)."""

    frm: str
    day: int | None
    days: int
    rule: str
    text: str


@dataclass(slots=True)
class Plan:
    """One outstanding check. ``oldest``: at most so long before turnout; ``tail``: at least so
    long before it. ``waits``: what it cannot come before. ``mark``: what tells it from others of
    its kind, where foot, claw and code do not. ``of_body``: a vet's look that is about the body."""

    check: str
    rule: str
    who: str
    text: str
    foot: str | None = None
    claw: str | None = None
    code: str | None = None
    mark: str = ""
    feet: tuple[str, ...] = ()
    due: int | None = None
    advised_by: int | None = None
    since: int | None = None
    oldest: int | None = None
    tail: int = 0
    waits: list[Wait] = field(default_factory=list)
    of_body: bool = False
    id: str = field(init=False)

    def __post_init__(self) -> None:
        self.id = self.check
        if self.foot or self.code or self.mark:
            parts = (self.check, self.foot, self.claw, self.code, self.mark)
            self.id = ":".join([part for part in parts if part])

    @property
    def first(self) -> int:
        """Its first day by what has happened, before today and other checks are taken in."""
        return max((w.day + w.days for w in self.waits if w.day is not None), default=NEVER)

    def after(self, mark: Mark, days: int, rule: str, text: str) -> None:
        """Not before the day of an entry and ``days``, where there is such an entry."""
        if mark:
            self.waits.append(Wait(mark.entry, mark.day, days, rule, text))

    def behind(self, plan: Plan, days: int, rule: str, text: str) -> None:
        """Not before another planned check and ``days``."""
        self.waits.append(Wait(plan.id, None, days, rule, text))


class Case(NamedTuple):
    """One bull on one day against one turnout.

    ``turnout`` is the day the windows count back from, None for a bull that is out (only his
    reasons count, and what he went out without). ``promised`` is his group's turnout while it is
    still to come: dues from turnout hang on it. ``heifers``: his group is one of heifers.
    ``planned``: check's id → the day on which somebody means to do it.
    """

    state: History
    on: int
    turnout: int | None
    promised: int | None
    heifers: bool = False
    planned: Mapping[str, int] = MappingProxyType({})

    @property
    def limits(self) -> Limits:
        return self.state.rules.limits
