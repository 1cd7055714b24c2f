"""The diary as events of a calendar file: what is due by day, farm and person, the days of the
season, and the days proposed for the vet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from readiness.cover.ahead import Ahead
from readiness.cover.season import CALVES, ENDS, LOOK, REST, RETURNS, STILL_OUT, TURNOUT
from readiness.herd.diary import WHO, Diary, Due
from readiness.report import ahead_words
from readiness.report.diary_lines import Called, called
from readiness.report.ics_event import Appointment
from readiness.report.page_words import check_sentence
from readiness.system.grouped import grouped
from readiness.system.plain import plain
from readiness.trade.cautions import HANDLING
from readiness.trade.words import FARM_LESS, plural, sentence
from readiness.visits.vet_days import VET

# Part of the identity of the events, and fixed for ever: others would double them.
_OF = " of "
_CHECKS, _VISIT = "checks", "visit"
_SEASON = {
    TURNOUT: "turnout", RETURNS: "returns", LOOK: "look", ENDS: "end", CALVES: "calves",
    REST: "rest",
}  # fmt: skip
REMINDER = "A reminder: no bull is held for it."


class Spoken(NamedTuple):
    """What a diary speaks of: days from ``on`` to ``last``, farms (None: every one), the persons
    whose checks stand in it, and the groups (farm, name) whose season is told."""

    on: date
    last: date
    farms: frozenset[str] | None
    people: frozenset[str]
    groups: frozenset[tuple[str, str]]

    def holds(self, shown: Appointment, /) -> bool:
        """Not what was to be done up to today: it may have been done, and is not cancelled. Nor
        what was said of a season that is over: its calves still come."""
        if shown.day > self.last or not (self.farms is None or shown.farm in self.farms):
            return False
        kind, _, whose = shown.what.partition(_OF)
        if kind in (_CHECKS, _VISIT):
            return whose in self.people and shown.day > self.on
        return (shown.farm, whose) in self.groups and (shown.last or shown.day) >= self.on


def spoken(ahead: Ahead, farm: str | None, who: str | None) -> Spoken:
    """What the diary of ``who`` (None: of everybody) speaks of."""
    return Spoken(
        date.fromordinal(ahead.board.on),
        date.max if ahead.last is None else date.fromordinal(ahead.last),
        None if farm is None else frozenset({farm}),
        frozenset(WHO if who is None else {who}),
        frozenset((line.farm or "", line.group) for line in ahead.board.groups),
    )


def diary_appointments(diary: Diary, ahead: Ahead) -> list[Appointment]:
    """The events of a diary; what is overdue stands under today, what has no last day nowhere."""
    return [*_checks(diary), *_vet(ahead), *_season(ahead)]


def _checks(diary: Diary) -> Iterator[Appointment]:
    dated = [(diary.on, due) for due in diary.overdue]
    dated += [(on, due) for on, dues in diary.days for due in dues]
    names = called(due for _, due in dated)
    together = grouped(dated, lambda each: (each[0], each[1].farm or "", each[1].check.who))
    for (on, farm, who), own in together.items():
        late = sum(due.check.overdue for _, due in own)
        overdue = f", {late} overdue" if late else ""
        lines = [_line(due, names, diary.on) for _, due in own]
        yield Appointment(
            farm,
            date.fromordinal(on),
            f"Last day for the {who} at {_where(farm)}: {plural(len(own), 'check')}{overdue}",
            "\n".join([*lines, HANDLING]),
            "CONFIRMED",
            what=f"{_CHECKS}{_OF}{who}",
        )


def _vet(ahead: Ahead) -> Iterator[Appointment]:
    names = called(due for day in ahead.vet.days for due in day.dues)
    for day in ahead.vet.days:
        lines = [_line(due, names, ahead.board.on) for due in day.dues]
        yield Appointment(
            day.farm or "",
            date.fromordinal(day.on),
            sentence(ahead_words.vet_load(day)).rstrip("."),
            "\n".join([ahead_words.PROPOSED, *lines, HANDLING]),
            "TENTATIVE",
            what=f"{_VISIT}{_OF}{VET}",
        )


def _season(ahead: Ahead) -> Iterator[Appointment]:
    for event in ahead.season:
        if event.what == STILL_OUT:  # to be done today: no day of a calendar
            continue
        yield Appointment(
            event.farm or "",
            date.fromordinal(event.first),
            plain(f"{event.group}: {event.text}"),
            REMINDER if event.what in (LOOK, REST) else "",
            "CONFIRMED",
            None if event.last == event.first else date.fromordinal(event.last),
            f"{_SEASON[event.what]}{_OF}{event.group}",
            None if event.last == event.first else event.every,
        )


def _line(due: Due, names: dict[str, Called], on: int) -> str:
    called_so = names[due.key]
    return plain(f"{called_so.name}{called_so.mark}: {check_sentence(due.check, on)}")


def _where(farm: str) -> str:
    return plain(farm) or FARM_LESS
