"""The diary as text: what is overdue, then day by day, each with who does it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from readiness.engine.results import GroupLine
from readiness.herd.diary import Diary, Due
from readiness.report import diary_lines as laid
from readiness.report.check_days import overdue_words
from readiness.report.look import Look, hanging, wrapped
from readiness.report.visits_text import load_words
from readiness.report.withdrawal_text import withdrawal_text
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.cautions import HANDLING
from readiness.trade.words import FARM_LESS, Day, full_day_words, plural
from readiness.visits.plan import Visit

CAREFUL = "name !: be careful of him."
FORECAST = (
    "Each check stands under the day by which to do it: the advised day while that is to come, "
    "else the last. Days to come hold only if every check before them passes; the vet decides on "
    "all that is the vet's."
)
_WHO, _BULL_MOST, _TEXT_LEAST = 7, 24, 16


def diary_text(
    diary: Diary,
    look: Look,
    groups: Sequence[GroupLine] = (),
    visits: Sequence[Visit] = (),
    last: Day | None = None,
) -> str:
    """The diary, ``look.width`` columns wide at most: what is due, with the turnouts of ``groups``
    and the ``visits``, up to the day ``last`` where it is given."""
    said = list(laid.items(diary, groups, visits, last))
    dated = (due for _, day_dues in diary.days for due in day_dues)
    dues = [*diary.overdue, *dated, *diary.undated]
    names = laid.called(dues)
    lines = [f"Diary, {full_day_words(diary.on)}"]
    lines += withdrawal_text(diary.running, look.width - 2)
    for item in said if dues else [*said, (laid.NOTHING, "")]:
        lines += _lines(item, names, diary.on, look)
    below = [CAREFUL, *wrapped(FORECAST, look.width - 2), *wrapped(HANDLING, look.width - 2)]
    return look.plain_marks("\n".join([*lines, "", *below]))


def _lines(item: laid.Item, names: Mapping[str, laid.Called], on: Day, look: Look) -> list[str]:
    if isinstance(item, Due):
        return _check(item, names, on, look)
    if isinstance(item, GroupLine):
        where = f", {item.farm}" if item.farm else ""
        go = f"{item.go} of {plural(item.bulls, 'bull')} GO"
        return hanging(plain(f"turnout {item.group}{where}: {go}"), look.width - 1)
    if isinstance(item, Visit):
        promised = " (promised)" if item.promised else ""
        where = f"visit   {item.farm or FARM_LESS}{promised}"
        return hanging(plain(f"{where}: {load_words(item)}"), look.width - 1)
    return ["", look.painted([item])]


def _check(due: Due, names: Mapping[str, laid.Called], on: Day, look: Look) -> list[str]:
    """Who, which bull, what, and how long overdue, or from when."""
    widest = max(cells(each.whole) for each in names.values())
    bull = names[due.key].fitted(min(_BULL_MOST, look.width // 3, widest), look.fit)
    start = f"  {look.fit(due.check.who, _WHO)} {bull} "
    late = overdue_words(due.check, on)
    when = f"{f', {late}' if late else ''}{laid.ahead_words(due, on)}"
    room = max(look.width - 2 - cells(start), _TEXT_LEAST)
    first, *rest = wrapped(plain(f"{due.check.text}{when}"), room)
    return [start + first, *(" " * cells(start) + line for line in rest)]


def season_text(
    diary: Diary, look: Look, groups: Sequence[GroupLine], visits: Sequence[Visit]
) -> str:
    """A line for each week: how many checks are to be done in it by who does them, turnouts and
    visits."""
    lines = [f"{'week from':<14}{laid.SEASON}"]
    for week in laid.season(diary, groups, visits, "·"):
        start = f"{week.start:<14}{week.counts}   "
        coming = ", ".join(words for words, _ in week.coming)
        first, *rest = wrapped(coming, look.width - cells(start) - 1) or [""]
        lines.append((start + first).rstrip())
        lines += [" " * cells(start) + line for line in rest]
    return look.plain_marks("\n".join(lines))
