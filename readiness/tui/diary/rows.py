"""The list of the Diary screen: its lines, which say what is due, day by day, week by week, and the
visits; and the one under the cursor."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from textual.content import Content

from readiness.cover.ahead import Ahead
from readiness.engine.results import Board, GroupLine
from readiness.herd.diary import Diary, Due, only, planned
from readiness.herd.selection import WEEK
from readiness.report import diary_lines as laid
from readiness.report.ahead_words import NO_DAY, notes
from readiness.report.check_days import late_words, overdue_words
from readiness.report.rows import NOT_FOR_SLAUGHTER, withdrawal_words
from readiness.report.spans import Span, Spans, fitted, width_of
from readiness.report.visits_text import bring_words
from readiness.system.grouped import grouped
from readiness.system.width import cells
from readiness.trade.words import FARM_LESS, Day, plural, weekday_words, when_words
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, Glyphs, painted
from readiness.visits.agenda import days
from readiness.visits.plan import Visit

VisitKey = tuple[str, int]
_WHO_WIDTH, USUAL = 8, 80


@dataclass(frozen=True, slots=True)
class DiaryRow:
    """A line. One that can be chosen carries what it stands for: a due check, a group's turnout,
    a day of its season or of the vet's, a visit, a week. ``whole``: what it says, before it was cut
    to the screen, where that stands nowhere else."""

    content: Content
    due: Due | None = None
    turnout: GroupLine | None = None
    note: laid.Note | None = None
    visit: VisitKey | None = None
    week: int | None = None
    whole: str = ""

    @property
    def head(self) -> bool:
        stands_for = (self.due, self.turnout, self.note, self.visit, self.week)
        return all(each is None for each in stands_for)


@dataclass(frozen=True, slots=True)
class Page:
    """What every line needs: the day, how wide the screen is, its characters, names by bull, and
    how wide those are."""

    on: Day
    width: int
    glyphs: Glyphs
    names: dict[str, laid.Called]
    bull: int


def page_of(board: Board, width: int, glyphs: Glyphs) -> Page:
    """The page for a board's bulls, with their farm where there are several."""
    names = laid.called(board.bulls)
    widest = max((cells(glyphs.text(name.whole)) for name in names.values()), default=0)
    return Page(board.on, width, glyphs, names, min(width // 3, widest + 1))


# ---- one by one ----------------------------------------------------------------------------------


def due_row(due: Due, page: Page) -> DiaryRow:
    """Who, which bull, what, and how late or from when."""
    start = f"  {page.glyphs.padded(due.check.who, _WHO_WIDTH)}"
    bull = page.names[due.key].fitted(page.bull, page.glyphs.padded)
    said = page.glyphs.text(due.check.text)
    room = page.width - cells(start) - page.bull - 4
    when, style = _when(due, page, room - cells(said))
    words = page.glyphs.fit(said, max(room - cells(when), room // 2))
    tail = page.glyphs.fit(when, room - cells(words))
    parts = ((start, QUIET), (bull, f"bold {TEXT}"), (f" {words}", TEXT), (tail, style))
    return DiaryRow(Content.assemble(*parts), due=due)


def _when(due: Due, page: Page, room: int) -> Span:
    """How long overdue, and since which day where there is ``room`` for it; from when it can be
    done, and its last day where an earlier one is advised."""
    check, lead = due.check, f" {page.glyphs.late} "
    if late := overdue_words(check, page.on):
        whole = cells(lead + late) <= room
        return f"{lead}{late if whole else late_words(check, page.on)}", f"bold {ORANGE}"
    return laid.ahead_words(due, page.on), QUIET


def head_row(head: Span, page: Page) -> DiaryRow:
    words, role = head
    return DiaryRow(painted((f" {page.glyphs.fit(words, page.width - 3)}", role)))


def turnout_row(group: GroupLine, page: Page) -> DiaryRow:
    farm = f", {page.glyphs.text(group.farm)}" if group.farm else ""
    name = f"{page.glyphs.text(group.group)}{farm}"
    states = f"{group.go} of {plural(group.bulls, 'bull')} GO"
    lead, states = "  turnout ", f"   {states}"
    name = page.glyphs.fit(name, page.width - cells(lead + states) - 3)
    parts = ((lead, f"bold {SKY}"), (name, f"bold {TEXT}"), (states, QUIET))
    return DiaryRow(Content.assemble(*parts), turnout=group)


def left_row(due: Due, why: str, page: Page) -> DiaryRow:
    """A check of the vet's that no proposed day covers: which bull, and why."""
    bull = page.names[due.key].fitted(page.bull, page.glyphs.padded)
    said = page.glyphs.fit(f"{page.glyphs.text(due.check.text)}: {why}", page.width - page.bull - 6)
    return DiaryRow(Content.assemble((f"  {bull}", f"bold {TEXT}"), (f" {said}", TEXT)), due=due)


def note_row(note: laid.Note, page: Page) -> DiaryRow:
    lead = f"  {note.what:<{_WHO_WIDTH}}"
    said = page.glyphs.fit(page.glyphs.text(note.text), page.width - cells(lead) - 3)
    return DiaryRow(Content.assemble((lead, f"bold {SKY}"), (said, TEXT)), note=note)


def visit_row(visit: Visit, page: Page, *, dated: bool, mark: str = "") -> DiaryRow:
    """A visit in a line; ``dated``: with its day; ``mark``: what was done to it here."""
    glyphs = page.glyphs
    where = glyphs.text(visit.farm) or FARM_LESS
    when = ""
    if dated:
        when = weekday_words(visit.on, page.on)
        if page.width >= USUAL:
            when = page.glyphs.padded(f"{when}, {when_words(visit.on, page.on)}", 24)
        when = f"{when:<11}"
    load = f"{plural(len(visit.stops), 'bull')}, {visit.minutes} min, {bring_words(visit.bring)}"
    said = mark or ("promised" if visit.promised else "")
    said = f"  {said}" if said else ""
    lead = "  " if dated else "  visit   "
    room = page.width - cells(f"{lead}{when}{said}") - 3
    words = glyphs.fit(f"{where}   {load}", room)
    parts = (
        (lead, f"bold {SKY}"), (when, f"bold {TEXT}"), (words, TEXT), (said, f"bold {ORANGE}"),
    )  # fmt: skip
    return DiaryRow(Content.assemble(*parts), visit=(visit.farm, visit.on))


# ---- the views -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Told:
    """What the views are made of: what is due, and what else is ahead."""

    due: Diary
    ahead: Ahead
    visits: Sequence[Visit]

    @property
    def groups(self) -> Sequence[GroupLine]:
        return self.ahead.board.groups

    def of(self, who: str | None) -> Told:
        """What is this person's (None: all of it); the season is everybody's."""
        if who is None:
            return self
        visits = self.visits if who == "trimmer" else ()
        return Told(only(self.due, who), self.ahead.for_person(who, None), visits)


def told(ahead: Ahead, visits: Sequence[Visit]) -> Told:
    return Told(planned(ahead.board), ahead, visits)


def due_rows(told: Told, page: Page) -> list[DiaryRow]:
    """Withdrawals that run, then the diary, then what no day of the vet's covers."""
    running = (
        (f"{NOT_FOR_SLAUGHTER}{words}", "alert") for words in withdrawal_words(told.due.running)
    )
    items = laid.items(told.due, told.groups, told.visits, notes(told.ahead))
    rows = [_row(item, page) for item in (*running, *items)]
    if left := told.ahead.vet.left:
        rows.append(head_row((NO_DAY, "head"), page))
    rows += [left_row(due, why, page) for due, why in left]
    return rows or [head_row((laid.NOTHING, "quiet"), page)]


def week_rows(told: Told, first: Day, page: Page) -> list[DiaryRow]:
    """Seven days, those with nothing in them, too. What is overdue stands before today; what is
    under way, under the first of them that is not past."""
    rows = []
    noted = grouped(notes(told.ahead, max(first, page.on)), lambda note: note.on)
    for day in days(told.due, told.groups, told.visits, first, first + WEEK - 1):
        late = told.due.overdue if day.on == page.on else ()
        items = laid.items_of(day, noted.get(day.on, ()), page.on)
        rows += [_row(item, page) for item in (*late, *items)]
    return rows


def _row(item: laid.Item, page: Page) -> DiaryRow:
    if isinstance(item, Due):
        return due_row(item, page)
    if isinstance(item, GroupLine):
        return turnout_row(item, page)
    if isinstance(item, laid.Note):
        return note_row(item, page)
    return visit_row(item, page, dated=False) if isinstance(item, Visit) else head_row(item, page)


def visit_rows(shown: Iterable[tuple[VisitKey, Visit, str]], page: Page) -> list[DiaryRow]:
    """The visits, each under the key by which it was planned, with what was done to it."""
    rows = [
        replace(visit_row(visit, page, dated=True, mark=mark), visit=key)
        for key, visit, mark in shown
    ]
    return rows or [head_row(("No visit is needed.", "quiet"), page)]


def season_rows(told: Told, page: Page) -> list[DiaryRow]:
    """A line for each week: how much is due by whom, and what else is to come."""
    weeks = laid.season(told.due, told.groups, told.visits, notes(told.ahead), page.glyphs.dot)
    return [
        head_row((f"week from  {laid.SEASON}", "quiet"), page),
        *(_week(week, page) for week in weeks),
    ]


def _week(week: laid.WeekLine, page: Page) -> DiaryRow:
    if week.monday is None:
        return head_row((week.start, "quiet"), page)
    spans: Spans = [(f" {week.start:<11}", "head"), (week.counts, ""), ("   ", "")]
    coming = [
        (page.glyphs.text(f"{', ' if number else ''}{words}"), role)
        for number, (words, role) in enumerate(week.coming)
    ]
    room = page.width - width_of(spans) - 2
    told = "".join(words for words, _ in coming) or "no day to keep"
    return DiaryRow(
        painted(*spans, *fitted(coming, room, page.glyphs.fit)),
        week=week.monday,
        whole=f"Week from {week.start}: {told}.",
    )


# ---- the list ------------------------------------------------------------------------------------
