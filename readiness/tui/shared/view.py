"""What part of the board is looked at, and in what order. Pure: a board in, a list of bulls out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from textual.fuzzy import FuzzySearch

from readiness.engine.results import Assessment, Board
from readiness.herd.selection import lifts
from readiness.herd.team import EVERY_FARM, Team, in_team
from readiness.trade.tags import tag_key
from readiness.trade.words import FARM_LESS, full_day_words
from readiness.tui.shared.dialogs import Choice

SORTS = ("board order", "could go", "day to do it", "tag")
STATES = ("all", "hold for a reason", "checks to come", "GO")

_NEVER = 1 << 40


@dataclass(frozen=True, slots=True)
class View:
    """Which bulls, in which order. ``state`` is one of ``STATES``, ``sort`` one of ``SORTS``."""

    sort: str = SORTS[0]
    state: str = STATES[0]
    team: Team = EVERY_FARM
    find: str = ""
    lifting: bool = False
    """Only the bulls with a foot to lift within the week."""

    def next_sort(self) -> View:
        return replace(self, sort=SORTS[(SORTS.index(self.sort) + 1) % len(SORTS)])

    def next_state(self) -> View:
        return replace(self, state=STATES[(STATES.index(self.state) + 1) % len(STATES)])

    def with_state(self, state: str) -> View:
        """Only this state; asked for again, all."""
        return replace(self, state=STATES[0] if state == self.state else state)

    @property
    def narrowed(self) -> bool:
        whole = self.state == STATES[0] and self.team == EVERY_FARM
        return self.lifting or not whole or bool(self.find)


def state_of(bull: Assessment) -> str:
    """Which of ``STATES`` he is in."""
    if bull.status == "GO":
        return "GO"
    return "hold for a reason" if bull.hold == "reason" else "checks to come"


def teams(board: Board) -> list[Team]:
    """What can be chosen: each farm where there are several, each group, and those in none."""
    farms = sorted({bull.farm or "" for bull in board.bulls} | {g.farm or "" for g in board.groups})
    found = [Team(farm) for farm in farms] if len(farms) > 1 else []
    for farm in farms:
        found += [Team(farm, line.group) for line in board.groups if (line.farm or "") == farm]
    if board.groups and any(bull.group is None for bull in board.bulls):
        found.append(Team(None, ""))
    return found


def group_choices(board: Board, lead: str) -> list[Choice[Team]]:
    """Each group to choose from, under it ``lead`` and the day of its turnout."""
    found = ((Team(line.farm or "", line.group), line.turnout) for line in board.groups)
    return [Choice(team_words(team), team, f"{lead} {full_day_words(on)}") for team, on in found]


def team_words(team: Team) -> str:
    """A team as a choice: "Sallow Fell", "Heifers, Sallow Fell", "in no group"."""
    if team.group == "":
        return "in no group"
    farm = team.farm or ""
    if team.group is None:
        return farm or FARM_LESS
    return f"{team.group}, {farm}" if farm else team.group


def bulls_in(board: Board, view: View) -> list[Assessment]:
    """The bulls of the view. Found by tag or name: the best match first, then by its sort."""
    kept = [bull for bull in board.bulls if in_team(bull.farm, bull.group, view.team)]
    if view.lifting:
        to_lift = {lift.key for lift in lifts(board)}
        kept = [bull for bull in kept if bull.key in to_lift]
    if view.state != STATES[0]:
        kept = [bull for bull in kept if state_of(bull) == view.state]
    order = _ORDERS.get(view.sort)
    if order is not None:
        kept.sort(key=order)
    if not view.find.strip():
        return kept
    scored = [(_score(view.find, bull), bull) for bull in kept]
    best = sorted((pair for pair in scored if pair[0] > 0), key=lambda pair: -pair[0])
    return [bull for _, bull in best]


def _next_day(bull: Assessment) -> int:
    days = (check.plan_by for check in bull.outstanding if check.has_last_day)
    return min(days, default=_NEVER)


_ORDERS: dict[str, Callable[[Assessment], tuple[int, str]]] = {
    "could go": lambda bull: (
        _NEVER if bull.earliest_ready is None else bull.earliest_ready,
        bull.key,
    ),
    "day to do it": lambda bull: (_next_day(bull), bull.key),
    "tag": lambda bull: (0, bull.key),
}

_SEARCH = FuzzySearch()


def _score(find: str, bull: Assessment) -> float:
    """How well a typed word fits his tag or his name; 0 where it does not. A run as typed beats
    letters far apart, which only count in a name: digits far apart are another bull's tag."""
    wanted, name = tag_key(find), tag_key(bull.name or "")
    runs = [1000.0 - each.index(wanted) for each in (bull.key, name) if wanted in each]
    if runs or not name or any(sign.isdigit() for sign in wanted):
        return max(runs, default=0.0)
    return _SEARCH.match(wanted, name)[0]
