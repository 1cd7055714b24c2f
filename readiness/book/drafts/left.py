"""What one window's file of half-entered bulls says, line by line."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from typing import Any, NamedTuple


class Half(NamedTuple):
    """One bull half entered: his look-up key, the line of shorthand so far, the day (ISO), and the
    ids that its entries will get, so that it is saved once however often it is tried."""

    key: str
    line: str
    on: str
    ids: tuple[str, ...] = ()


class Lineup(NamedTuple):
    """The bulls of a day (ISO) in the order they come, and those taken out of it, by key."""

    day: str
    keys: tuple[str, ...]
    dropped: tuple[str, ...]


class At(NamedTuple):
    """A half and when it was last put (seconds, this machine's clock)."""

    moment: float
    half: Half


class Left:
    """What a file says, read from its beginning: the same steps as the window took."""

    def __init__(self) -> None:
        self.halves: list[At] = []
        self.race: tuple[float, Lineup] | None = None

    def put(self, at: At) -> None:
        """In the place of the last half of the same bull."""
        self.drop(at.half.key)
        self.halves.append(at)

    def drop(self, key: str) -> None:
        """The last half of this bull goes; an older one of his stays."""
        for place in reversed(range(len(self.halves))):
            if self.halves[place].half.key == key:
                del self.halves[place]
                return

    def of(self, key: str) -> Half | None:
        """The last half of this bull."""
        return next((at.half for at in reversed(self.halves) if at.half.key == key), None)

    def join(self, other: Left) -> None:
        """Take in what another window left: all of it, in the order of time, no half twice."""
        last: dict[Half, At] = {}
        for at in sorted([*self.halves, *other.halves], key=lambda at: at.moment):
            last.pop(at.half, None)
            last[at.half] = at
        self.halves = list(last.values())
        if other.race and (self.race is None or self.race[0] < other.race[0]):
            self.race = other.race

    def take(self, record: dict[str, Any]) -> None:
        """One line of a file; raises KeyError, TypeError or ValueError for what is no such line."""
        if "drop" in record:
            self.drop(_text(record["drop"]))
        elif "race" in record:
            said = record["race"]
            race = Lineup(_text(said["day"]), _texts(said["keys"]), _texts(said["dropped"]))
            self.race = (float(record["at"]), race)
        else:
            said = record["put" if "put" in record else "older"]
            on = date.fromisoformat(said["on"]).isoformat()
            half = Half(_text(said["key"]), _text(said["line"]), on, _texts(said["ids"]))
            at = At(float(record["at"]), half)
            if "put" in record:
                self.put(at)
            else:
                self.halves.append(at)

    def records(self) -> Iterator[dict[str, Any]]:
        """The fewest lines that say the same."""
        for at in self.halves:
            yield {"older": at.half._asdict(), "at": at.moment}
        if self.race:
            yield {"race": self.race[1]._asdict(), "at": self.race[0]}

    def __bool__(self) -> bool:
        return bool(self.halves or self.race)


def as_line(record: dict[str, Any]) -> bytes:
    """A record as a line. ASCII: whatever was typed, half a character too, comes back."""
    return json.dumps(record, separators=(",", ":")).encode("ascii") + b"\n"


def parsed(data: bytes) -> Left:
    """What a file leaves. A line that says nothing sensible, cut short or damaged, is passed."""
    left = Left()
    for line in data.split(b"\n"):
        try:
            left.take(json.loads(line))
        except (ValueError, KeyError, TypeError, OverflowError, RecursionError):
            continue
    return left


def _text(said: object) -> str:
    if not isinstance(said, str):
        raise TypeError("no text")
    return said


def _texts(said: object) -> tuple[str, ...]:
    if not isinstance(said, list):
        raise TypeError("no list")
    return tuple(map(_text, said))
