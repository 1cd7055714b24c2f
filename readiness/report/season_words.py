"""A group's season in words: who works, who should not, who could stand in, which days to keep."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from readiness.cover.season import Event, Season, StandIn, Working
from readiness.engine.results import Assessment
from readiness.trade.words import Day, day_words, days_words, every_words, number_words

FEW_STAND_INS = 4
BRING_IN, STAND_IN = "bring in", "could stand in"
URGENT = (BRING_IN, STAND_IN)
"""What is read before all else that is known of the season."""


def season_facts(season: Season, on: Day, looks: Sequence[Event]) -> list[tuple[str, str]]:
    """(of what, what is known of it) of a group with a bull at work; ``looks``: how often they are
    to be looked at from now on."""
    well = (each.bull for each in season.working if each not in season.bring_in)
    told = [("at work", ", ".join(map(_name, well)) or "none")]
    if season.bring_in:
        told.append((BRING_IN, "; ".join(map(_bring_in, season.bring_in))))
        told.append((STAND_IN, stand_ins_words(season.stand_ins, on)))
    often = ", then ".join(look_words(each, on, each is not looks[-1]) for each in looks)
    seen = _seen(season.working, on)
    told.append(("look at", f"{often}; {seen}" if often else seen))
    if lost := [words for each in season.working if (words := _lost(each))]:
        told.append(("lost at work", "; ".join(lost)))
    return told


def event_words(event: Event, on: Day) -> str:
    """The days of an event and what they are for."""
    days = day_words(event.first, on)
    if event.last != event.first:
        days += f" to {day_words(event.last, on)}"
    return f"{days}: {event.text}"


def _name(bull: Assessment) -> str:
    return bull.name or bull.bull


def _bring_in(each: Working) -> str:
    why = ", ".join(reason.text for reason in each.bull.reasons)
    return f"{_name(each.bull)}: {why or 'on hold'}"


def stand_ins_words(found: Sequence[StandIn], on: Day) -> str:
    """Who could work in the place of another, and from when; of many the first few."""
    told = "; ".join(_stand_in(each, on) for each in found[:FEW_STAND_INS])
    more = len(found) - FEW_STAND_INS
    return f"{told or 'nobody of this farm'}{f'; and {more} more' if more > 0 else ''}"


def _stand_in(each: StandIn, on: Day) -> str:
    if each.bull.status == "GO":
        return f"{_name(each.bull)} ({each.place}) today"
    when = "today" if each.ready <= on else f"from {day_words(each.ready, on)}"
    return f"{_name(each.bull)} ({each.place}) {when}, if every check passes"


def look_words(look: Event, on: Day, ends: bool) -> str:
    """ "daily until 14 Jun"."""
    until = f" until {day_words(look.last, on)}" if ends else ""
    return f"{every_words(look.every or 1)}{until}"


def _seen(working: Iterable[Working], on: Day) -> str:
    late = [each for each in working if each.look_by <= on]
    if not late:
        return "all seen as often as they should be"
    return "; ".join(
        f"{_name(each.bull)}, last seen {days_words(on - each.looked)} ago" for each in late
    )


def _lost(each: Working) -> str:
    """What he has lost in condition and weight; nothing where it is not known, or none."""
    said = []
    if each.condition is not None and each.condition > 0:
        said.append(f"{number_words(each.condition)} of condition")
    if each.kg is not None and each.kg > 0:
        said.append(f"{number_words(each.kg)} kg")
    return f"{_name(each.bull)} {', '.join(said)}" if said else ""
