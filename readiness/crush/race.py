"""The race: the bulls expected today, in the order they come. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace

from readiness.engine.results import Assessment, Board, Check
from readiness.herd.done import Done, asked_today, feet_asked, feet_left


@dataclass(frozen=True, slots=True)
class Race:
    """``keys``: the bulls still to come, the one in the crush first. ``out``: those taken out of
    it by hand, who are not expected again today."""

    keys: tuple[str, ...] = ()
    out: tuple[str, ...] = ()

    @property
    def first(self) -> str | None:
        return self.keys[0] if self.keys else None

    def pick(self, key: str) -> Race:
        """He stands in the crush now, wherever he was in the race."""
        rest = tuple(other for other in self.keys if other != key)
        return Race((key, *rest), tuple(other for other in self.out if other != key))

    def join(self, keys: Iterable[str]) -> Race:
        """These come at the end, those left out who are in it already."""
        new = tuple(key for key in dict.fromkeys(keys) if key not in self.keys)
        return Race((*self.keys, *new), tuple(key for key in self.out if key not in new))

    def first_come(self, keys: Iterable[str], now: str | None) -> Race:
        """These come before the others, those first who are in it already; but after the one who
        is in the crush ``now``."""
        wanted = dict.fromkeys(keys)
        race = self.join(wanted)
        return replace(
            race, keys=tuple(sorted(race.keys, key=lambda key: (key != now, key not in wanted)))
        )

    def skip(self) -> Race:
        """The first lets the others go before him."""
        return replace(self, keys=(*self.keys[1:], *self.keys[:1]))

    def back(self) -> Race:
        """The last one comes to the front: what undoes a skip."""
        return replace(self, keys=(*self.keys[-1:], *self.keys[:-1]))

    def drop(self, key: str) -> Race:
        """He does not come today."""
        return Race(tuple(other for other in self.keys if other != key), (*self.out, key))

    def done(self, key: str) -> Race:
        """He has been through."""
        return replace(self, keys=tuple(other for other in self.keys if other != key))

    def without(self, gone: Collection[str]) -> Race:
        """Without the bulls that are not on the board any more."""
        return Race(
            tuple(key for key in self.keys if key not in gone),
            tuple(key for key in self.out if key not in gone),
        )


def expected(bulls: Iterable[Assessment], on: int, done: Mapping[str, Done]) -> list[str]:
    """The bulls on whom something may be done today that is due within the week: the most pressing
    first, those of whom nothing says by when last; of those who press alike the ones that are out
    at work last, then as they stand on the board.

    Of those who have been through (``done``) only the ones who are asked for a foot that was not in
    hand: it is never left out because he was walked, or another foot lifted.
    """
    found = []
    for bull in bulls:
        due = [(not check.has_last_day, check.last_day) for check in waits_for(bull, on, done)]
        if due:
            found.append((min(due), bull.outlook == "working", bull.key))
    return [key for *_, key in sorted(found, key=lambda row: row[:2])]


def waits_for(bull: Assessment, on: int, done: Mapping[str, Done]) -> list[Check]:
    """The checks for which he is expected today."""
    asked = asked_today(bull, on)
    if bull.key not in done or not done[bull.key].in_hand:
        return asked
    left = feet_left(bull, on, done[bull.key])
    return [check for check in asked if any(foot in left for foot in feet_asked(check))]


def farms_due(board: Board, done: Mapping[str, Done]) -> list[str]:
    """The farms ("" the one without a name) with bulls expected today."""
    due = set(expected(board.bulls, board.on, done))
    return sorted({bull.farm or "" for bull in board.bulls if bull.key in due})
