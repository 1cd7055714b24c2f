"""The diary: what is overdue, then day by day, each with who does it. Laid out once: what stands
under which heading, how a bull is called, a line a week; the command's text, which is made here,
folds what is long, the screen cuts it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import zip_longest
from typing import NamedTuple

from readiness.engine.results import Assessment, GroupLine
from readiness.herd.diary import WHO, Diary, Due
from readiness.herd.selection import WEEK
from readiness.report.check_days import last_words, overdue_words
from readiness.report.look import Look, hanging, wrapped
from readiness.report.rows import short_tags, withdrawal_lines
from readiness.report.spans import Span
from readiness.report.visits_text import load_words
from readiness.system.grouped import grouped
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.cautions import HANDLING
from readiness.trade.temper import warned
from readiness.trade.words import (
    FARM_LESS,
    Day,
    column_day,
    day_words,
    full_day_words,
    full_when_words,
    plural,
)
from readiness.visits.agenda import AgendaDay, days, weeks, without_gaps
from readiness.visits.plan import Visit

NOTHING = "Nothing is due."
UNDATED = "No last day (no turnout, or after another check)"
SEASON = "".join(f"{who:>8}" for who in WHO) + "   turnouts, season, visits"
"""The heads of a season, after "week from"."""

CAREFUL = "name !: be careful of him."
FORECAST = (
    "Each check stands under the day by which to do it: the advised day while that is to come, "
    "else the last. Days to come hold only if every check before them passes; the vet decides on "
    "all that is the vet's."
)
_WHO, _BULL_MOST, _TEXT_LEAST = 7, 32, 16


class Note(NamedTuple):
    """Something else that stands under the day ``on``: a word for what it is, what it says, the
    same in a few words for a week's line ("": it is not told there), and whose it is: a group's, or
    the checks that are to be done."""

    on: Day
    what: str
    text: str
    short: str
    farm: str | None
    group: str | None = None
    dues: tuple[Due, ...] = ()


Item = Span | Due | GroupLine | Visit | Note
"""A heading with its role, or what stands under it: a check, a turnout, a visit, a note."""


class Called(NamedTuple):
    """A bull as the diary calls him: short tag and name, the mark of his temper, and ", " with his
    farm where the diary speaks of several."""

    name: str
    mark: str
    farm: str

    @property
    def whole(self) -> str:
        return f"{self.name}{self.mark}{self.farm}"

    def fitted(self, room: int, fit: Callable[[str, int], str]) -> str:
        """As much of it as fits. The mark is never what is cut off: it keeps people whole."""
        if cells(self.name) + len(self.mark) < room:
            return fit(self.whole, room)
        name = fit(self.name, room - len(self.mark))
        return fit(f"{name.rstrip()}{self.mark}", room)


def called(bulls: Iterable[Due | Assessment]) -> dict[str, Called]:
    """Key → how he is called."""
    by_tag = {each.bull: each for each in bulls}
    several = len({each.farm for each in by_tag.values()}) > 1
    return {
        (bull := by_tag[tag]).key: Called(
            plain(f"{short} {bull.name}" if bull.name else short),
            warned("", bull.temper),
            plain(f", {bull.farm}") if several and bull.farm else "",
        )
        for tag, short in short_tags(by_tag).items()
    }


def items(
    diary: Diary,
    groups: Sequence[GroupLine],
    visits: Sequence[Visit],
    notes: Iterable[Note],
    last: Day | None = None,
    say: Callable[[Day, Day], str] = full_when_words,
) -> Iterator[Item]:
    """What is overdue, then every day that holds something (up to ``last``), then what nothing
    says a day for. ``say``: how a day is headed, seen from today."""
    if diary.overdue:
        yield "! Overdue", "overdue"
    yield from diary.overdue
    held = {day.on: day for day in days(diary, groups, visits, diary.on)}
    notes_of = grouped(notes, lambda note: note.on)
    for on in sorted({*held, *notes_of}):
        if last is None or on <= last:
            yield from items_of(held.get(on, AgendaDay(on)), notes_of.get(on, ()), diary.on, say)
    if diary.undated:
        yield UNDATED, "head"
    yield from diary.undated


def items_of(
    day: AgendaDay,
    notes: Iterable[Note],
    today: Day,
    say: Callable[[Day, Day], str] = full_when_words,
) -> Iterator[Item]:
    """A day's heading, then what it holds, its notes first."""
    yield say(day.on, today), "head"
    yield from notes
    yield from day.turnouts
    yield from day.visits
    yield from day.due


def ahead_words(due: Due, on: Day) -> str:
    """From when it may be done where that is to come, and its last day where it stands under an
    earlier one that is advised."""
    check = due.check
    to_come = check.not_before > on and (check.not_before < due.day or not check.has_last_day)
    said = (f"from {column_day(check.not_before, on)}" if to_come else "", last_words(check, on))
    return "".join(f", {words}" for words in said if words)


class WeekLine(NamedTuple):
    """A week: its Monday (None: several that hold nothing), the same in words, how many checks are
    to be done in it by who does them, and what else is to come."""

    monday: Day | None
    start: str
    counts: str = ""
    coming: tuple[Span, ...] = ()


def season(
    diary: Diary,
    groups: Sequence[GroupLine],
    visits: Sequence[Visit],
    notes: Sequence[Note],
    none: str,
) -> Iterator[WeekLine]:
    """A line for each week; ``none`` stands for no checks. What is overdue counts in this week."""
    on = diary.on
    told = [note for note in notes if note.short]
    for week in without_gaps(weeks(diary, groups, visits, {note.on for note in told})):
        if isinstance(week, int):
            yield WeekLine(None, f"{plural(week, 'week')} without anything")
            continue
        here = (note for note in told if week.monday <= note.on < week.monday + WEEK)
        coming = [
            *((g.turnout, f"{plain(g.group)} out", "turnout") for g in week.turnouts),
            *((note.on, note.short, "") for note in here),
            *((visit.on, "visit", "quiet") for visit in week.visits),
        ]
        yield WeekLine(
            week.monday,
            day_words(week.monday, on),
            "".join(f"{count or none:>8}" for count in week.due),
            tuple((f"{words} {column_day(day, on)}", role) for day, words, role in coming),
        )


def diary_text(
    diary: Diary,
    look: Look,
    groups: Sequence[GroupLine] = (),
    visits: Sequence[Visit] = (),
    last: Day | None = None,
    notes: Sequence[Note] = (),
    below: Sequence[str] = (),
) -> str:
    """The diary, ``look.width`` columns wide at most: what is due, with the turnouts of ``groups``,
    the ``visits`` and the ``notes``, up to the day ``last`` where it is given. ``below``: what is
    said after it."""
    said = list(items(diary, groups, visits, notes, last))
    dated = (due for _, day_dues in diary.days for due in day_dues)
    dues = [*diary.overdue, *dated, *diary.undated]
    names = called(dues)
    lines = [f"Diary, {full_day_words(diary.on)}"]
    lines += withdrawal_lines(diary.running, look.width - 2)
    for item in said if dues else [*said, (NOTHING, "")]:
        lines += _lines(item, names, diary.on, look)
    for text in below:
        lines += ["", *wrapped(text, look.width - 2)]
    foot = [CAREFUL, *wrapped(FORECAST, look.width - 2), *wrapped(HANDLING, look.width - 2)]
    return look.plain_marks("\n".join([*lines, "", *foot]))


def coming_words(item: GroupLine | Visit | Note) -> tuple[str, str]:
    """What stands under a day beside the checks: a word for what it is, and what it says."""
    if isinstance(item, Note):
        return item.what, plain(item.text)
    if isinstance(item, GroupLine):
        where = f", {item.farm}" if item.farm else ""
        go = f"{item.go} of {plural(item.bulls, 'bull')} GO"
        return "turnout", plain(f"{item.group}{where}: {go}")
    promised = " (promised)" if item.promised else ""
    return "visit", plain(f"{item.farm or FARM_LESS}{promised}: {load_words(item)}")


def _lines(item: Item, names: Mapping[str, Called], on: Day, look: Look) -> list[str]:
    if isinstance(item, Due):
        return _check(item, names, on, look)
    if isinstance(item, GroupLine | Visit | Note):
        what, text = coming_words(item)
        return hanging(f"{what:<{_WHO}} {text}", look.width - 1)
    return ["", look.painted([item])]


def _check(due: Due, names: Mapping[str, Called], on: Day, look: Look) -> list[str]:
    """Who, which bull, what, and how long overdue, or from when."""
    widest = max(cells(each.whole) for each in names.values())
    column = min(_BULL_MOST, look.width // 3, widest)
    bull = wrapped(names[due.key].whole, column)
    start = f"  {look.fit(due.check.who, _WHO)} "
    late = overdue_words(due.check, on)
    when = f"{f', {late}' if late else ''}{ahead_words(due, on)}"
    room = max(look.width - 3 - cells(start) - column, _TEXT_LEAST)
    text = wrapped(plain(f"{due.check.text}{when}"), room)
    rows = zip_longest(bull, text, fillvalue="")
    return [
        f"{' ' * cells(start) if at else start}{look.fit(name, column)} {said}".rstrip()
        for at, (name, said) in enumerate(rows)
    ]


def season_text(
    diary: Diary,
    look: Look,
    groups: Sequence[GroupLine],
    visits: Sequence[Visit],
    notes: Sequence[Note],
) -> str:
    """A line for each week: how many checks are to be done in it by who does them, and what else
    is to come."""
    lines = [f"{'week from':<14}{SEASON}"]
    for week in season(diary, groups, visits, notes, "·"):
        start = f"{week.start:<14}{week.counts}   "
        coming = ", ".join(words for words, _ in week.coming)
        first, *rest = wrapped(coming, look.width - cells(start) - 1) or [""]
        lines.append((start + first).rstrip())
        lines += [" " * cells(start) + line for line in rest]
    return look.plain_marks("\n".join(lines))
