"""Farms and groups that a roster names and the book does not have."""

from __future__ import annotations

import re
import shlex
from collections.abc import Collection, Iterable, Iterator
from datetime import date
from typing import NamedTuple

from readiness.book.lookup import near_name
from readiness.roster.problems import bulls_words
from readiness.trade.words import list_words

_PLAIN_NAME = re.compile(r"[\w ,.'&()/-]+")

Groups = Collection[tuple[str | None, str]]


class AtFarm(NamedTuple):
    """A bull whom the roster puts on a farm. ``moved``: the book has him elsewhere."""

    farm: str
    tag: str
    name: str
    moved: bool


def strange_farms(bulls: Iterable[AtFarm], known: Collection[str]) -> Iterator[str]:
    """What to say of farms that are not ``known``: of those to which booked bulls are moved, and
    of those whose name is nearly another's."""
    strange: dict[str, list[AtFarm]] = {}
    for bull in bulls:
        if bull.farm not in known:
            strange.setdefault(bull.farm, []).append(bull)
    for farm, there in strange.items():
        near = near_name(farm, known)
        moved = [(bull.tag, bull.name) for bull in there if bull.moved]
        new = [(bull.tag, bull.name) for bull in there if not bull.moved]
        parts = [f"moved to it, and so in no group: {bulls_words(moved)}"] if moved else []
        parts += [f"booked there: {bulls_words(new)}"] if new and near else []
        if parts:
            nearest = f"; the nearest that it has is {near}" if near else ""
            yield f"the book has no farm {farm}{nearest}; {'; '.join(parts)}"


def no_group(group: str, farm: str | None, groups: Groups, on: date | None) -> str:
    """That there is no such group on the farm, and how to write it. ``groups``: (farm, name);
    ``on``: the day from which it has to be there, None for today."""
    there = sorted(name for of, name in groups if of == farm)
    has = f" (its groups are {list_words(there)})" if there else ""
    others = sorted(of for of, name in groups if name == group and of and of != farm)
    other = f"; there is one at {list_words(others)}: give their farm if they are there"
    at = f"at {farm}" if farm else "on the farm without a name"
    options = f" --farm {_typed(farm)}" if farm else ""
    options += " --new" if group in {name for of, name in groups if of != farm} else ""
    options += f" --on {on.isoformat()}" if on else ""
    return (
        f"there is no group {group} {at}{has}{other if others else ''}; write it first: "
        f"readiness group {_typed(group)} --turnout DATE{options}"
    )


def _typed(name: str) -> str:
    """A name as one types it in a command; what a shell would take for its own is kept from it."""
    return f'"{name}"' if _PLAIN_NAME.fullmatch(name) else shlex.quote(name)
