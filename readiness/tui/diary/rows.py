"""The lines of the Diary screen: what is due, day by day, week by week, and the visits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from textual.content import Content

from readiness.engine.results import Board, GroupLine
from readiness.herd.diary import Diary, Due
from readiness.report import diary_lines as laid
from readiness.report.check_days import late_words, overdue_words
from readiness.report.spans import Span, width_of
from readiness.report.visits_text import FARM_LESS, bring_words
from readiness.report.withdrawal_text import HEAD, withdrawal_words
from readiness.system.width import cells
from readiness.trade.words import Day, plural, weekday_words, when_words
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, Glyphs, painted
from readiness.visits.agenda import WEEK, days
from readiness.visits.plan import Visit

Part = tuple[str, str]
VisitKey = tuple[str, int]
_WHO_WIDTH, USUAL = 8, 80


@dataclass(frozen=True, slots=True)
class Row:
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

    def fit(self, words: str, width: int) -> str:
        words = self.glyphs.fit(self.glyphs.text(words), width)
        return words + " " * (width - cells(words))


def page_of(board: Board, width: int, glyphs: Glyphs) -> Page:
    """The page for a board's bulls, with their farm where there are several."""
    names = laid.called(board.bulls)
    widest = max((cells(glyphs.text(name.whole)) for name in names.values()), default=0)
    return Page(board.on, width, glyphs, names, min(width // 3, widest + 1))


# ---- one by one ----------------------------------------------------------------------------------


def due_row(due: Due, page: Page) -> Row:
    """Who, which bull, what, and how late or from when."""
    start = f"  {page.fit(due.check.who, _WHO_WIDTH)}"
    bull = page.names[due.key].fitted(page.bull, page.fit)
    said = page.glyphs.text(due.check.text)
    room = page.width - cells(start) - page.bull - 4
    when, style = _when(due, page, room - cells(said))
    words = page.glyphs.fit(said, max(room - cells(when), room // 2))
    tail = page.glyphs.fit(when, room - cells(words))
    parts = ((start, QUIET), (bull, f"bold {TEXT}"), (f" {words}", TEXT), (tail, style))
    return Row(Content.assemble(*parts), due=due)


def _when(due: Due, page: Page, room: int) -> Part:
    """How long overdue, and since which day where there is ``room`` for it; from when it can be
    done, and its last day where an earlier one is advised."""
    check, lead = due.check, f" {page.glyphs.late} "
    if late := overdue_words(check, page.on):
        whole = cells(lead + late) <= room
        return f"{lead}{late if whole else late_words(check, page.on)}", f"bold {ORANGE}"
    return laid.ahead_words(due, page.on), QUIET


def head_row(head: Span, page: Page) -> Row:
    words, role = head
    return Row(painted((f" {page.glyphs.fit(words, page.width - 2)}", role)))


def turnout_row(group: GroupLine, page: Page) -> Row:
    farm = f", {page.glyphs.text(group.farm)}" if group.farm else ""
    name = f"{page.glyphs.text(group.group)}{farm}"
    states = f"{group.go} of {plural(group.bulls, 'bull')} GO"
    lead, states = "  turnout ", f"   {states}"
    name = page.glyphs.fit(name, page.width - cells(lead + states) - 3)
    parts = ((lead, f"bold {SKY}"), (name, f"bold {TEXT}"), (states, QUIET))
    return Row(Content.assemble(*parts))


def visit_row(visit: Visit, page: Page, *, dated: bool, mark: str = "") -> Row:
    """A visit in a line; ``dated``: with its day; ``mark``: what was done to it here."""
    glyphs = page.glyphs
    where = glyphs.text(visit.farm) or FARM_LESS
    when = ""
    if dated:
        when = weekday_words(visit.on, page.on)
        if page.width >= USUAL:
            when = page.fit(f"{when}, {when_words(visit.on, page.on)}", 24)
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
    return Row(Content.assemble(*parts), visit=(visit.farm, visit.on))


# ---- the views -----------------------------------------------------------------------------------


def due_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], page: Page
) -> list[Row]:
    """Withdrawals that run, then the diary."""
    running = ((f"{HEAD}{words}", "alert") for words in withdrawal_words(diary.running))
    rows = [_row(item, page) for item in (*running, *laid.items(diary, groups, visits))]
    return rows or [head_row((laid.NOTHING, "quiet"), page)]


def week_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], first: Day, page: Page
) -> list[Row]:
    """Seven days, those with nothing in them, too. What is overdue stands before today."""
    rows = []
    for day in days(diary, groups, visits, first, first + WEEK - 1):
        late = diary.overdue if day.on == diary.on else ()
        rows += [_row(item, page) for item in (*late, *laid.items_of(day, page.on))]
    return rows


def _row(item: laid.Item, page: Page) -> Row:
    if isinstance(item, Due):
        return due_row(item, page)
    if isinstance(item, GroupLine):
        return turnout_row(item, page)
    return visit_row(item, page, dated=False) if isinstance(item, Visit) else head_row(item, page)


def visit_rows(shown: Iterable[tuple[VisitKey, Visit, str]], page: Page) -> list[Row]:
    """The visits, each under the key by which it was planned, with what was done to it."""
    rows = [
        replace(visit_row(visit, page, dated=True, mark=mark), visit=key)
        for key, visit, mark in shown
    ]
    return rows or [head_row(("No visit is needed.", "quiet"), page)]


def season_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], page: Page
) -> list[Row]:
    """A line for each week: how much is due by whom, who is turned out, when the trimmer comes."""
    weeks = laid.season(diary, groups, visits, page.glyphs.dot)
    return [
        head_row((f"week from {laid.SEASON}", "quiet"), page),
        *(_week(week, page) for week in weeks),
    ]


def _week(week: laid.WeekLine, page: Page) -> Row:
    if week.monday is None:
        return head_row((week.start, "quiet"), page)
    spans: list[Span] = [(f" {week.start:<10}", "head"), (week.counts, ""), ("   ", "")]
    room = page.width - width_of(spans) - 2
    for number, (words, role) in enumerate(week.coming):
        said = page.glyphs.text(f"{', ' if number else ''}{words}")
        spans.append((page.glyphs.fit(said, room), role))
        room -= cells(spans[-1][0])
    return Row(painted(*spans), week=week.monday)
