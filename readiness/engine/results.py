"""What an assessment says: frozen plain values. The fields are the keys of the JSON, in its order;
those declared as ``Day`` are ordinals here and ISO dates there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from readiness.trade.checks import LIFTING
from readiness.trade.words import Day


class Remark(NamedTuple):
    """A reason to hold, or advice (which never holds)."""

    rule: str
    text: str
    foot: str | None = None
    claw: str | None = None
    code: str | None = None
    since: Day | None = None
    standing: str = ""
    source: str = ""


class Check(NamedTuple):
    """An outstanding check: ``not_before`` to ``not_after`` (turnout's bound); ``due`` is its own
    clock's last day."""

    id: str
    check: str
    rule: str
    foot: str | None
    claw: str | None
    code: str | None
    feet: tuple[str, ...]
    not_before: Day
    not_after: Day | None
    due: Day | None
    advised_by: Day | None
    overdue: bool
    lags: tuple[tuple[str, int], ...]
    since: Day | None
    who: str
    text: str
    standing: str
    source: str

    @property
    def after(self) -> tuple[str, ...]:
        """The ids of the checks that it waits for; ``lags`` has the days with them."""
        return tuple(check for check, _ in self.lags)

    @property
    def has_last_day(self) -> bool:
        """Whether anything says by when: neither its own clock nor a turnout may."""
        return self.due is not None or self.not_after is not None

    @property
    def last_day(self) -> Day:
        """The last day on which it should be done: the earlier of ``due`` and ``not_after``;
        ``not_before`` where neither is set or it has no room."""
        ends = [day for day in (self.due, self.not_after) if day is not None]
        last = min(ends, default=self.not_before)
        return max(last, self.not_before)

    @property
    def plan_by(self) -> Day:
        """The day by which people plan it: the advised one while that is still to come. Once it is
        past, a foot is lifted on the first day that it can be, as the trimmer would else be told
        that nobody waits for him; what is booked for a day of its own, by ``last_day``."""
        advised = self.advised_by
        if advised is None or advised >= self.last_day:
            return self.last_day
        if advised >= self.not_before:
            return advised
        return self.not_before if self.check in LIFTING else self.last_day


class Link(NamedTuple):
    """One step of the chain: from "today", an entry's or a check's id, to a check or "turnout"."""

    frm: str
    to: str
    days: int
    rule: str
    text: str


class Assessment(NamedTuple):
    """One bull on one day."""

    bull: str
    key: str
    name: str | None
    farm: str | None
    group: str | None
    role: str | None
    turnout: Day | None
    status: str
    hold: str | None
    outlook: str
    earliest_ready: Day | None
    slack_days: int | None
    overdue: int
    reasons: tuple[Remark, ...]
    outstanding: tuple[Check, ...]
    advice: tuple[Remark, ...]
    chain: tuple[Link, ...]
    temper: str | None = None

    @property
    def in_time(self) -> bool:
        """Whether he is GO, or can be ready by turnout if all is done and every check passes."""
        return self.status == "GO" or (self.slack_days is not None and self.slack_days >= 0)


@dataclass(frozen=True, slots=True)
class GroupLine:
    """How one group stands."""

    farm: str | None
    group: str
    turnout: Day
    females: int | None
    bulls: int
    go: int
    forecast_ready: int
    hold_reason: int
    hold_checks: int
    overdue: int


@dataclass(frozen=True, slots=True)
class Board:
    """Every bull that is here or out, in the order of the board."""

    on: Day
    rules_name: str
    rules_digest: str
    groups: tuple[GroupLine, ...]
    bulls: tuple[Assessment, ...]
