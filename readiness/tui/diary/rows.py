"""The lines of the Diary screen: what is due, day by day, week by week, and the visits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from textual.content import Content

from readiness.engine.results import Board, GroupLine
from readiness.herd.diary import WHO, Diary, Due
from readiness.report.check_days import last_words, late_words, overdue_words
from readiness.report.diary_text import UNDATED
from readiness.report.rows import short_tags
from readiness.report.visits_text import FARM_LESS, bring_words
from readiness.report.withdrawal_text import HEAD, withdrawal_words
from readiness.system.width import cells
from readiness.trade.temper import warned
from readiness.trade.words import (
    column_day,
    day_words,
    full_when_words,
    plural,
    weekday_words,
    when_words,
)
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, VERMILLION, Glyphs
from readiness.visits.agenda import WEEK, Day, Week, days, weeks, without_gaps
from readiness.visits.plan import Visit

Part = tuple[str, str]
VisitKey = tuple[str, int]
_WHO_WIDTH, USUAL = 8, 80
NOTHING = "Nothing is due."


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
    """What every line needs: the day, how wide the screen is, its characters, names by bull."""

    on: int
    width: int
    glyphs: Glyphs
    names: dict[str, str]
    bull: int

    def fit(self, words: str, width: int) -> str:
        words = self.glyphs.fit(self.glyphs.text(words), width)
        return words + " " * (width - cells(words))


def page_of(board: Board, width: int, glyphs: Glyphs) -> Page:
    """The page for a board's bulls, with their farm where there are several."""
    farms = {bull.farm for bull in board.bulls}
    names = {}
    short = short_tags(bull.bull for bull in board.bulls)
    for bull in board.bulls:
        name = f"{short[bull.bull]} {bull.name}" if bull.name else short[bull.bull]
        named = warned(name, bull.temper)
        names[bull.key] = f"{named}, {bull.farm}" if len(farms) > 1 and bull.farm else named
    widest = max((cells(glyphs.text(name)) for name in names.values()), default=0)
    return Page(board.on, width, glyphs, names, min(width // 3, widest + 1))


# ---- one by one ----------------------------------------------------------------------------------


def due_row(due: Due, page: Page) -> Row:
    """Who, which bull, what, and how late or from when."""
    start = f"  {page.fit(due.check.who, _WHO_WIDTH)}"
    bull = page.fit(page.names.get(due.key, due.bull), page.bull)
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
    said = [last_words(check, page.on)]
    if check.not_before > page.on and (check.not_before < due.day or not check.has_last_day):
        said.insert(0, f"from {column_day(check.not_before, page.on)}")
    return "".join(f", {words}" for words in said if words), QUIET


def head_row(words: str, page: Page, style: str = f"bold {TEXT}") -> Row:
    return Row(Content.assemble((f" {page.glyphs.fit(words, page.width - 2)}", style)))


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
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], who: str, page: Page
) -> list[Row]:
    """Withdrawals that run and what is overdue, then every day that holds something, then what
    nothing says a day for."""
    late = [due for due in diary.overdue if _by(due, who)]
    undated = [due for due in diary.undated if _by(due, who)]
    rows = [
        head_row(f"{HEAD}{words}", page, f"bold {ORANGE}")
        for words in withdrawal_words(diary.running)
    ]
    if late:
        rows.append(head_row(f"{page.glyphs.late} Overdue", page, f"bold {VERMILLION}"))
        rows += [due_row(due, page) for due in late]
    for day in days(diary, groups, visits, page.on):
        rows += _day_rows(day, who, page)
    rows += [head_row(UNDATED, page)] if undated else []
    rows += [due_row(due, page) for due in undated]
    return rows or [head_row(NOTHING, page, QUIET)]


def week_rows(
    diary: Diary,
    groups: Sequence[GroupLine],
    visits: Sequence[Visit],
    first: int,
    who: str,
    page: Page,
) -> list[Row]:
    """Seven days, those with nothing in them, too. What is overdue stands before today."""
    rows = []
    for day in days(diary, groups, visits, first, first + WEEK - 1):
        if day.on == diary.on:
            rows += [due_row(due, page) for due in diary.overdue if _by(due, who)]
        rows += _day_rows(day, who, page, empty=True)
    return rows


def _day_rows(day: Day, who: str, page: Page, *, empty: bool = False) -> list[Row]:
    due = [each for each in day.due if _by(each, who)]
    visits = day.visits if who in ("all", "trimmer") else ()
    if not (due or visits or day.turnouts or empty):
        return []
    return [
        head_row(full_when_words(day.on, page.on), page),
        *(turnout_row(group, page) for group in day.turnouts),
        *(visit_row(visit, page, dated=False) for visit in visits),
        *(due_row(each, page) for each in due),
    ]


def _by(due: Due, who: str) -> bool:
    return who in ("all", due.check.who)


def visit_rows(shown: Iterable[tuple[VisitKey, Visit, str]], page: Page) -> list[Row]:
    """The visits, each under the key by which it was planned, with what was done to it."""
    rows = [
        replace(visit_row(visit, page, dated=True, mark=mark), visit=key)
        for key, visit, mark in shown
    ]
    return rows or [head_row("No visit is needed.", page, QUIET)]


def season_rows(
    diary: Diary, groups: Sequence[GroupLine], visits: Sequence[Visit], page: Page
) -> list[Row]:
    """A line for each week: how much is due by whom, who is turned out, when the trimmer comes."""
    heads = "".join(f"{who:>8}" for who in WHO)
    rows = [head_row(f"week from {heads}   turnouts and visits", page, QUIET)]
    for week in without_gaps(weeks(diary, groups, visits)):
        if isinstance(week, int):
            rows.append(head_row(f"{plural(week, 'week')} without anything", page, QUIET))
        else:
            rows.append(_week_row(week, page))
    return rows


def _week_row(week: Week, page: Page) -> Row:
    counts = "".join(f"{count or page.glyphs.dot:>8}" for count in week.due)
    lead = f" {day_words(week.monday, page.on):<10}"
    coming = [
        (f"{page.glyphs.text(group.group)} out {column_day(group.turnout, page.on)}",
         f"bold {SKY}")
        for group in week.turnouts
    ]  # fmt: skip
    coming += [(f"visit {column_day(visit.on, page.on)}", QUIET) for visit in week.visits]
    parts: list[Part] = [(lead, f"bold {TEXT}"), (counts, TEXT), ("   ", "")]
    room = page.width - cells(lead + counts) - 5
    for number, (words, style) in enumerate(coming):
        shown = page.glyphs.fit(f"{', ' if number else ''}{words}", room)
        room -= cells(shown)
        parts.append((shown, style))
    return Row(Content.assemble(*parts), week=week.monday)
