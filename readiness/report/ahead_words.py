"""What is to come in words, beside the checks: the days of the season, and the days proposed for
the vet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from readiness.cover.ahead import Ahead
from readiness.cover.season import CALVES, ENDS, RETURNS, TURNOUT, Event
from readiness.report.diary_lines import Called, Note, called
from readiness.system.plain import plain
from readiness.trade.words import FARM_LESS, Day, day_words, list_words, plural
from readiness.visits.vet_days import VetDay

EXAM = "vet-exam"
PROPOSED = "Proposed: the fewest days that do, within the days advised; the vet says when he comes."
NO_DAY = "No day proposed for the vet"
_IN_A_WEEK = {RETURNS: "returns from", ENDS: "bulls in", CALVES: "calves from"}
"""What a week's line says of the season, after the name of the group; the rest it leaves out."""


class Left(NamedTuple):
    """A check of the vet's that no proposed day covers: whose, what, and why."""

    bull: str
    text: str
    why: str


def notes(ahead: Ahead, since: Day | None = None) -> tuple[Note, ...]:
    """What stands under a day beside checks, turnouts and visits. What is under way on the day
    ``since`` (None: today) stands under that day."""
    on = ahead.board.on
    first = on if since is None else since
    season = (
        _season_note(event, max(event.first, first), on)
        for event in ahead.season
        if event.what != TURNOUT and event.last >= first  # of turnouts the groups say more
    )
    names = called(due for day in ahead.vet.days for due in day.dues)
    several = len({day.farm for day in ahead.vet.days}) > 1
    vet = (
        Note(
            day.on, "propose", vet_words(day, names),
            f"vet at {plain(day.farm or FARM_LESS)}" if several else "vet", day.farm, dues=day.dues,
        )
        for day in ahead.vet.days
    )  # fmt: skip
    return (*vet, *season)


def _season_note(event: Event, on: Day, today: Day) -> Note:
    short = f"{plain(event.group)} {_IN_A_WEEK[event.what]}" if event.what in _IN_A_WEEK else ""
    return Note(on, "season", season_words(event, today), short, event.farm, event.group)


def season_words(event: Event, on: Day) -> str:
    """ "Hill cows, Low Sandwath: watch for returns, until 16 Jun"."""
    where = ", ".join(name for name in (event.group, event.farm) if name) or FARM_LESS
    until = f", until {day_words(event.last, on)}" if event.last != event.first else ""
    return plain(f"{where}: {event.text}{until}")


def vet_words(day: VetDay, names: Mapping[str, Called]) -> str:
    """ "the vet at Low Sandwath: 5 examinations and 1 look (Gorse, Esker)"."""
    bulls = dict.fromkeys(f"{names[due.key].name}{names[due.key].mark}" for due in day.dues)
    return plain(f"{vet_load(day)} ({', '.join(bulls)})")


def vet_load(day: VetDay) -> str:
    """ "the vet at Low Sandwath: 5 examinations and 1 look"."""
    exams = sum(due.check.check == EXAM for due in day.dues)
    looks = len(day.dues) - exams
    said = [plural(exams, "examination")] * bool(exams) + [plural(looks, "look")] * bool(looks)
    return plain(f"the vet at {day.farm or FARM_LESS}: {list_words(said)}")


def left(ahead: Ahead) -> Iterator[Left]:
    """What no proposed day of the vet's covers."""
    names = called(due for due, _ in ahead.vet.left)
    for due, why in ahead.vet.left:
        yield Left(names[due.key].whole, plain(due.check.text), why)


def below(ahead: Ahead) -> list[str]:
    """What is said below the text: what no day of the vet's covers, and how they are meant."""
    told = [f"{NO_DAY}: {each.bull}, {each.text}: {each.why}" for each in left(ahead)]
    return told + ([PROPOSED] if ahead.vet.days else [])
