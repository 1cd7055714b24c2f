"""The list of the Diary screen: its lines, which say what is due, day by day, week by week, and the
visits; and the one under the cursor."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from textual.content import Content

from readiness.engine.results import Board, GroupLine
from readiness.herd.diary import Diary, Due
from readiness.herd.selection import WEEK
from readiness.report import diary_lines as laid
from readiness.report.check_days import late_words, overdue_words
from readiness.report.rows import NOT_FOR_SLAUGHTER, withdrawal_words
from readiness.report.spans import Span, Spans, fitted, width_of
from readiness.report.visits_text import bring_words
from readiness.system.width import cells
from readiness.trade.words import FARM_LESS, Day, plural, weekday_words, when_words
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, Glyphs, painted
from readiness.visits.agenda import days
from readiness.visits.plan import Visit

VisitKey = tuple[str, int]
_WHO_WIDTH, USUAL = 8, 80


@dataclass(frozen=True, slots=True)
class DiaryRow:
    """A line. One that can be chosen carries what it stands for: a due check, a visit, a week."""

    content: Content
    due: Due | None = None
    visit: VisitKey | None = None
    week: int | None = None

    @property
    def head(self) -> bool:
        return self.due is None and self.visit is None and self.week is None


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
    return DiaryRow(painted((f" {page.glyphs.fit(words, page.width - 2)}", role)))


def turnout_row(group: GroupLine, page: Page) -> DiaryRow:
    farm = f", {page.glyphs.text(group.farm)}" if group.farm else ""
    name = f"{page.glyphs.text(group.group)}{farm}"
    states = f"{group.go} of {plural(group.bulls, 'bull')} GO"
    lead, states = "  turnout ", f"   {states}"
    name = page.glyphs.fit(name, page.width - cells(lead + states) - 3)
    parts = ((lead, f"bold {SKY}"), (name, f"bold {TEXT}"), (states, QUIET))
    return DiaryRow(Content.assemble(*parts))


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


def due_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], page: Page
) -> list[DiaryRow]:
    """Withdrawals that run, then the diary."""
    running = (
        (f"{NOT_FOR_SLAUGHTER}{words}", "alert") for words in withdrawal_words(diary.running)
    )
    rows = [_row(item, page) for item in (*running, *laid.items(diary, groups, visits))]
    return rows or [head_row((laid.NOTHING, "quiet"), page)]


def week_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], first: Day, page: Page
) -> list[DiaryRow]:
    """Seven days, those with nothing in them, too. What is overdue stands before today."""
    rows = []
    for day in days(diary, groups, visits, first, first + WEEK - 1):
        late = diary.overdue if day.on == diary.on else ()
        rows += [_row(item, page) for item in (*late, *laid.items_of(day, page.on))]
    return rows


def _row(item: laid.Item, page: Page) -> DiaryRow:
    if isinstance(item, Due):
        return due_row(item, page)
    if isinstance(item, GroupLine):
        return turnout_row(item, page)
    return visit_row(item, page, dated=False) if isinstance(item, Visit) else head_row(item, page)


def visit_rows(shown: Iterable[tuple[VisitKey, Visit, str]], page: Page) -> list[DiaryRow]:
    """The visits, each under the key by which it was planned, with what was done to it."""
    rows = [
        replace(visit_row(visit, page, dated=True, mark=mark), visit=key)
        for key, visit, mark in shown
    ]
    return rows or [head_row(("No visit is needed.", "quiet"), page)]


def season_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], page: Page
) -> list[DiaryRow]:
    """A line for each week: how much is due by whom, who is turned out, when the trimmer comes."""
    weeks = laid.season(diary, groups, visits, page.glyphs.dot)
    return [
        head_row((f"week from {laid.SEASON}", "quiet"), page),
        *(_week(week, page) for week in weeks),
    ]


def _week(week: laid.WeekLine, page: Page) -> DiaryRow:
    if week.monday is None:
        return head_row((week.start, "quiet"), page)
    spans: Spans = [(f" {week.start:<10}", "head"), (week.counts, ""), ("   ", "")]
    coming = [
        (page.glyphs.text(f"{', ' if number else ''}{words}"), role)
        for number, (words, role) in enumerate(week.coming)
    ]
    room = page.width - width_of(spans) - 2
    return DiaryRow(painted(*spans, *fitted(coming, room, page.glyphs.fit)), week=week.monday)


# ---- the list ------------------------------------------------------------------------------------
