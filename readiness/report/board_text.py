"""The board as text: how each group stands, who is in trouble and why, what to do next."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import zip_longest

from readiness.cover.results import GroupCover
from readiness.engine.care import running
from readiness.engine.results import Board
from readiness.herd.selection import WEEK, lifts
from readiness.report.cover_headline import called, headline
from readiness.report.group_table import group_lines
from readiness.report.look import Look, headed, side_by_side, wrapped
from readiness.report.page_words import farms, farms_of
from readiness.report.rows import HEADS, LEGEND, BoardRow, rows, withdrawal_lines
from readiness.report.rules_text import own_rules
from readiness.report.spans import what_is_left
from readiness.rules.model import RuleBook
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.cautions import FORECAST, HANDLING
from readiness.trade.temper import warned
from readiness.trade.words import day_words, full_day_words

MORE_SIGNS = ("spare: days to spare before turnout", "name !: careful", "name !!: dangerous")
NO_BULLS = "No bulls on this board: book them with `bull` entries, put them in groups with `join`."
_ROOMY = 100
_BULL_LEAST, _BULL_USUAL, _BULL_MOST = 12, 15, 24
_NEXT_LEAST, _WHY_LEAST, _WHY_LINES = 12, 16, 2
_START = "   "


def board_text(
    board: Board, rulebook: RuleBook, look: Look, carried: Sequence[GroupCover] = ()
) -> str:
    """The whole board, ``look.width`` columns wide at most."""
    width = look.width - 2
    rule = "-" * width
    table = rows(board, last=look.width >= _ROOMY)
    lines = headed(farms(farms_of(board)), full_day_words(board.on), width)
    lines += group_lines(board, width, look)
    lines += [line for group in carried for line in _enough(group, carried, width, look)]
    lines += [look.plain_marks(line) for line in _to_lift(board, width)]
    lines += [look.plain_marks(line) for line in withdrawal_lines(running(board), width)]
    lines += [rule, *_table(table, width, look), rule]
    lines += side_by_side(map(look.plain_marks, (*LEGEND, *MORE_SIGNS)), width)
    for text in (*own_rules(rulebook), FORECAST, HANDLING):
        lines += wrapped(plain(text), width, "  ")
    return "\n".join(line.rstrip() for line in lines)


def _enough(group: GroupCover, among: Sequence[GroupCover], width: int, look: Look) -> list[str]:
    """Whether a group's bulls carry its females; nothing where nobody said how many there are."""
    if group.females is None:
        return []
    mark = f"{look.sign('alert')} " if group.counts.short else ""
    return wrapped(plain(f"{mark}{called(group, among)}: {headline(group)}"), width, "  ")


def _to_lift(board: Board, width: int) -> list[str]:
    """Whose feet are to be lifted within the week, for each farm the trimmer drives to."""
    by_farm: dict[str, list[str]] = {}
    for lift in lifts(board):
        by_farm.setdefault(lift.farm, []).append(lift.words)
    several = len({bull.farm for bull in board.bulls}) > 1
    until = day_words(board.on + WEEK, board.on)
    return [
        line
        for farm, said in sorted(by_farm.items())
        for line in wrapped(
            f"To lift by {until}{f' at {farm}' if several and farm else ''}: {', '.join(said)}",
            width,
            "  ",
        )
    ]


def _table(table: Sequence[BoardRow], width: int, look: Look) -> list[str]:
    if not table:
        return wrapped(NO_BULLS, width)
    widths = _widths(table, width)
    head = _line(_START, look, HEADS, widths, late=False)
    return [
        look.paint("head", head),
        *(line for row in table for line in _row(row, widths, look)),
    ]


def _widths(table: Sequence[BoardRow], width: int) -> dict[str, int]:
    """The columns that fit and how wide each is: the reason has what the others leave.

    Where that is too little, a long name goes on under itself, slack is left out, a name of usual
    length goes on under itself, ready is left out, and the next check goes on under itself.
    """
    said = {name: max(cells(getattr(row, name)) for row in table) for name in HEADS}
    said["bull"] = min(max(cells(warned(row.bull, row.temper)) for row in table), _BULL_MOST)
    checks = [words for row in table for words in (row.next, *(also for also, *_ in row.soon))]
    said["next"] = max(map(cells, checks))
    days = [day for row in table for day in (row.by, *(by for _, by, _ in row.soon))]
    said["by"] = max(map(cells, days))
    wants = {name: 1 + max(said[name], len(head)) for name, head in HEADS.items() if name != "why"}
    wants["bull"] = 1 + said["bull"]
    next_least = 1 + min(said["next"], _NEXT_LEAST)
    gives = (
        ("bull", 1 + _BULL_USUAL),
        ("slack", 0),
        ("bull", 1 + _BULL_LEAST),
        ("ready", 0),
        ("next", next_least),
    )
    why = what_is_left(width - len(_START) - len("! "), wants, _WHY_LEAST, gives)
    return {"why": why} | {name: want - 1 for name, want in wants.items()}


def _row(row: BoardRow, widths: Mapping[str, int], look: Look) -> list[str]:
    """One bull. What is long goes on under itself, and nothing is cut: his name, his reason (in as
    many words as two lines take, what is said of a GO to its end), and what else is due
    in a week."""
    said = look.plain_marks
    *tag, name = wrapped(said(row.bull), widths["bull"] - cells(warned("", row.temper)))
    bulls = [*tag, warned(name, row.temper)]
    whys = _why(row, widths["why"], look)
    checks = [
        (words, by if at == 0 else "", late and at == 0)
        for also, by, late in ((row.next, row.by, row.alert), *row.soon)
        for at, words in enumerate(wrapped(said(also), widths["next"]) or [""])
    ]
    lines: list[tuple[dict[str, str], bool]] = []
    for bull, why, check in zip_longest(bulls, whys, checks):
        also, by, late = check or ("", "", False)
        lines.append(({"bull": bull or "", "why": why or "", "next": also, "by": by}, late))
    lines[0][0].update(ready=row.ready, slack=row.slack)
    start = look.paint(row.mark, f"{look.sign(row.mark):<{len(_START)}}")
    return [
        _line(start if at == 0 else _START, look, texts, widths, late=late)
        for at, (texts, late) in enumerate(lines)
    ]


def _why(row: BoardRow, width: int, look: Look) -> list[str]:
    """The longest form of what holds him that takes two lines, else the shortest; of a GO all."""
    forms = [row.why, *row.forms] if row.of.status == "HOLD" else [row.why]
    told = [wrapped(look.plain_marks(form), width) for form in forms]
    return next((lines for lines in told if len(lines) <= _WHY_LINES), told[-1])


def _line(
    start: str, look: Look, texts: Mapping[str, str], widths: Mapping[str, int], *, late: bool
) -> str:
    alert = look.paint("alert", "! ") if late else "  "
    cut = [
        (alert if name == "next" else "")
        + look.fit(texts.get(name, ""), widths[name], right=name in ("ready", "slack"))
        for name in HEADS
        if name in widths
    ]
    return start + " ".join(cut)
