"""How each group stands, a line each."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

from readiness.engine.results import Board, GroupLine
from readiness.report.look import Look, cells
from readiness.system.plain import plain
from readiness.trade.words import day_words, plural, when_words

_NAME_LEAST = 6
_LATE, _LATE_SHORT = " overdue", " !"


def group_lines(board: Board, width: int, look: Look) -> list[str]:
    """A line for each group, under its farm's name where there are several farms."""
    several = len({line.farm for line in board.groups}) > 1
    indent = "  " if several else ""
    names = max((cells(plain(line.group)) for line in board.groups), default=0)
    for late, when in ((_LATE, _turnout), (_LATE_SHORT, _turnout), (_LATE_SHORT, _day)):
        tails, room = _tails(board, late, when, width - len(indent), look)
        if names <= room:
            break
    lines: list[str] = []
    farm: object = board  # no farm is this one: the first is always named
    for line, tail in zip(board.groups, tails, strict=True):
        if several and line.farm != farm:
            farm = line.farm
            lines.append(look.fit(line.farm or "no farm named", width).rstrip())
        lines.append(f"{indent}{look.fit(line.group, max(_NAME_LEAST, min(names, room)))}{tail}")
    return lines


def _tails(
    board: Board, late: str, when: Callable[[GroupLine, int], str], width: int, look: Look
) -> tuple[list[str], int]:
    """What follows each group's name, and how wide that leaves the name."""
    whens = [when(line, board.on) for line in board.groups]
    most = max(map(cells, whens), default=0)
    tails = [
        f"  {look.fit(when, most)}  {_counts(line, board, late, look)}"
        for line, when in zip(board.groups, whens, strict=True)
    ]
    return tails, width - max(map(_uncoloured, tails), default=0)


def _uncoloured(text: str) -> int:
    return cells(re.sub(r"\x1b\[[\d;]*m", "", text))


def _turnout(line: GroupLine, on: int) -> str:
    turnout, today = date.fromordinal(line.turnout), date.fromordinal(on)
    return f"turnout {day_words(turnout, today)}, {when_words(turnout, today)}"


def _day(line: GroupLine, on: int) -> str:
    return day_words(date.fromordinal(line.turnout), date.fromordinal(on))


def _counts(line: GroupLine, board: Board, late: str, look: Look) -> str:
    """How many bulls, in each of the three states, and checks overdue; in columns."""

    def column(name: str) -> int:
        return max(len(str(getattr(other, name))) for other in board.groups)

    noun = plural(line.bulls, "bull").rjust(column("bulls") + len(" bulls"))
    states = (("go", "go"), ("checks", "hold_checks"), ("reason", "hold_reason"))
    marks = "".join(
        "  " + look.paint(state, f"{getattr(line, name):>{column(name)}} {look.sign(state)}")
        for state, name in states
    )
    overdue = f"{line.overdue:>{column('overdue')}}{late}"
    return f"{noun}{marks}" + (f"  {look.paint('alert', overdue)}" if line.overdue else "")
