"""The diary as text: what is overdue, then day by day, each with who does it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from readiness.engine.results import GroupLine
from readiness.herd.diary import WHO, Diary, Due
from readiness.report.check_days import last_words, overdue_words
from readiness.report.look import Look, hanging, wrapped
from readiness.report.rows import short_tags
from readiness.report.visits_text import FARM_LESS, load_words
from readiness.report.withdrawal_text import withdrawal_text
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.cautions import HANDLING
from readiness.trade.temper import warned
from readiness.trade.words import (
    column_day,
    day_words,
    full_day_words,
    full_when_words,
    plural,
)
from readiness.visits.agenda import days, weeks, without_gaps
from readiness.visits.plan import Visit

NOTHING = "Nothing is due."
CAREFUL = "name !: be careful of him."
FORECAST = (
    "Each check stands under the day by which to do it: the advised day while that is to come, "
    "else the last. Days to come hold only if every check before them passes; the vet decides on "
    "all that is the vet's."
)
UNDATED = "No last day (no turnout, or after another check)"
_WHO, _BULL_MOST, _TEXT_LEAST = 7, 24, 16


class _Named(NamedTuple):
    """A bull as the diary calls him: short tag and name, the mark of his temper, and ", " with his
    farm where the diary speaks of several."""

    name: str
    mark: str
    farm: str

    @property
    def whole(self) -> str:
        return f"{self.name}{self.mark}{self.farm}"

    def fitted(self, room: int, look: Look) -> str:
        """As much of it as fits. The mark is never what is cut off: it keeps people whole."""
        if cells(self.name) + len(self.mark) < room:
            return look.fit(self.whole, room)
        name = look.fit(self.name, room - len(self.mark))
        return look.fit(f"{name.rstrip()}{self.mark}", room)


class _Page(NamedTuple):
    """What every line of the diary needs: names by bull, how wide they are, and the look."""

    on: int
    names: dict[str, _Named]
    bull: int
    look: Look

    def lines(self, due: Due) -> list[str]:
        """One check: who, which bull, what."""
        who = self.look.fit(due.check.who, _WHO)
        start = f"  {who} {self.names[due.key].fitted(self.bull, self.look)} "
        room = max(self.look.width - 2 - cells(start), _TEXT_LEAST)
        first, *rest = wrapped(plain(f"{due.check.text}{_when(due, self.on)}"), room)
        return [start + first, *(" " * cells(start) + line for line in rest)]


def diary_text(
    diary: Diary,
    look: Look,
    groups: Sequence[GroupLine] = (),
    visits: Sequence[Visit] = (),
    last: int | None = None,
) -> str:
    """The diary, ``look.width`` columns wide at most: what is due, with the turnouts of ``groups``
    and the ``visits``, up to the day ``last`` where it is given."""
    dated = (due for _, day_dues in diary.days for due in day_dues)
    dues = [*diary.overdue, *dated, *diary.undated]
    names = _names(dues)
    widest = max((cells(each.whole) for each in names.values()), default=0)
    page = _Page(diary.on, names, min(_BULL_MOST, look.width // 3, widest), look)
    lines = [f"Diary, {full_day_words(diary.on)}"]
    lines += withdrawal_text(diary.running, look.width - 2)
    if diary.overdue:
        lines += ["", look.paint("alert", "! Overdue")]
    for due in diary.overdue:
        lines += page.lines(due)
    coming = [
        day for day in days(diary, groups, visits, diary.on) if last is None or day.on <= last
    ]
    for each in coming:
        lines += ["", look.paint("head", full_when_words(each.on, diary.on))]
        for group in each.turnouts:
            lines += hanging(_turnout(group), look.width - 1)
        for visit in each.visits:
            lines += hanging(_visit(visit), look.width - 1)
        for due in each.due:
            lines += page.lines(due)
    if diary.undated:
        lines += ["", look.paint("head", UNDATED)]
    for due in diary.undated:
        lines += page.lines(due)
    if not dues:
        lines += ["", NOTHING]
    below = [CAREFUL, *wrapped(FORECAST, look.width - 2), *wrapped(HANDLING, look.width - 2)]
    return look.plain_marks("\n".join([*lines, "", *below]))


def season_text(
    diary: Diary, look: Look, groups: Sequence[GroupLine], visits: Sequence[Visit]
) -> str:
    """A line for each week: how many checks are to be done in it by who does them, turnouts and
    visits. What is overdue counts in this week."""
    heads = "".join(f"{who:>8}" for who in WHO)
    lines = [f"{'week from':<14}{heads}   turnouts and visits"]
    for week in without_gaps(weeks(diary, groups, visits)):
        if isinstance(week, int):
            lines.append(f"{plural(week, 'week')} without anything")
            continue
        counts = "".join(f"{count or '·':>8}" for count in week.due)
        coming = [f"{plain(g.group)} out {column_day(g.turnout, diary.on)}" for g in week.turnouts]
        coming += [f"visit {column_day(visit.on, diary.on)}" for visit in week.visits]
        start = f"{day_words(week.monday, diary.on):<14}{counts}   "
        first, *rest = wrapped(", ".join(coming), look.width - cells(start) - 1) or [""]
        lines.append((start + first).rstrip())
        lines += [" " * cells(start) + line for line in rest]
    return look.plain_marks("\n".join(lines))


def _turnout(group: GroupLine) -> str:
    where = f", {group.farm}" if group.farm else ""
    return plain(f"turnout {group.group}{where}: {group.go} of {plural(group.bulls, 'bull')} GO")


def _visit(visit: Visit) -> str:
    promised = " (promised)" if visit.promised else ""
    return plain(f"visit   {visit.farm or FARM_LESS}{promised}: {load_words(visit)}")


def _names(dues: Sequence[Due]) -> dict[str, _Named]:
    """Key → how he is called."""
    by_tag = {due.bull: due for due in dues}
    several = len({due.farm for due in dues}) > 1
    names = {}
    for tag, short in short_tags(by_tag).items():
        due = by_tag[tag]
        name = plain(f"{short} {due.name}" if due.name else short)
        farm = plain(f", {due.farm}") if several and due.farm else ""
        names[due.key] = _Named(name, warned("", due.temper), farm)
    return names


def _when(due: Due, on: int) -> str:
    """How long overdue, or from when it may be done where that is to come; and its last day where
    it stands under an earlier one that is advised."""
    check = due.check
    said = [overdue_words(check, on)]
    if check.not_before > on and (check.not_before < due.day or not check.has_last_day):
        said.append(f"from {column_day(check.not_before, on)}")
    said.append(last_words(check, on))
    return "".join(f", {words}" for words in said if words)
