"""What stands round the table of the Board: the day, how each group stands, the bull under the
cursor in full, what is in view, and the legend."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from rich.cells import cell_len
from textual.content import Content

from readiness.engine.results import Board, GroupLine
from readiness.trade.words import day_words, full_day_words, plural, when_words
from readiness.tui.board_columns import Line
from readiness.tui.looks import ORANGE, QUIET, SKY, TEXT, VERMILLION, YELLOW, Glyphs
from readiness.tui.reading import BoardSheet
from readiness.tui.view import SORTS, STATES, Team, View

Part = tuple[str, str]


def top_line(sheet: BoardSheet, width: int, glyphs: Glyphs) -> Content:
    """The farms on the left, the day on the right."""
    board = sheet.board
    farms = sorted({glyphs.text(bull.farm) for bull in board.bulls if bull.farm})
    left = farms[0] if len(farms) == 1 else (plural(len(farms), "farm") if farms else "Board")
    right = full_day_words(date.fromordinal(board.on))
    if sheet.as_of:
        right = f"as of {right}"
    if sheet.readonly:
        right = f"to read only   {right}"
    left = glyphs.fit(left, width - len(right) - 4)
    gap = " " * max(width - cell_len(left) - len(right) - 2, 1)
    return Content.assemble((f" {left}", f"bold {TEXT}"), gap, (right, TEXT))


def group_lines(board: Board, width: int, glyphs: Glyphs) -> Content:
    """One line for each group: farm and name, turnout, bulls, and how many in each state."""
    if not board.groups:
        return Content.assemble((" No group has a turnout to come.", QUIET))
    farms = len({line.farm for line in board.groups}) > 1
    names = [_name(line, glyphs, farms=farms) for line in board.groups]
    widest = min(max(map(cell_len, names)), max(width - 50, 9))
    today = date.fromordinal(board.on)
    return Content("\n").join(
        _group_line(line, glyphs.fit(name, widest), widest, today, width, glyphs)
        for line, name in zip(board.groups, names, strict=True)
    )


def _name(line: GroupLine, glyphs: Glyphs, *, farms: bool) -> str:
    name = glyphs.text(line.group)
    return f"{glyphs.text(line.farm)}: {name}" if farms and line.farm else name


def _group_line(
    line: GroupLine, name: str, widest: int, today: date, width: int, glyphs: Glyphs
) -> Content:
    turnout = date.fromordinal(line.turnout)
    roomy = width >= widest + 62
    when = f"{day_words(turnout, today)}, {when_words(turnout, today)}"
    bulls = plural(line.bulls, "bull")
    parts: list[Part] = [
        (f" {name}{' ' * (widest - cell_len(name))}", f"bold {TEXT}"),
        (f"  {'turnout ' if roomy else ''}{when:<{21 if roomy else 19}}", TEXT),
    ]
    if roomy:
        parts.append((f"{bulls:>9}  ", TEXT))
    parts += [
        (f" {line.hold_reason:>2} {glyphs.hold}", VERMILLION if line.hold_reason else QUIET),
        (f" {line.hold_checks:>2} {glyphs.to_come}", YELLOW if line.hold_checks else QUIET),
        (f" {line.go:>2} {glyphs.go}", SKY if line.go else QUIET),
    ]
    if line.overdue:
        parts.append((f"  {line.overdue} {'overdue' if roomy else glyphs.late}", f"bold {ORANGE}"))
    return Content.assemble(*parts)


def peek(line: Line | None, width: int, glyphs: Glyphs) -> Content:
    """The bull under the cursor, in full: every reason, then what is next, by whom, by when."""
    if line is None:
        return Content("")
    bull, today = line.bull, date.fromordinal(line.on)
    name = glyphs.text(f"{bull.bull} {bull.name or ''}".strip())
    why = "; ".join(reason.text for reason in bull.reasons) or line.row.why
    group = f", {glyphs.text(bull.group)}" if bull.group else ", in no group"
    first: list[Part] = [
        (f" {name}", f"bold {TEXT}"),
        (group, QUIET),
        (f" {glyphs.late} {line.caution}" if line.caution else "", f"bold {ORANGE}"),
        (f": {glyphs.text(why)}", TEXT),
    ]
    check = line.check
    if check is None:
        second: list[Part] = [(" nothing outstanding", QUIET)]
    else:
        start = "now" if check.not_before <= line.on else f"from {_day(check.not_before, today)}"
        late = " overdue," if check.overdue else ""
        second = [
            (f" next:{late} ", f"bold {ORANGE}" if late else QUIET),
            (f"{glyphs.text(check.text)}, {start}, by {line.row.by} ({check.who})", TEXT),
            (_more(len(bull.outstanding) - 1), QUIET),
        ]
    return Content("\n").join([_cut(first, width, glyphs), _cut(second, width, glyphs)])


def _more(count: int) -> str:
    return f"; {plural(count, 'more check')} after" if count > 0 else ""


def _day(ordinal: int, today: date) -> str:
    return day_words(date.fromordinal(ordinal), today)


def _cut(parts: Sequence[Part], width: int, glyphs: Glyphs) -> Content:
    """One line, cut where it does not fit."""
    kept: list[Part] = []
    room = width - 1
    for words, style in parts:
        shown = glyphs.fit(words, room)
        kept.append((shown, style))
        room -= cell_len(shown)
    return Content.assemble(*kept)


def view_words(view: View, shown: int, total: int, glyphs: Glyphs) -> Content:
    """What is in view: how many of how many, and in which order."""
    parts: list[Part] = []
    if view.narrowed:
        parts.append((f" {shown} of {plural(total, 'bull')}", f"bold {ORANGE}"))
        if view.state != STATES[0]:
            parts.append((f", {view.state}", TEXT))
        if view.team != Team():
            team = ", ".join(name for name in (view.team.group, view.team.farm) if name)
            parts.append((f", {glyphs.text(team or 'in no group')}", TEXT))
        if view.find:
            parts.append((f', found by "{glyphs.text(view.find)}"', TEXT))
        parts.append(("   Esc shows all", QUIET))
    else:
        parts.append((f" {plural(total, 'bull')}", QUIET))
    if view.sort != SORTS[0]:
        parts.append((f"   sorted by {view.sort}", TEXT))
    return Content.assemble(*parts)


def legend(glyphs: Glyphs) -> Content:
    """What the marks mean, and who decides."""
    return Content.assemble(
        (f" {glyphs.hold}", f"bold {VERMILLION}"),
        (" HOLD for a reason", QUIET),
        (f"  {glyphs.to_come}", f"bold {YELLOW}"),
        (" HOLD checks to come", QUIET),
        (f"  {glyphs.go}", f"bold {SKY}"),
        (" GO", QUIET),
        (f"  {glyphs.late}", f"bold {ORANGE}"),
        (" overdue\n", QUIET),
        (" ready: if every check passes. The vet decides.", QUIET),
        (f"  name {glyphs.late}", f"bold {ORANGE}"),
        (" careful", QUIET),
    )
