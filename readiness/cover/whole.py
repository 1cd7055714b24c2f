"""Cover as a whole: every group whose season is not over, what mends a shortage, and the season."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from readiness.cover.after import AfterSeason, after_seasons
from readiness.cover.groups import groups_of_board
from readiness.cover.moves import Move, key_of, moves
from readiness.cover.put_off import PutOff, put_off
from readiness.cover.results import GroupCover
from readiness.cover.season import (
    Event,
    Offers,
    Season,
    StandIn,
    calvings,
    events,
    offers,
    rests,
    season,
    still_out,
)
from readiness.engine.results import Assessment, Board
from readiness.herd.board import Herd
from readiness.history.groups import Key
from readiness.trade.words import Day


@dataclass(frozen=True, slots=True)
class Cover:
    """``groups``: in the order of their turnout. ``seasons``: those with a bull at work.
    ``events``: the days to keep in mind, the first first. ``strays``: bulls that are out though no
    season of their group is under way. ``put_off``: the groups that no move mends, and a later
    turnout does. ``after``: the bulls whose season is over, and what they are due."""

    on: Day
    groups: tuple[GroupCover, ...]
    moves: tuple[Move, ...]
    seasons: tuple[Season, ...]
    events: tuple[Event, ...]
    strays: tuple[Assessment, ...]
    put_off: tuple[PutOff, ...]
    after: tuple[AfterSeason, ...]
    stand_ins: Mapping[Key, tuple[StandIn, ...]]
    """Of each group who could work there in the place of one that counts and fails."""
    not_offered: Mapping[Key, tuple[tuple[str, int], ...]]
    """Of each group why others of its farm could not, and how many."""

    def season_of(self, group: GroupCover) -> Season | None:
        """Its season, where one of its bulls is at work."""
        return next((each for each in self.seasons if each.group is group), None)

    def events_of(self, group: GroupCover) -> list[Event]:
        """The days to keep of one group."""
        return [e for e in self.events if (e.farm, e.group) == (group.farm, group.group)]

    def only(self, group: str | None) -> Cover:
        """That of the groups of this name; None: of every group."""
        if group is None:
            return self
        return Cover(
            self.on,
            tuple(each for each in self.groups if each.group == group),
            tuple(move for move in self.moves if move.group == group),
            tuple(each for each in self.seasons if each.group.group == group),
            tuple(event for event in self.events if event.group == group),
            (),
            tuple(each for each in self.put_off if each.before.group == group),
            tuple(each for each in self.after if each.group == group),
            {key: found for key, found in self.stand_ins.items() if key[1] == group},
            {key: found for key, found in self.not_offered.items() if key[1] == group},
        )


def cover_of(herd: Herd, board: Board) -> Cover:
    """The cover of this board of the herd."""
    groups = groups_of_board(herd, board)
    seasons = (season(herd, group) for group in groups)
    moved = moves(herd, groups)
    after = after_seasons(herd, board.bulls)
    offered = {key_of(group): offers(herd, group) for group in groups}
    return Cover(
        herd.on,
        groups,
        moved,
        tuple(each for each in seasons if each is not None),
        days_to_keep(herd, board, groups, after),
        strays(herd, board),
        tuple(put_off(herd, groups, moved)),
        after,
        {key_of(group): tuple(_others(group, offered[key_of(group)])) for group in groups},
        {key: found.why_not for key, found in offered.items()},
    )


def _others(group: GroupCover, offered: Offers) -> Iterator[StandIn]:
    """Who could stand in and does not count already."""
    counts = {worker.bull.key for worker in group.counts.bulls}
    return (each for each in offered.could if each.bull.key not in counts)


def strays(herd: Herd, board: Board) -> tuple[Assessment, ...]:
    """The bulls of the board that are out though no season of their group is under way."""
    out = set(still_out(herd))
    return tuple(bull for bull in board.bulls if bull.key in out)


def days_to_keep(
    herd: Herd, board: Board, groups: Iterable[GroupCover], after: Iterable[AfterSeason]
) -> tuple[Event, ...]:
    """The days of these groups' seasons, and of rest and calves after the last, that are to come or
    under way, the first first."""
    told = [
        event
        for group in groups
        for event in events(group, herd.rulebook.for_farm(group.farm).cover)
        if event.last >= herd.on
    ]
    later = (*rests(after), *calvings(herd, board.bulls))
    resting = (event for event in later if event.last >= herd.on)
    return tuple(
        sorted([*told, *resting], key=lambda event: (event.first, event.farm or "", event.group))
    )
