"""The board as rows of plain strings: one layout for the text command and the screen."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from readiness.engine.results import Assessment, Board, Check
from readiness.entry import tag_key
from readiness.plain import plain
from readiness.report.lifts import WEEK, needs_lift
from readiness.trade.words import day_words

SHORT_TAG = 5
# Where a reason can be cut and still say what and where: the rest says how bad and since when.
_ENDS = tuple(map(re.compile, (",", " since ", r" on \d", r" \(")))
LONGEST_WHOLE_TAG = 8
HEADS = {
    "bull": "bull",
    "why": "why",
    "ready": "ready",
    "slack": "slack",
    "next": "next",
    "by": "by",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One bull of the board in words.

    ``mark``: "reason", "checks" or "go". ``why``: the first reason, "checks to come" or "GO for
    9 Apr". ``ready``, ``slack``, ``next``, ``by`` are empty where there is nothing to say.
    ``soon``: what else has its last day within a week, each with that day and whether it is
    overdue. ``alert``: what is next is overdue, or something that is not listed.
    """

    key: str
    mark: str
    status: str
    bull: str
    why: str
    ready: str
    slack: str
    alert: bool
    next: str
    by: str
    soon: tuple[tuple[str, str, bool], ...]
    farm: str
    group: str
    temper: str | None


def rows(board: Board, *, lifting: bool = False) -> list[Row]:
    """The rows of a board, in its order. ``lifting``: as to what is next, only what needs a foot
    lifted counts."""
    short = short_tags(bull.bull for bull in board.bulls)
    return [_row(bull, short[bull.bull], board.on, lifting=lifting) for bull in board.bulls]


def _row(bull: Assessment, tag: str, on: int, *, lifting: bool) -> Row:
    check = next_check(bull, lifting=lifting)
    soon = soon_checks(bull, on, lifting=lifting)
    return Row(
        key=bull.key,
        mark=mark(bull),
        status=bull.status,
        bull=plain(f"{tag} {bull.name}" if bull.name else tag),
        why=plain(why(bull, on)),
        ready=ready_words(bull, on),
        slack="" if bull.slack_days is None or bull.status == "GO" else str(bull.slack_days),
        alert=bull.overdue > sum(other.overdue for other in soon if other is not check),
        next=plain(check_words(check)) if check else "",
        by=day(check.last_day, on) if check and check.has_last_day else "",
        soon=tuple(
            (plain(check_words(other)), day(other.last_day, on), other.overdue)
            for other in soon
            if other is not check
        ),
        farm=plain(bull.farm or ""),
        group=plain(bull.group or ""),
        temper=bull.temper,
    )


def mark(bull: Assessment) -> str:
    """Which of the three states he is in: "reason", "checks" or "go"."""
    return "go" if bull.status == "GO" else (bull.hold or "checks")


def why(bull: Assessment, on: int) -> str:
    """The one thing to know about him."""
    if bull.outlook == "working":
        return "working" if bull.status == "GO" else f"working: {_first(bull)}"
    if bull.status == "HOLD":
        return _first(bull)
    turnout = bull.turnout
    words = "GO, in no group" if turnout is None else f"GO for {day_words(*_days(turnout, on))}"
    return f"{words}; {bull.advice[0].text}" if bull.advice else words


def shorter(words: str) -> tuple[str, ...]:
    """A reason said at length, then with less and less beside what and where it is."""
    forms = [words]
    for end in _ENDS:
        head = end.split(forms[-1], maxsplit=1)[0]
        forms += [head] if head and head != forms[-1] else []
    return tuple(forms)


def _first(bull: Assessment) -> str:
    return bull.reasons[0].text if bull.reasons else "checks to come"


def ready_words(bull: Assessment, on: int) -> str:
    """The earliest day he can be ready, if every check passes."""
    if bull.status == "GO" or bull.outlook == "working":
        return ""
    if bull.earliest_ready is None:
        return "ask vet"
    return day(bull.earliest_ready, on)


def next_check(bull: Assessment, *, lifting: bool = False) -> Check | None:
    """What is to be done next: the check whose last day comes first."""
    return min(_checks(bull, lifting=lifting), key=_by_last_day, default=None)


def soon_checks(bull: Assessment, on: int, *, lifting: bool = False) -> list[Check]:
    """Every check whose last day is within a week, the first first."""
    checks = _checks(bull, lifting=lifting)
    soon = (c for c in checks if c.has_last_day and c.last_day <= on + WEEK)
    return sorted(soon, key=_by_last_day)


def _checks(bull: Assessment, *, lifting: bool) -> Iterable[Check]:
    return filter(needs_lift, bull.outstanding) if lifting else bull.outstanding


def _by_last_day(check: Check) -> tuple[bool, int, int]:
    return not check.has_last_day, check.last_day, check.not_before


def check_words(check: Check) -> str:
    """A check in a word or two."""
    foot = check.foot or ""
    place = f"{foot} {check.claw}" if check.claw and check.claw != "skin" else foot
    feet = "4 feet" if len(check.feet) == 4 else " ".join(check.feet)
    words = {
        "feet": f"lift {feet}",
        "lift": f"lift {feet}",
        "look": f"look {place}",
        "clear": f"healed? {place}",
        "block-off": f"block off {foot}",
        "block-look": f"look {foot}",
        "wrap-off": f"wrap off {foot}",
        "walk-again": "walk again",
        "mobility": "walk",
        "condition-again": "condition",
        "vet-exam": "vet exam",
        "vet-look": "vet look",
        "vet-again": "vet again",
    }
    return words.get(check.check, check.check)


def day(ordinal: int, on: int) -> str:
    """A day in a column: "today" or "3 Apr"."""
    return "today" if ordinal == on else day_words(*_days(ordinal, on))


def _days(ordinal: int, on: int) -> tuple[date, date]:
    return date.fromordinal(ordinal), date.fromordinal(on)


def short_tags(tags: Iterable[str]) -> dict[str, str]:
    """Each tag as short as it may be shown: a long one by its last five digits where no other on
    the board ends in them, else by as many more as tell him apart."""
    keys = {tag: tag_key(tag) for tag in tags}
    ends = Counter(key[-length:] for key in set(keys.values()) for length in range(1, len(key) + 1))
    return {tag: _short(tag, key, ends) for tag, key in keys.items()}


def _short(tag: str, key: str, ends: Mapping[str, int]) -> str:
    if len(tag) > LONGEST_WHOLE_TAG:
        for length in range(SHORT_TAG, len(key)):
            if key[-length:].isdigit() and ends[key[-length:]] == 1:
                return key[-length:]
    return tag
