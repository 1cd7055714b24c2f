"""The board as text: how each group stands, who is in trouble and why, what to do next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from readiness.engine.results import Board
from readiness.plain import plain
from readiness.report.groups_text import group_lines
from readiness.report.look import Look, cells, wrapped
from readiness.report.rows import HEADS, Row, rows
from readiness.report.rules_text import said
from readiness.rules.model import RuleBook, Rules, Value
from readiness.trade.temper import warned
from readiness.trade.words import full_day_words

LEGEND = "■ HOLD for a reason   □ HOLD, checks to come   ● GO   ! overdue   name ! careful"
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
        return wrapped(NO_BULLS, width)
    widths = _widths(table, width)
    head = _line(_START, "  ", HEADS, widths, look)
    return [
        look.paint("head", head),
        *(line for row in table for line in _row(row, widths, look)),
    ]


def _widths(table: Sequence[Row], width: int) -> dict[str, int]:
    """The columns that fit and how wide each is: the reason has what the others leave.

    Where that is too little the bull's name is cut, then slack and ready are left out, then the
    next check is cut.
    """
    widths = {name: max(cells(getattr(row, name)) for row in table) for name in HEADS}
    widths = {name: max(most, len(HEADS[name])) for name, most in widths.items()}
    widths["bull"] = min(max(cells(warned(row.bull, row.temper)) for row in table), _BULL_MOST)

    def short() -> int:
        """How many columns the reason lacks."""
        others = sum(width + 1 for name, width in widths.items() if name != "why")
        widths["why"] = width - len(_START) - len("! ") - others
        return _WHY_LEAST - widths["why"]

    if short() > 0:
        widths["bull"] = max(min(_BULL_LEAST, widths["bull"]), widths["bull"] - short())
    for name in ("slack", "ready"):
        if short() > 0:
            del widths[name]
    if short() > 0:
        widths["next"] = max(len(HEADS["next"]), widths["next"] - short())
    short()
    return widths


def _row(row: Row, widths: Mapping[str, int], look: Look) -> list[str]:
    """One bull; a long reason goes on under itself."""
    start = look.paint(row.mark, look.sign(row.mark)) + "  "
    alert = look.paint("alert", "! ") if row.alert else "  "
    first, *more = wrapped(row.why, widths["why"]) or [""]
    if len(more) >= _WHY_LINES:
        more = [" ".join(more)]
    room = widths["bull"] - len(warned("", row.temper))
    bull = warned(look.fit(row.bull, room).rstrip(), row.temper)
    texts = {name: getattr(row, name) for name in HEADS} | {"why": first, "bull": bull}
    under = " " * (len(_START) + widths["bull"] + 1)
    return [
        _line(start, alert, texts, widths, look),
        *(under + look.fit(line, widths["why"]) for line in more),
    ]


def _line(
    start: str, alert: str, texts: Mapping[str, str], widths: Mapping[str, int], look: Look
) -> str:
    cut = [
        (alert if name == "next" else "")
        + look.fit(texts[name], widths[name], right=name in ("ready", "slack"))
        for name in HEADS
        if name in widths
    ]
    return start + " ".join(cut)


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
