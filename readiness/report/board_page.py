"""The board as a page for the kitchen wall: on a phone, on a screen, on A4.

For each farm its week, a list of jobs; for each of its groups a section, with all that is
outstanding for each bull and the last day for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from readiness.cover.results import GroupCover
from readiness.cover.what_if import WhatIf
from readiness.engine.care import cares, withdrawals
from readiness.engine.results import Assessment, Board, Check, GroupLine
from readiness.herd.diary import IN_A_DAY
from readiness.herd.selection import WEEK, deciding, overdue_first
from readiness.report import page_words, sentences
from readiness.report.changes_text import NOBODY, changes_words, sum_words
from readiness.report.cover_headline import headline
from readiness.report.page import Words, page
from readiness.report.rows import LEGEND, aloud, brief, check_words, mark, short_tags, shorter
from readiness.report.rules_text import own_rules
from readiness.rules.model import RuleBook
from readiness.trade.cautions import FORECAST, HANDLING
from readiness.trade.tags import confusable
from readiness.trade.temper import CAUTION
from readiness.trade.words import (
    FARM_LESS,
    Day,
    day_words,
    days_words,
    full_day_words,
    plural,
    weekday_words,
    year_day_words,
)

NOBODY_HERE = "No bulls on this board."
NOBODY_IN_IT = "No bull is in it."
_OUT, _NO_GROUP = "Out with the females", "In no group"
_SHOULD_NOT = "who is on HOLD here should not be working"
_DAYS_SHOWN = 2
_MORE = ("", "…", False)
DECIDES = "the last step said of a bull decides on which day he could go"
# Advice to have done a thing by a day that is past: on the wall, what is still to do says more.
_PAST_DAYS = ("feet.advised", "vet.advised")


def board_page(
    board: Board,
    rulebook: RuleBook,
    carried: Sequence[GroupCover] = (),
    *,
    large: bool = False,
    turnout: date | None = None,
    what_if: WhatIf | None = None,
    known: str = "",
) -> Iterator[str]:
    """The page in pieces. ``large``: large print; ``turnout`` and ``what_if``: what was asked if
    turnout were then; ``known``: the day and time, as the book knew it then."""
    farms = page_words.farms_of(board)
    several, heading = len(farms) > 1, page_words.farms(farms)
    yield from page(
        "board.html",
        title=f"{heading}, {year_day_words(board.on)}",
        heading=heading,
        day=full_day_words(board.on),
        large=large,
        notices=page_words.notices(known, turnout),
        weeks=week_tables(board, several=several),
        who=IN_A_DAY,
        changes=_changes(what_if, board.on),
        sections=_sections(board, carried, several=several),
        nobody=NOBODY_HERE,
        nobody_in_it=NOBODY_IN_IT,
        careful=f"{FORECAST} {HANDLING}",
        legend=(*LEGEND, DECIDES),
        footer=[*page_words.CAUTIONS, *own_rules(rulebook)],
    )


def _changes(found: WhatIf | None, on: Day) -> list[str]:
    if found is None:
        return []
    large, minor = changes_words(found.changes, on)
    return [*([*large, *minor] or [NOBODY]), *sum_words(found, on)]


def _sections(board: Board, carried: Sequence[GroupCover], *, several: bool) -> list[Words]:
    """By turnout, then farm; then who is in no group, then who is out."""
    lines = {(0, line.turnout, line.farm or "", line.group): line for line in board.groups}
    bulls: dict[tuple[int, int, str, str], list[Assessment]] = {key: [] for key in lines}
    places = {(line.farm, line.group): key for key, line in lines.items()}
    for bull in board.bulls:
        if bull.outlook == "working":
            key = (2, 0, bull.farm or "", _OUT)
        elif bull.group is None:
            key = (1, 0, bull.farm or "", _NO_GROUP)
        else:
            key = places[bull.farm, bull.group]
        bulls.setdefault(key, []).append(bull)
    beside = _tags_beside(board.bulls)
    enough = {(of.farm, of.group): headline(of) for of in carried if of.females is not None}
    return [
        {
            **_section(key, line := lines.get(key), own, board.on, beside, several=several),
            "enough": enough.get((line.farm, line.group), "") if line else "",
        }
        for key, own in sorted(bulls.items())
    ]


def _section(
    key: tuple[int, int, str, str],
    line: GroupLine | None,
    bulls: Sequence[Assessment],
    on: Day,
    short_tag: Mapping[str, str],
    *,
    several: bool,
) -> Words:
    """The bulls of one group, or those of a farm that are in none or out. ``short``: when, in a
    word or two, or what his being here means. ``short_tag``: as ``_tags_beside`` gives it."""
    _, _, farm, name = key
    when, counts = "", [plural(len(bulls), "bull")]
    short = _SHOULD_NOT if name == _OUT and any(b.status == "HOLD" for b in bulls) else ""
    if line is not None:
        when = f"Turnout {full_day_words(line.turnout)}"
        if line.females is not None:
            when = f"{when}; {plural(line.females, 'female')}"
        short, counts = f"turnout {day_words(line.turnout, on)}", _counts(line)
    return {
        "title": f"{farm or 'No farm named'}: {name}" if several else name,
        "when": when,
        "short": short,
        "counts": counts,
        "bulls": [_bull(bull, on, short_tag) for bull in bulls],
    }


def _counts(line: GroupLine) -> list[str]:
    """How many bulls, in each of the three states, and checks overdue."""
    counts = [
        plural(line.bulls, "bull"),
        f"● {line.go} GO",
        f"□ {line.hold_checks} with checks to come",
        f"■ {line.hold_reason} on HOLD for a reason",
    ]
    return [*counts, *([f"! {plural(line.overdue, 'check')} overdue"] if line.overdue else [])]


def _tags_beside(bulls: Sequence[Assessment]) -> dict[str, str]:
    """Tag → the end of it, of the bulls whose names could be taken for another's."""
    alike = confusable(bull.name for bull in bulls if bull.name)
    short = short_tags(bull.bull for bull in bulls)
    return {bull.bull: short[bull.bull] for bull in bulls if bull.name in alike}


def _bull(bull: Assessment, on: Day, short_tag: Mapping[str, str]) -> Words:
    """One bull in words; what there is nothing to say of is empty. ``brief``: why, in few words,
    and until when he may not be slaughtered; ``next``: the first days and what is to be done by
    them."""
    state = mark(bull)
    running = [brief(said.text) for said in withdrawals(bull)]
    return {
        "name": bull.name or bull.bull,
        "tag": bull.bull if bull.name else "",
        "short_tag": short_tag.get(bull.bull, ""),
        "caution": page_words.caution(bull.temper),
        "careful": CAUTION.get(bull.temper or "", ""),
        "role": "in reserve" if bull.role == "reserve" else "",
        "mark": state,
        "state": page_words.STATES[state],
        "brief": "; ".join([_stands(bull, on), *running]),
        "next": _next(bull, on),
        "whys": aloud(bull),
        "ready": _ready(bull, on),
        "advice": _advice(bull),
        "todo": [page_words.todo(check, on) for check in overdue_first(bull.outstanding)],
    }


def _advice(bull: Assessment) -> tuple[str, ...]:
    """Advice that ``aloud`` does not say already."""
    said = (*cares(bull), *withdrawals(bull))
    return tuple(a.text for a in bull.advice if a.rule not in _PAST_DAYS and a not in said)


def _stands(bull: Assessment, on: Day) -> str:
    """Every reason in few words; the day he is ready for, and what to ask first; or that checks
    are to come."""
    if bull.reasons:
        return "; ".join(dict.fromkeys(shorter(reason.text)[-1] for reason in bull.reasons))
    if bull.status == "HOLD":
        return "checks to come"
    go = f"for {day_words(bull.turnout, on)}" if bull.turnout else "in no group"
    go += ", in reserve" if bull.turnout and bull.role == "reserve" else ""
    go = "working" if bull.outlook == "working" else go
    asked = "; ".join(dict.fromkeys(shorter(care.text)[-1] for care in cares(bull)))
    return f"{go}, but: {asked}" if asked else go


def _next(bull: Assessment, on: Day) -> list[tuple[str, str, bool]]:
    """What is to be done first and, last, what decides on which day he could go: by when, what,
    whether it is overdue. Where nothing decides, the first days."""
    by_day: dict[tuple[str, bool], list[Check]] = {}
    for check in overdue_first(bull.outstanding):
        by_day.setdefault((page_words.by_words(check, on), check.overdue), []).append(check)
    days = [
        (by, ", ".join(map(check_words, checks)), late) for (by, late), checks in by_day.items()
    ]
    last = deciding(bull)
    at = next((at for at, checks in enumerate(by_day.values()) if last in checks), _DAYS_SHOWN - 1)
    if last is None or at < _DAYS_SHOWN:
        shown, more = days[: at + 1], len(days) > at + 1
        return [*shown, *([_MORE] if more else [])]
    return [days[0], _MORE, (days[at][0], check_words(last), last.overdue)]


def _ready(bull: Assessment, on: Day) -> str:
    """How early he could be ready, and how that stands to turnout."""
    if bull.status == "GO" or bull.outlook == "working":
        return ""
    if bull.earliest_ready is None:
        return sentences.no_day(bull)
    ready = f"Could go {day_words(bull.earliest_ready, on)}, if all is done"
    if bull.slack_days is None:
        return ready
    days = days_words(abs(bull.slack_days))
    return f"{ready}: {days} {'too late for turnout' if bull.slack_days < 0 else 'to spare'}"


# ---- the week: what is to be done by day and by whom ---------------------------------------------

OVERDUE = "overdue"


class WeekRow(NamedTuple):
    """A day, and each of ``IN_A_DAY`` with what he has to do by it: "Birk, Roan: vet exam"."""

    day: str
    late: bool
    jobs: tuple[tuple[str, tuple[str, ...]], ...]


class WeekTable(NamedTuple):
    """One farm's week; without rows where nothing is to be done."""

    title: str
    rows: tuple[WeekRow, ...]


def week_tables(board: Board, *, several: bool) -> list[WeekTable]:
    """A table for each farm: what is overdue, then each day until a week from now by which
    something has to be done. ``several``: the farms are named."""
    until = day_words(board.on + WEEK, board.on)
    beside = _tags_beside(board.bulls)
    tables = []
    for farm in sorted({bull.farm or "" for bull in board.bulls}):
        here = [bull for bull in board.bulls if (bull.farm or "") == farm]
        where = f" at {farm or FARM_LESS}" if several else ""
        rows = _rows(here, board.on, beside)
        if rows or not several:
            tables.append(WeekTable(f"To do by {until}{where}", rows))
    return tables


def _rows(
    bulls: Iterable[Assessment], on: int, short_tag: Mapping[str, str]
) -> tuple[WeekRow, ...]:
    jobs: dict[int, dict[str, dict[str, list[str]]]] = {}
    for bull in bulls:
        for check in bull.outstanding:
            if not check.overdue and (not check.has_last_day or check.plan_by > on + WEEK):
                continue
            day = on - 1 if check.overdue else check.plan_by
            his = jobs.setdefault(day, {}).setdefault(check.who, {})
            his.setdefault(check_words(check), []).append(_whose(bull, short_tag))
    return tuple(
        WeekRow(
            OVERDUE if day < on else weekday_words(day, on),
            day < on,
            tuple((who, _jobs(said.get(who, {}))) for who in IN_A_DAY),
        )
        for day, said in sorted(jobs.items())
    )


def _jobs(whose: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    return tuple(f"{', '.join(dict.fromkeys(bulls))}: {job}" for job, bulls in whose.items())


def _whose(bull: Assessment, short_tag: Mapping[str, str]) -> str:
    """ "Quern (DANGEROUS)"."""
    who = f"{short_tag.get(bull.bull, '')} {bull.name or bull.bull}".strip()
    careful = CAUTION.get(bull.temper or "")
    return f"{who}{f' ({careful})' if careful else ''}"
