"""Which bulls to move so that a farm's groups are short of the least, by trying every way.

For small farms only: every bull that may be moved stays or goes to any group that may have him,
and of all that is possible the best is taken.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import product
from math import prod
from typing import Any, NamedTuple

from .brute import key
from .cover import Bull, Herd, Row, Team, Worker, chance, short, told
from .state import Entry

MOST = 300_000  # ways to try


class Stall(NamedTuple):
    """A bull of the farm: the group in which he works now, and those to which he may be moved."""

    bull: Bull
    works: Team | None
    choices: list[Team]


class Way(NamedTuple):
    """One way to move the bulls: where each goes, None for who stays where he is."""

    stalls: list[Stall]
    to: tuple[Team | None, ...]

    def moved(self) -> list[tuple[Bull, Team]]:
        return sorted(
            ((stall.bull, team) for stall, team in zip(self.stalls, self.to, strict=True) if team),
            key=lambda move: key(move[0].tag),
        )

    def working(self) -> Iterator[tuple[Bull, Team]]:
        """Who works in which group after the moves."""
        for stall, team in zip(self.stalls, self.to, strict=True):
            after = team or stall.works
            if after:
                yield stall.bull, after


class Farm:
    """One farm's groups and bulls, each bull weighed as a worker of each group once."""

    def __init__(self, herd: Herd, name: str | None) -> None:
        self.teams = [team for team in herd.teams if team.farm == name]
        mine = [bull for bull in herd.bulls if bull.farm == name]
        self.worth = {
            (bull.tag, team.name): herd.as_worker(bull, team)
            for bull in mine
            for team in self.teams
        }
        self.stalls = [self.stall(bull) for bull in mine]
        ways = prod(1 + len(stall.choices) for stall in self.stalls)
        if ways > MOST:
            raise ValueError(f"too many ways to move the bulls to try them all: {ways}")

    def stall(self, bull: Bull) -> Stall:
        works = next((team for team in self.teams if bull.works_in(team)), None)
        # of a group that does not say its females nobody knows whether it can spare him
        free = works is None or works.females is not None
        choices = [t for t in self.teams if free and t != works and self.may_go(bull, t)]
        return Stall(bull, works, choices)

    def may_go(self, bull: Bull, team: Team) -> bool:
        said = bull.story.bull
        # nobody who works outside already, nobody who is dangerous
        if bull.story.out or said.get("temper") == "dangerous":
            return False
        # to heifers only who is said to be safe with them
        if team.heifers and said.get("heifer_safe") is not True:
            return False
        # a group that does not say how many females it has asks for nobody
        return team.females is not None and self.worth[bull.tag, team.name].forecast

    def ways(self) -> Iterator[Way]:
        for to in product(*([None, *stall.choices] for stall in self.stalls)):
            yield Way(self.stalls, to)

    def forecast(self, way: Way, team: Team) -> list[Worker]:
        working = [self.worth[bull.tag, of.name] for bull, of in way.working() if of == team]
        return [worker for worker in working if worker.forecast]

    def short(self, way: Way, team: Team) -> int:
        return 0 if team.females is None else short(team.females, self.forecast(way, team))

    def allowed(self, way: Way, as_it_is: Way) -> bool:
        """No group that somebody leaves is shorter than before."""
        left = {
            team
            for team in self.teams
            for bull, to in way.moved()
            if bull.group == team.name and to != team
        }
        return all(self.short(way, team) <= self.short(as_it_is, team) for team in left)

    def pens(self, way: Way) -> int:
        """Pairs of a pen and a group in which a forecast worker of that pen works."""
        pairs = {
            (bull.story.bull.get("pen"), team.name)
            for bull, team in way.working()
            if self.worth[bull.tag, team.name].forecast
        }
        return sum(pen is not None for pen, _ in pairs)

    def place(self, way: Way) -> tuple[int, int, int, list[str], list[str]]:
        """The better way comes first."""
        moved = way.moved()
        return (
            sum(self.short(way, team) for team in self.teams),
            len(moved),
            self.pens(way),
            [key(bull.tag) for bull, _ in moved],
            [team.name for _, team in moved],
        )

    def chance(self, way: Way, team: Team) -> Any:
        if team.females is None:
            return None
        return chance([worker.odds for worker in self.forecast(way, team)], team.females)


def brute_moves(
    entries: list[Entry],
    on: date,
    rules: dict[str, Any] | None = None,
    turnout: date | None = None,
    females: int | None = None,
) -> list[Row]:
    """Of every farm with a group whose season is not over, the best way to move its bulls.

    Arguments as of ``brute_cover``. Of each farm (none first): ``farm``; ``short_before``,
    ``short``: in all its groups together, before and after; ``moves``: how many; ``pens``: pairs of
    a pen and a group after them; ``allocation``: a set of (bull, the group that he is in or None,
    the group in which he then works); ``groups``: of each by name (short before, short after,
    chance before, chance after), None where females are not said. ValueError: too many ways.
    """
    herd = told(entries, on, rules, turnout, females)
    farms = dict.fromkeys(team.farm for team in herd.teams)
    return [moves_of(Farm(herd, name), name) for name in farms]


def moves_of(farm: Farm, name: str | None) -> Row:
    as_it_is = Way(farm.stalls, (None,) * len(farm.stalls))
    best = min((way for way in farm.ways() if farm.allowed(way, as_it_is)), key=farm.place)
    least, moves, pens, *_ = farm.place(best)
    return {
        "farm": name,
        "short_before": sum(farm.short(as_it_is, team) for team in farm.teams),
        "short": least,
        "moves": moves,
        "pens": pens,
        "allocation": {(bull.tag, bull.group, team.name) for bull, team in best.moved()},
        "groups": {team.name: before_and_after(farm, as_it_is, best, team) for team in farm.teams},
    }


def before_and_after(farm: Farm, as_it_is: Way, best: Way, team: Team) -> tuple[Any, ...]:
    if team.females is None:
        return None, None, None, None
    ways = as_it_is, best
    return *(farm.short(way, team) for way in ways), *(farm.chance(way, team) for way in ways)


# AMBIGUOUS: what can be understood in two ways, and what was taken here.
#
# - in no group: also one whose group's season is over or that his farm has not said.
# - moved out of a group: who works or stands by in it and goes to another; a reserve who becomes a
#   worker of his own group leaves nobody, and counts as one move.
# - whose short would grow: by all the moves together, not by his alone.
# - pens: of all forecast workers of the farm's groups, those that are not moved, those out and
#   those of groups that do not say their females as well.
# - then tags in order: of two ways that are as good, that whose moved bulls' tags, in order, come
#   first; then that whose groups, in the order of those tags, do.
# - a worker of a group that does not say how many females it has stays: nobody knows whether that
#   group would be short.
# - dangerous: never moved, out of a group neither.
