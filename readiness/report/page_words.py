"""Words that several pages say in the same way."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from readiness.engine.results import Check
from readiness.trade.cautions import (
    FORECAST,
    HANDLING,
    LOOSE,
    PUBLIC_PATHS,
    TRANSPORT,
    VET_DECIDES,
)
from readiness.trade.temper import CAUTION, MARK
from readiness.trade.words import day_words, days_words, full_day_words

CAUTIONS = (VET_DECIDES, FORECAST, f"{HANDLING} {LOOSE}", TRANSPORT, PUBLIC_PATHS)
"""What stands at the foot of a page."""

STATES = {"reason": "■ HOLD", "checks": "□ HOLD", "go": "● GO"}
"""State of a bull → his mark and word."""


def caution(temper: str | None) -> str:
    """What to be careful of: "! watch him", "!! DANGEROUS"; empty for a quiet bull."""
    return f"{MARK[temper]} {CAUTION[temper]}" if temper in CAUTION else ""


def farms(names: Iterable[str | None]) -> str:
    """The farms of a page in a row, "Bulls" where none is named."""
    return ", ".join(sorted({name for name in names if name})) or "Bulls"


def notices(known: str, turnout: date | None = None) -> list[str]:
    """What has to be known before a page is believed: that it asks "what if", or looks back."""
    said = []
    if turnout is not None:
        said.append(f"What if turnout were {full_day_words(turnout)}: this is not the plan.")
    if known:
        said.append(f"As the book knew it on {known}: what was written later does not count here.")
    return said


def by_last_day(checks: Iterable[Check]) -> list[Check]:
    """Outstanding checks, the overdue ones first, then by their last day; those that nothing says a
    last day of at the end."""
    return sorted(
        checks, key=lambda c: (not c.overdue, not c.has_last_day, c.last_day, c.not_before)
    )


def paper_day(ordinal: int, on: int) -> str:
    """A day on paper, which is read on other days: never "today"."""
    return day_words(date.fromordinal(ordinal), date.fromordinal(on))


def by_words(check: Check, on: int) -> str:
    """The last day of a check: "by 9 Apr", "! by 14 Mar"; "from 9 Apr" where none is set, where no
    day fits, and of a quarantine, which ends by itself."""
    if check.overdue and check.due is not None:
        return f"! by {paper_day(check.due, on)}"
    if _short(check) or not check.has_last_day or check.check == "quarantine":
        return f"from {paper_day(check.not_before, on)}"
    return f"by {paper_day(check.last_day, on)}"


def check_sentence(check: Check, on: int) -> str:
    """What is to be done; in brackets that it is overdue, and from when it can be done."""
    said = []
    if check.overdue and check.due is not None:
        said.append(f"{days_words(on - check.due)} overdue")
    said += from_words(check, on)
    return f"{check.text} ({'; '.join(said)})" if said else check.text


def from_words(check: Check, on: int) -> list[str]:
    """From when it can be done, where that is to come and ``by_words`` does not say it already."""
    said = check.not_before <= on or by_words(check, on).startswith("from")
    return [] if said else [f"from {paper_day(check.not_before, on)}"]


def _short(check: Check) -> int:
    """How many days are lacking before turnout; 0 where a day fits."""
    return 0 if check.not_after is None else max(0, check.not_before - check.not_after)
