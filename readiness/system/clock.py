"""The clock, injected at the edges: nothing in the core asks what day it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Protocol

from readiness.system.errors import UsageError


class Clock(Protocol):
    def now(self) -> datetime:
        """This moment, aware, in UTC."""

    def today(self) -> date:
        """The local day."""


class SystemClock:
    def now(self) -> datetime:
        return datetime.now(UTC)

    def today(self) -> date:
        try:
            return datetime.now().astimezone().date()
        except (ValueError, OverflowError) as problem:
            raise UsageError(
                "The time zone that TZ names is a day or more from that of Greenwich: there is "
                "none such. Set TZ right, or take it away."
            ) from problem


@dataclass(frozen=True)
class FixedClock:
    """A clock that stands still, for tests and for ``--on``."""

    moment: datetime

    def now(self) -> datetime:
        return self.moment.astimezone(UTC)

    def today(self) -> date:
        return self.moment.astimezone().date()
