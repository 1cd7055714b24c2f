"""The board as text: how each group stands, who is in trouble and why, what to do next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from readiness.engine.results import Board
from readiness.plain import plain
from readiness.report.groups_text import group_lines
from readiness.report.look import Look, cells, wrapped
from readiness.report.rows import HEADS, Row, rows
from readiness.report.rules_text import said
from readiness.rules.model import RuleBook, Rules, Value
from readiness.trade.words import full_day_words

LEGEND = "■ HOLD for a reason   □ HOLD, checks to come   ● GO   ! overdue"
NO_BULLS = "No bulls on this board: book them with `bull` entries, put them in groups with `join`."
CAUTION = (
    "Never work a bull alone; use a crush big and strong enough for him, and know your way out. "
    "Follow HSE AIS35 and your local codes."
)
FORECAST = (
    "Ready and slack hold only if every check passes. Nothing is cleared because time passed; "
    "the vet decides on all that is the vet's."
)
_BULL_LEAST, _BULL_MOST, _WHY_LEAST, _WHY_LINES = 12, 24, 16, 2
_START = "   "


class Widths(NamedTuple):
    """The columns of the board."""

    bull: int
    why: int
    ready: int
    slack: int
    next: int
    by: int


def board_text(board: Board, rulebook: RuleBook, look: Look) -> str:
    """The whole board, ``look.width`` columns wide at most."""
    width = look.width - 2
    rule = "-" * width
    table = rows(board)
    lines = [_title(board, width, look)]
    lines += group_lines(board, width, look)
    lines += [rule, *_table(table, width, look), rule]
    lines += [LEGEND] if len(LEGEND) <= width else wrapped(LEGEND, width)
    for text in (*_own_rules(rulebook), FORECAST, CAUTION):
        lines += wrapped(plain(text), width, "  ")
    return "\n".join(line.rstrip() for line in lines)


def _title(board: Board, width: int, look: Look) -> str:
    farms = {line.farm for line in board.groups} | {bull.farm for bull in board.bulls}
    names = sorted(farm for farm in farms if farm)
    day = full_day_words(date.fromordinal(board.on))
    return look.fit(", ".join(names) or "Bulls", width - len(day) - 1) + " " + day


def _table(table: Sequence[Row], width: int, look: Look) -> list[str]:
    if not table:
        return [NO_BULLS]
    widths = _widths(table, width)
    head = _line(_START, "  ", tuple(HEADS.values()), widths, look)
    return [
        look.paint("head", head),
        *(line for row in table for line in _row(row, widths, look)),
    ]


def _widths(table: Sequence[Row], width: int) -> Widths:
    """Dates and checks as wide as they come, the bull up to his most, the reason all the rest."""

    def most(name: str, values: Iterable[str]) -> int:
        return max(len(HEADS[name]), *map(cells, values))

    bull = max(_BULL_LEAST, min(most("bull", (row.bull for row in table)), _BULL_MOST))
    ready = most("ready", (row.ready for row in table))
    slack = most("slack", (row.slack for row in table))
    next_ = most("next", (row.next for row in table))
    by = most("by", (row.by for row in table))
    between = len(_START) + len("! ") + len(HEADS) - 1
    rest = width - between - bull - ready - slack - next_ - by
    if rest < _WHY_LEAST:
        spare = min(_WHY_LEAST - rest, bull - _BULL_LEAST)
        bull, rest = bull - spare, rest + spare
    return Widths(bull, max(rest, _WHY_LEAST), ready, slack, next_, by)


def _row(row: Row, widths: Widths, look: Look) -> list[str]:
    """One bull; a long reason goes on under itself."""
    start = look.paint(row.mark, look.sign(row.mark)) + "  "
    alert = look.paint("alert", "! ") if row.alert else "  "
    first, *more = wrapped(row.why, widths.why) or [""]
    if len(more) >= _WHY_LINES:
        more = [" ".join(more)]
    texts = (row.bull, first, row.ready, row.slack, row.next, row.by)
    under = " " * (len(_START) + widths.bull + 1)
    return [
        _line(start, alert, texts, widths, look),
        *(under + look.fit(line, widths.why) for line in more),
    ]


def _line(start: str, alert: str, texts: Sequence[str], widths: Widths, look: Look) -> str:
    bull, why, ready, slack, next_, by = (
        look.fit(text, width, right=number in (2, 3))
        for number, (text, width) in enumerate(zip(texts, widths, strict=True))
    )
    return f"{start}{bull} {why} {ready} {slack} {alert}{next_} {by}"


def _own_rules(rulebook: RuleBook) -> list[str]:
    """The values that differ from the program's own, and whose they are."""
    own = _overridden("Your own rules", rulebook.common, {})
    for farm, rules in rulebook.farms.items():
        own += _overridden(f"{farm}'s own rules", rules, rulebook.common.values)
    return own


def _overridden(head: str, rules: Rules, under: Mapping[str, Value]) -> list[str]:
    own = [
        value
        for value in rules.values.values()
        if value.overridden and under.get(value.id) != value
    ]
    return [f"{head}: {'; '.join(map(_value, own))}."] if own else []


def _value(value: Value) -> str:
    was = "" if value.default is None else f" instead of {said(value.default)}"
    return f"{value.id} {said(value.value)}{was}"
