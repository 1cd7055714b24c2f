"""What is to be done within a week, by day and by whom: the list of jobs on the wall."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from readiness.engine.results import Assessment, Board, Check
from readiness.herd.diary import IN_A_DAY
from readiness.herd.selection import WEEK
from readiness.report.rows import check_words
from readiness.trade.temper import CAUTION
from readiness.trade.words import FARM_LESS, day_words, weekday_words

OVERDUE = "overdue"


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A day, and each of ``IN_A_DAY`` with what he has to do by it: "Gorse: block off LH"."""

    day: str
    late: bool
    jobs: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class WeekTable:
    """One farm's week; without rows where nothing is to be done."""

    title: str
    who: tuple[str, ...]
    rows: tuple[WeekRow, ...]


def week_tables(board: Board, *, several: bool) -> list[WeekTable]:
    """A table for each farm: what is overdue, then each day until a week from now by which
    something has to be done. ``several``: the farms are named."""
    until = day_words(board.on + WEEK, board.on)
    names = Counter(bull.name for bull in board.bulls)
    tables = []
    for farm in sorted({bull.farm or "" for bull in board.bulls}):
        here = [bull for bull in board.bulls if (bull.farm or "") == farm]
        where = f" at {farm or FARM_LESS}" if several else ""
        rows = _rows(here, board.on, names)
        if rows or not several:
            tables.append(WeekTable(f"To do by {until}{where}", IN_A_DAY, rows))
    return tables


def _rows(bulls: Iterable[Assessment], on: int, names: Counter[str | None]) -> tuple[WeekRow, ...]:
    jobs: dict[int, dict[str, list[str]]] = {}
    for bull in bulls:
        for check in bull.outstanding:
            if not check.overdue and (not check.has_last_day or check.plan_by > on + WEEK):
                continue
            day = on - 1 if check.overdue else check.plan_by
            jobs.setdefault(day, {}).setdefault(check.who, []).append(_job(bull, check, names))
    return tuple(
        WeekRow(
            OVERDUE if day < on else weekday_words(day, on),
            day < on,
            tuple((who, tuple(said.get(who, ()))) for who in IN_A_DAY),
        )
        for day, said in sorted(jobs.items())
    )


def _job(bull: Assessment, check: Check, names: Counter[str | None]) -> str:
    """ "Quern (DANGEROUS): vet look"."""
    name = bull.name or ""
    who = name if name and names[name] == 1 else f"{bull.bull} {name}".strip()
    careful = CAUTION.get(bull.temper or "")
    return f"{who}{f' ({careful})' if careful else ''}: {check_words(check)}"
