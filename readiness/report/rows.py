"""The board as rows of plain strings: one layout for the text command and the screen."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from readiness.engine.care import Running, cares, withdrawals
from readiness.engine.results import Assessment, Board, Check
from readiness.herd.selection import next_check, soon_checks
from readiness.report.look import wrapped
from readiness.system.plain import plain
from readiness.trade.checks import SHORT
from readiness.trade.tags import tag_key
from readiness.trade.words import Day, column_day, day_words

SHORT_TAG = 5
# Where a reason can be cut and still say what and where: the rest says how bad and since when.
_ENDS = tuple(map(re.compile, (",", " since ", r" on \d", r" \((?!foul\))")))
# What would say something else if it were cut there: how it begins and ends, and what is short.
_WHOLE = (
    ("vet looked at ", ": unfit", "vet: unfit"),
    ("went out without: ", "", "went out without checks"),
    ("working: went out without: ", "", "working: went out without checks"),
    ("let out on ", "", ""),  # what somebody noted is never cut to half of it
)
LONGEST_WHOLE_TAG = 8
LEGEND = (
    "■ HOLD for a reason", "□ HOLD, checks to come", "● GO", "●! GO, but ask first", "! overdue"
)  # fmt: skip
NOT_FOR_SLAUGHTER = "Not for slaughter: "
HEADS = {
    "bull": "bull",
    "why": "why",
    "ready": "could go",
    "slack": "spare",
    "next": "next",
    "by": "by",
}


class BoardRow(NamedTuple):
    """One bull of the board in words, with the assessment behind them.

    ``mark``: "reason", "checks", "go" or "care" (GO, but). ``why``: the first reason, "checks to
    come" or "GO for 9 Apr"; ``forms``: the same at length, then ever shorter. ``ready``: the first
    day on which he could go; ``slack``: the days to spare from then to turnout. ``check``: what is
    next, in words ``next``; ``by``: the day by which to plan it. They are empty where there is
    nothing to say. ``soon``: what else is to be done within a week, each with that day and whether
    it is overdue. ``alert``: what is next is overdue, or something that is not listed.
    """

    of: Assessment
    on: Day
    mark: str
    bull: str
    why: str
    forms: tuple[str, ...]
    ready: str
    slack: str
    alert: bool
    check: Check | None
    next: str
    by: str
    soon: tuple[tuple[str, str, bool], ...]

    @property
    def key(self) -> str:
        return self.of.key

    @property
    def temper(self) -> str | None:
        return self.of.temper


def rows(board: Board, *, lifting: bool = False, last: bool = False) -> list[BoardRow]:
    """The rows of a board, in its order. ``lifting``: as to what is next, only what needs a foot
    lifted counts. ``last``: beside an advised day the last one is said, too."""
    short = short_tags(bull.bull for bull in board.bulls)
    say = _by_and_last if last else _by
    return [_row(bull, short[bull.bull], board.on, say, lifting=lifting) for bull in board.bulls]


def _by(check: Check, on: int) -> str:
    return column_day(check.plan_by, on) if check.has_last_day else ""


def _by_and_last(check: Check, on: int) -> str:
    """ "5 Dec; last 2 Jan"."""
    later = f"; last {column_day(check.last_day, on)}" if check.plan_by < check.last_day else ""
    return _by(check, on) + later


def _row(
    bull: Assessment, tag: str, on: int, by: Callable[[Check, int], str], *, lifting: bool
) -> BoardRow:
    check = next_check(bull, lifting=lifting)
    soon = soon_checks(bull, on, lifting=lifting)
    return BoardRow(
        of=bull,
        on=on,
        mark=mark(bull),
        bull=plain(f"{tag} {bull.name}" if bull.name else tag),
        why=plain(why(bull, on)),
        forms=tuple(map(plain, why_forms(bull, on))),
        ready=ready_words(bull, on),
        slack="" if bull.slack_days is None or bull.status == "GO" else str(bull.slack_days),
        alert=bull.overdue > sum(other.overdue for other in soon if other is not check),
        check=check,
        next=plain(check_words(check)) if check else "",
        by=by(check, on) if check else "",
        soon=tuple(
            (plain(check_words(other)), by(other, on), other.overdue)
            for other in soon
            if other is not check
        ),
    )


def mark(bull: Assessment) -> str:
    """Which state he is in: "reason", "checks", "go", or "care", a GO with something to ask
    first."""
    if bull.status == "GO":
        return "care" if cares(bull) else "go"
    return bull.hold or "checks"


def why(bull: Assessment, on: int) -> str:
    """The one thing to know about him."""
    if bull.status == "HOLD":
        return f"working: {_first(bull)}" if bull.outlook == "working" else _first(bull)
    words = _go(bull, on)
    if found := cares(bull):
        return f"{words}, but: {'; '.join(said.text for said in (*found, *withdrawals(bull)))}"
    aside = bull.advice[:1] if bull.outlook != "working" else withdrawals(bull)[:1]
    return "; ".join([words, *(said.text for said in aside)])


def _go(bull: Assessment, on: int) -> str:
    if bull.outlook == "working":
        return "working"
    if bull.turnout is None:
        return "GO, in no group"
    return f"GO for {day_words(bull.turnout, on)}{', in reserve' if bull.role == 'reserve' else ''}"


def aloud(bull: Assessment) -> list[str]:
    """What stands beside his state: every reason, or what makes his GO one with care; then the
    withdrawals that run."""
    said = [f"but: {care.text}" for care in cares(bull)]
    return [*(r.text for r in bull.reasons), *said, *(w.text for w in withdrawals(bull))]


def why_forms(bull: Assessment, on: int) -> tuple[str, ...]:
    """The one thing to know about him, at length and then ever shorter; a GO with care is never
    cut to a plain one."""
    words = why(bull, on)
    if not (found := cares(bull)):
        return shorter(words)
    head = "working" if bull.outlook == "working" else "GO"
    return (words, *(f"{head}, but: {form}" for form in shorter(found[0].text)))


def shorter(words: str) -> tuple[str, ...]:
    """A reason said at length, then with less and less beside what and where it is."""
    for start, finish, short in _WHOLE:
        if words.startswith(start) and words.endswith(finish):
            return (words, short) if short else (words,)
    forms = [words]
    for end in _ENDS:
        head = end.split(forms[-1], maxsplit=1)[0]
        forms += [head] if head and head != forms[-1] else []
    return tuple(forms)


def _first(bull: Assessment) -> str:
    return bull.reasons[0].text if bull.reasons else "checks to come"


def ready_words(bull: Assessment, on: int) -> str:
    """The first day on which he could go, if all is done and every check passes."""
    if bull.status == "GO" or bull.outlook == "working":
        return ""
    if bull.earliest_ready is None:
        return "ask vet" if bull.outlook == "vet-decides" else "no day"
    return column_day(bull.earliest_ready, on)


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
        "condition-again": "condition",
        "vet-look": "vet look",
        "vet-again": f"vet again {foot}".strip(),
        "age": "old enough",
    }
    return words.get(check.check) or SHORT.get(check.check, check.check)


def withdrawal_words(found: Iterable[Running]) -> list[str]:
    """ "00388 Gorse, withdrawal until 20 Apr", for each."""
    running = list(found)
    names = short_tags(bull.bull for bull, _ in running)
    return [
        plain(f"{names[bull.bull]} {bull.name or ''}".strip() + f", {brief(said.text)}")
        for bull, said in running
    ]


def withdrawal_lines(found: Iterable[Running], width: int) -> list[str]:
    """All of them in lines of at most ``width``; no line where none runs."""
    said = withdrawal_words(found)
    return wrapped(f"{NOT_FOR_SLAUGHTER}{'; '.join(said)}", width, "  ") if said else []


def brief(text: str) -> str:
    """ "withdrawal until 20 Apr": without the product, whose name may hold any mark."""
    return text.rsplit(": ", maxsplit=1)[-1].split(",", maxsplit=1)[0]


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
