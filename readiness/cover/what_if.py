"""What another turnout would do: the bulls that change, and what it comes to in all. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from readiness.cover.results import GroupCover
from readiness.engine.results import Assessment, Board
from readiness.herd.changes import Change, changes, in_both
from readiness.trade.words import Day

Seen = tuple[Board, Sequence[GroupCover]]
"""A board, and what the bulls of its groups carry."""


@dataclass(frozen=True, slots=True)
class Calving:
    """The first day on which a group's calves are due, as it is and as it would be."""

    farm: str | None
    group: str
    before: Day
    after: Day


@dataclass(frozen=True, slots=True)
class WhatIf:
    """``ready``: the bulls that could be ready in time then and could not as it is; ``lost``: the
    other way round; ``jobs_added``, ``jobs_gone``: checks of all bulls that are asked for as well,
    or no more."""

    changes: tuple[Change, ...]
    ready: tuple[Assessment, ...]
    lost: tuple[Assessment, ...]
    jobs_added: int
    jobs_gone: int
    calving: tuple[Calving, ...]

    @property
    def nothing(self) -> bool:
        """Whether it comes to nothing in all."""
        moved = any(each.before != each.after for each in self.calving)
        return not (self.ready or self.lost or self.jobs_added or self.jobs_gone or moved)


def what_if(as_is: Seen, then: Seen) -> WhatIf:
    """The same bulls as they are, and as they would be."""
    bulls = list(in_both(as_is[0], then[0]))
    jobs = [tuple({c.id for c in bull.outstanding} for bull in pair) for pair in bulls]
    was = {(each.farm, each.group): each.first_calf for each in as_is[1]}
    return WhatIf(
        changes=changes(as_is[0], then[0]),
        ready=tuple(bull for old, bull in bulls if bull.in_time and not old.in_time),
        lost=tuple(bull for old, bull in bulls if old.in_time and not bull.in_time),
        jobs_added=sum(len(now - before) for before, now in jobs),
        jobs_gone=sum(len(before - now) for before, now in jobs),
        calving=tuple(
            Calving(each.farm, each.group, was[each.farm, each.group], each.first_calf)
            for each in then[1]
            if (each.farm, each.group) in was
        ),
    )
