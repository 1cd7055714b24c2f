"""The columns of the table of bulls: what each says, and how they share the width."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from readiness.report.rows import BoardRow
from readiness.system.width import cells
from readiness.trade.temper import warned
from readiness.trade.words import column_day
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT, Glyphs

USUAL, WIDE = 80, 110
SCROLLBAR = GAP = 1
LEAST_WHY, GOOD_WHY = 20, 24


Cell = Callable[[BoardRow, Glyphs, int], tuple[str, str]]
"""What a cell of so much room says, and its style."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, what a cell says and its style, its most and least cells, from which
    width of screen on it is there, and whether it may go: the lowest ``last_to_go`` first."""

    head: str
    cell: Cell
    most: int
    least: int
    from_width: int = 0
    last_to_go: int | None = None
    right: bool = False


def _state(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    mark = glyphs.mark(row.mark)
    words = f"{mark.sign} {mark.word}"
    return words if len(words) <= room else mark.sign, f"bold {mark.colour}"


def _bull(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    mark = warned("", row.temper)
    name = glyphs.fit(glyphs.text(row.bull), room - len(mark))
    return name + mark, f"bold {TEXT}"


def _why(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    more = f" +{len(row.of.reasons) - 1}" if len(row.of.reasons) > 1 else ""
    colour = glyphs.mark(row.mark).colour
    forms = [glyphs.text(form) for form in row.forms]
    fits = next((form for form in forms if cells(form) <= room - len(more)), forms[-1])
    return glyphs.fit(fits, room - len(more)) + more, colour


def _next(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    check = row.check
    late = f"{glyphs.late} " if check is not None and check.overdue else "  "
    more = f" +{len(row.soon)}" if row.soon else ""
    said = glyphs.fit(late + glyphs.text(row.next), room - len(more))
    return said + more, f"bold {ORANGE}" if late.strip() else TEXT


def _by(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    late = row.check is not None and row.check.overdue
    return _short_year(row.by, room), f"bold {ORANGE}" if late else TEXT


def _from(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    day = column_day(row.check.not_before, row.on) if row.check else ""
    return _short_year(day, room), QUIET


def _who(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    return (row.check.who if row.check else ""), QUIET


def _ready(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    return _short_year(row.ready, room), TEXT


def _slack(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    late = row.of.slack_days is not None and row.of.slack_days < 0
    return row.slack, f"bold {ORANGE}" if late else TEXT


def _short_year(day: str, room: int) -> str:
    """The day as it stands, or its year as '27 where it would not fit."""
    return day if len(day) <= room else re.sub(r" \d\d(\d\d)$", r" '\1", day)


def _group(row: BoardRow, glyphs: Glyphs, room: int) -> tuple[str, str]:
    return glyphs.text(row.of.group or ""), QUIET


COLUMNS = (
    Column("", _state, most=6, least=1),
    Column("bull", _bull, most=24, least=13),
    Column("why", _why, most=999, least=0),
    Column("group", _group, most=16, least=8, from_width=WIDE, last_to_go=1),
    Column("could go", _ready, most=11, least=10, from_width=USUAL, last_to_go=3),
    Column("spare", _slack, most=5, least=5, from_width=USUAL, last_to_go=2, right=True),
    Column("  next", _next, most=18, least=15),
    Column("from", _from, most=11, least=10, from_width=WIDE, last_to_go=1),
    Column("by", _by, most=11, least=10),
    Column("who", _who, most=8, least=7, from_width=WIDE, last_to_go=0),
)


def laid(rows: Sequence[BoardRow], width: int, glyphs: Glyphs) -> list[tuple[Column, int]]:
    """The columns that a table of ``width`` cells shows, each with its width less the gap.

    Each is as wide as what it says, up to its most; the reason takes what is over. Where that is
    too little, the wide ones shrink, then columns go.
    """
    shown = [column for column in COLUMNS if width >= column.from_width]
    wants = {column.head: _wanted(column, rows, glyphs) for column in shown}
    while True:
        over = (
            width
            - SCROLLBAR
            - sum(GAP + wants[column.head] for column in shown if column.head != "why")
        )
        signs = max((len(glyphs.mark(row.mark).sign) for row in rows), default=1)
        if over < GOOD_WHY and wants[""] > signs:  # the word beside it: the legend says it, too
            wants[""] = signs
            continue
        if over >= LEAST_WHY:
            break
        if not _shrink(shown, wants, LEAST_WHY - over):
            going = [column for column in shown if column.last_to_go is not None]
            if not going:
                break
            shown.remove(min(going, key=lambda column: column.last_to_go or 0))
    wants["why"] = max(over - GAP, 1)
    return [(column, wants[column.head]) for column in shown]


def _wanted(column: Column, rows: Sequence[BoardRow], glyphs: Glyphs) -> int:
    said = [cells(column.cell(row, glyphs, column.most)[0]) for row in rows]
    return min(max([len(column.head), *said]), column.most)


def _shrink(shown: Sequence[Column], wants: dict[str, int], short: int) -> bool:
    """Take cells from the columns that can give some; whether any could."""
    gave = False
    for column in reversed(shown):
        if column.head != "why" and wants[column.head] > column.least:
            less = min(short, wants[column.head] - column.least)
            wants[column.head] -= less
            short -= less
            gave = gave or less > 0
    return gave
