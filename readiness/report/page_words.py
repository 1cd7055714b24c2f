"""Words that several pages say in the same way."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from readiness.engine.results import Board, Check
from readiness.report.check_days import days_short, last_words, late_words
from readiness.system.plain import plain
from readiness.trade.cautions import (
    FORECAST,
    HANDLING,
    LOOSE,
    PUBLIC_PATHS,
    TRANSPORT,
    VET_DECIDES,
)
from readiness.trade.temper import CAUTION, MARK
from readiness.trade.words import Day, day_words, full_day_words

CAUTIONS = (VET_DECIDES, FORECAST, f"{HANDLING} {LOOSE}", TRANSPORT, PUBLIC_PATHS)
"""What stands at the foot of a page."""

STATES = {"reason": "■ HOLD", "checks": "□ HOLD", "go": "● GO", "care": "●! GO"}
"""State of a bull → his mark and word."""

_BY_ITSELF = ("quarantine", "age")


def caution(temper: str | None) -> str:
    """What to be careful of: "! watch him", "!! DANGEROUS"; empty for a quiet bull."""
    return f"{MARK[temper]} {CAUTION[temper]}" if temper in CAUTION else ""


def farms(names: Iterable[str | None]) -> str:
    """The farms of a page in a row, "Bulls" where none is named."""
    return ", ".join(sorted({name for name in names if name})) or "Bulls"


def farms_of(board: Board) -> set[str | None]:
    """The farms of a board, those of its groups and of its bulls; None for one without a name."""
    return {line.farm for line in board.groups} | {bull.farm for bull in board.bulls}


def notices(known: str, turnout: date | None = None) -> list[str]:
    """What has to be known before a page is believed: that it asks "what if", or looks back."""
    said = []
    if turnout is not None:
        said.append(f"What if turnout were {full_day_words(turnout)}: this is not the plan.")
    if known:
        said.append(f"As the book knew it on {known}: what was written later does not count here.")
    return said


def by_words(check: Check, on: Day) -> str:
    """By when to do a check: "by 9 Apr", "! was due 14 Mar"; "from 9 Apr" where nothing says by
    when, where no day fits, and of what ends by itself."""
    if check.overdue and check.due is not None:
        return f"! was due {day_words(check.due, on)}"
    if days_short(check) or not check.has_last_day or check.check in _BY_ITSELF:
        return f"from {day_words(check.not_before, on)}"
    return f"by {day_words(check.plan_by, on)}"


def check_sentence(check: Check, on: Day) -> str:
    """What is to be done; in brackets how long it is overdue, which day is the last where an
    earlier one is advised, and from when it can be done."""
    said = [late_words(check, on), last_words(check, on, day_words)]
    if check.not_before > on and not by_words(check, on).startswith("from"):
        said.append(f"from {day_words(check.not_before, on)}")
    brackets = "; ".join(filter(None, said))
    return f"{check.text} ({brackets})" if brackets else check.text


def todo(check: Check, on: Day) -> tuple[str, str, str, bool]:
    """By when, what, who, and whether it is overdue."""
    return by_words(check, on), plain(check_sentence(check, on)), check.who, check.overdue
