"""What stands round the table of the Board: the day, how each group stands, the bull under the
cursor in full, what is in view, and the legend."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import product

from textual.content import Content

from readiness.cover.results import GroupCover
from readiness.engine.care import running
from readiness.engine.results import Board, Check, GroupLine
from readiness.herd.selection import WEEK, lifts, soon_checks
from readiness.herd.team import Team, in_team
from readiness.report.check_days import by_words, from_by_words, overdue_words
from readiness.report.cover_headline import called, headline
from readiness.report.group_table import Form, Spacing, group_tails
from readiness.report.look import wrapped
from readiness.report.rows import NOT_FOR_SLAUGHTER, BoardRow, aloud, check_words, withdrawal_words
from readiness.report.spans import Span, Spans, width_of
from readiness.system.width import cells
from readiness.trade.temper import CAUTION, MARK
from readiness.trade.words import Day, day_words, full_day_words, plural
from readiness.tui.shared.looks import QUIET, ROLES, Glyphs, at_both_ends, painted
from readiness.tui.shared.reading import BoardSheet
from readiness.tui.shared.view import SORTS, STATES, View

_HALF_A_DAY = re.compile(r"[;,]?(?: (?:on|by|from|last|\d+))*$")
_FORMS = (Form(), Form(turnout=False), Form(turnout=False, bulls=False, late="!"))
_SPACING = Spacing(("reason", "checks", "go"), " ", after=" ", bulls=10, state=4)


def top_line(sheet: BoardSheet, width: int, glyphs: Glyphs) -> Content:
    """The farm and how many bulls on the left, the day on the right."""
    board = sheet.board
    farms = sorted({glyphs.text(bull.farm) for bull in board.bulls if bull.farm})
    name = farms[0] if len(farms) == 1 else (plural(len(farms), "farm") if farms else "Board")
    right = full_day_words(board.on)
    if sheet.as_of:
        right = f"as of {right}"
    if sheet.readonly:
        right = f"to read only   {right}"
    count = f", {plural(len(board.bulls), 'bull')}"
    name = glyphs.fit(name, width - len(right) - len(count) - 4)
    return at_both_ends([(f" {name}", "head"), (count, "quiet")], right, width)


def group_lines(
    board: Board, carried: Sequence[GroupCover], width: int, most: int, glyphs: Glyphs
) -> Content:
    """One line for each group: name and farm, turnout, bulls, how many in each state, and what they
    carry where there is room. Of more than ``most`` the first to be turned out are shown, and how
    many more there are."""
    if not board.groups:
        first = "" if board.bulls else " w: write down a group and its bulls, or take in a file."
        return painted((f" No group has a turnout to come.{first}", "quiet"))
    shown = board.groups if len(board.groups) <= most else board.groups[: most - 1]
    farms = len({line.farm for line in board.groups}) > 1
    names = [_name(line, glyphs, farms=farms) for line in shown]
    longest = max(map(cells, names))
    for form, carry in product(_FORMS, (_carry(shown, carried), [("", "")] * len(shown))):
        counts = group_tails(shown, board.on, form, _SPACING, glyphs.sign)
        wide = max(map(width_of, counts)) if any(words for words, _ in carry) else 0
        tails: list[Spans] = [
            [*tail, (" " * (wide - width_of(tail)), ""), more]
            for tail, more in zip(counts, carry, strict=True)
        ]
        room = width - 2 - max(map(width_of, tails))
        if room >= longest:
            break
    widest = min(longest, max(room, 8))
    lines = [
        painted((f" {glyphs.padded(name, widest)}", "head"), *tail)
        for name, tail in zip(names, tails, strict=True)
    ]
    more = len(board.groups) - len(shown)
    if more:
        lines.append(painted((f" and {plural(more, 'more group')}; g chooses", "quiet")))
    return Content("\n").join(lines)


def _carry(shown: Sequence[GroupLine], carried: Sequence[GroupCover]) -> list[Span]:
    """Of each group how many females its bulls carry, of how many; nothing where nobody said."""
    of = {(group.farm, group.group): group for group in carried if group.females is not None}
    found: list[Span] = []
    for line in shown:
        group = of.get((line.farm, line.group))
        words = f"  carry {group.counts.carried} of {group.females}" if group else ""
        found.append((words, "alert" if group and group.counts.short else ""))
    return found


def cover_line(
    carried: Sequence[GroupCover], view: View, width: int, glyphs: Glyphs
) -> list[Content]:
    """Whether the bulls of the groups in view are enough: of one group in words, of several which
    are short; nothing where nobody said how many females there are."""
    seen = [
        group
        for group in carried
        if group.females is not None and in_team(group.farm, group.group, view.team)
    ]
    if not seen:
        return []
    short = [group for group in seen if group.counts.short]
    lacking = [f"{called(group, seen)} by {group.counts.short}" for group in short]
    if len(seen) == 1:
        name = "" if view.team.group else f"{seen[0].group}: "
        lines = wrapped(glyphs.text(name + headline(seen[0])), width - 2, "  ")
    elif lacking:
        before = any(group.at_work is None for group in short)
        shows = "whether a move mends it" if before else "who could stand in"
        lines = [glyphs.text(f"short of bulls: {', '.join(lacking)}; v shows {shows}")]
    else:
        lines = [f"bulls enough for {plural(len(seen), 'group')}; v shows how sure that is"]
    role = "alert" if lacking else ""
    return [painted((glyphs.fit(f" {line}", width), role)) for line in lines]


def lift_line(board: Board, view: View, width: int, glyphs: Glyphs) -> list[Content]:
    """The feet to lift within the week, of the farm or group in view: a line, or none."""
    found = [lift for lift in lifts(board) if in_team(lift.farm, lift.group, view.team)]
    if not found:
        return []
    until = day_words(board.on + WEEK, board.on)
    head, tail = f" to lift by {until}: ", "; l shows them"
    said = [glyphs.text(lift.words) for lift in found]
    while said and cells(head + ", ".join(said) + tail) > width - 1:
        said.pop()
        tail = f"; {len(found) - len(said)} more: l"
    parts: Spans = [(head, "quiet")]
    for at, (words, lift) in enumerate(zip(said, found, strict=False)):
        parts += [(", " if at else "", "quiet"), (words, "alert" if lift.overdue else "")]
    return [painted(*parts, (tail, "quiet"))]


def withdrawal_line(board: Board, view: View, width: int, glyphs: Glyphs) -> list[Content]:
    """Whose withdrawal runs, of the farm or group in view, and until when: a line, or none."""
    found = [each for each in running(board) if in_team(each[0].farm, each[0].group, view.team)]
    if not found:
        return []
    said, tail = [glyphs.text(words) for words in withdrawal_words(found)], ""
    while len(said) > 1 and cells(f" {NOT_FOR_SLAUGHTER}{'; '.join(said)}{tail}") > width - 1:
        said.pop()
        tail = f"; {len(found) - len(said)} more"
    words = glyphs.fit(f"{'; '.join(said)}{tail}", width - len(NOT_FOR_SLAUGHTER) - 2)
    return [painted((f" {NOT_FOR_SLAUGHTER}", "alert"), (words, ""))]


def _name(line: GroupLine, glyphs: Glyphs, *, farms: bool) -> str:
    name = glyphs.text(line.group)
    return f"{name}, {glyphs.text(line.farm)}" if farms and line.farm else name


def peek(row: BoardRow | None, width: int, glyphs: Glyphs) -> Content:
    """The bull under the cursor, in full: every reason, then what is next, by whom, by when."""
    if row is None:
        return Content("")
    bull = row.of
    name = glyphs.text(f"{bull.bull} {bull.name or ''}".strip())
    why = "; ".join(aloud(bull)) if bull.reasons else row.why
    places = (bull.group or "in no group", bull.farm)
    group = "".join(f", {glyphs.text(place)}" for place in places if place)
    caution = CAUTION.get(bull.temper or "")
    first: Spans = [
        (f" {name}", "head"),
        (group, "quiet"),
        (f" {glyphs.late} {caution}" if caution else "", "alert"),
        (f": {glyphs.text(why)}", ""),
    ]
    check = row.check
    soon = soon_checks(bull, row.on)
    if check is None:
        second: Spans = [(" nothing outstanding", "quiet")]
    elif len(soon) > 1:
        second = _this_week(soon, len(bull.outstanding) - len(soon), row.on, glyphs)
    else:
        late = f"{glyphs.late} " if check.overdue else ""
        when = from_by_words(check, row.on)
        second = [
            (f" next: {late}", "alert" if late else "quiet"),
            (f"{glyphs.text(check.text)}, {when} ({check.who})", ""),
            (_more(len(bull.outstanding) - 1), "quiet"),
        ]
    lines = (_by_word(spans, width - 1, glyphs) for spans in (first, second))
    return Content("\n").join([painted(*line) for line in lines])


def _by_word(spans: Spans, room: int, glyphs: Glyphs) -> Spans:
    """As much as fits of whole words, and no day without its month: it reads as another."""
    text = "".join(said for said, _ in spans)
    if cells(text) <= room:
        return spans
    whole = glyphs.fit(text, room).removesuffix(glyphs.ellipsis)
    left = len(_HALF_A_DAY.sub("", whole[: max(whole.rfind(" "), 0)]))
    kept: Spans = []
    for said, role in spans:
        kept.append((said[:left], role))
        left = max(left - len(said), 0)
    return [*kept, (glyphs.ellipsis, "quiet")]


def _this_week(soon: Sequence[Check], later: int, on: Day, glyphs: Glyphs) -> Spans:
    """Every check that is to be done within a week, by when and by whom."""
    parts: Spans = [(" this week: ", "quiet")]
    for at, check in enumerate(soon):
        late = f"{glyphs.late} " if check.overdue else ""
        when = overdue_words(check, on) or by_words(check, on)
        words = f"{late}{glyphs.text(check_words(check))} {when}".rstrip()
        parts.append(("; " if at else "", "quiet"))
        parts.append((f"{words} ({check.who})", "alert" if late else ""))
    return [*parts, (_more(later), "quiet")]


def _more(count: int) -> str:
    return f"; {plural(count, 'more check')} after" if count > 0 else ""


def view_words(view: View, shown: int, total: int, glyphs: Glyphs) -> Content:
    """What is in view, and in which order; nothing where that is every bull in the board's."""
    parts: Spans = []
    if view.narrowed:
        parts.append((f" {shown} of {plural(total, 'bull')}", "alert"))
        if view.lifting:
            parts.append((", a foot to lift this week", ""))
        if view.state != STATES[0]:
            parts.append((f", {view.state}", ""))
        if view.team != Team():
            team = ", ".join(name for name in (view.team.group, view.team.farm) if name)
            parts.append((f", {glyphs.text(team or 'in no group')}", ""))
        if view.find:
            parts.append((f', found by "{glyphs.text(view.find)}"', ""))
        parts.append(("   Esc shows all", "quiet"))
    if view.sort != SORTS[0]:
        parts.append((f"   sorted by {view.sort}", ""))
    return painted(*parts)


def legend(
    width: int, glyphs: Glyphs, own_rules: Sequence[str] = (), *, could_go: bool = True
) -> Content:
    """What the marks mean and, where the table says when he ``could_go``, that; and who decides:
    one line where it fits, else two; then the farm's own rules, where there are any."""
    marks = _marks("HOLD for a reason", "HOLD checks to come", glyphs)
    if marks.cell_length > width:
        marks = _marks("HOLD reason", "HOLD checks", glyphs)
    careful = painted(
        (f"  name {MARK['watch']}", "alert"),
        (" careful ", "quiet"),
        (MARK["dangerous"], "alert"),
        (" dangerous", "quiet"),
    )
    could = " could go: if all checks pass." if could_go else ""
    who = painted((f"{could} The vet decides.", "quiet"))
    if who.cell_length + careful.cell_length <= width:
        who += careful
    one = marks.cell_length + who.cell_length <= width
    said = Content(" " if one else "\n").join([marks, who])
    own = [
        Content.styled(f" {glyphs.fit(glyphs.text(rule), width - 2)}", QUIET) for rule in own_rules
    ]
    return Content("\n").join([said, *own])


def _marks(reason: str, checks: str, glyphs: Glyphs) -> Content:
    words = {"reason": reason, "checks": checks, "go": "GO", "care": "GO, but"}
    parts: Spans = []
    for state, said in words.items():
        lead = "  " if parts else " "
        parts += [(lead + glyphs.sign(state), f"bold {ROLES[state]}"), (f" {said}", QUIET)]
    return Content.assemble(*parts, (f"  {glyphs.late}", ROLES["alert"]), (" overdue", QUIET))
