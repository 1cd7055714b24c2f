"""What one window's file of half-entered bulls says, line by line."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any, NamedTuple


class Draft(NamedTuple):
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
    """A draft and when it was last put (seconds, this machine's clock). ``kept``: the key under
    which it was, where the bull was given another tag since: whether he keeps that is not known."""

    moment: float
    draft: Draft
    kept: str = ""


class Journal:
    """What a file says, read from its beginning: the same steps as the window took."""

    def __init__(self) -> None:
        self.drafts: list[At] = []
        self.race: tuple[float, Lineup] | None = None

    def put(self, at: At) -> None:
        """In the place of the last draft of the same bull."""
        self.drop(at.draft.key)
        self.drafts.append(at)

    def drop(self, key: str) -> None:
        """The last draft of this bull goes; an older one of his stays."""
        for place in reversed(range(len(self.drafts))):
            if self.drafts[place].draft.key == key:
                del self.drafts[place]
                return

    def follow(self, key_since: Callable[[str, float], str]) -> None:
        """Each draft is of the bull by the key that he has now. ``key_since``: gives it for one
        that he had at a moment."""
        for place, at in enumerate(self.drafts):
            kept = at.kept or at.draft.key
            draft = at.draft._replace(key=key_since(kept, at.moment))
            self.drafts[place] = At(at.moment, draft, kept if draft.key != kept else "")

    @property
    def followed(self) -> bool:
        """Whether one was kept under another key than the bull has now."""
        return any(at.kept for at in self.drafts)

    def of(self, key: str) -> Draft | None:
        """The last draft of this bull."""
        return next((at.draft for at in reversed(self.drafts) if at.draft.key == key), None)

    def join(self, other: Journal) -> None:
        """Take in what another window left: all of it, in the order of time, nothing twice."""
        both = sorted([*self.drafts, *other.drafts], key=lambda at: at.moment)
        self.drafts = list(dict.fromkeys(both))
        if other.race and (self.race is None or self.race[0] < other.race[0]):
            self.race = other.race

    def take(self, record: dict[str, Any]) -> None:
        """One line of a file; raises KeyError, TypeError or ValueError for what is no such line."""
        if "drop" in record:
            self.drop(_text(record["drop"]))
        elif "race" in record:
            content = record["race"]
            keys, dropped = _texts(content["keys"]), _texts(content["dropped"])
            self.race = (float(record["at"]), Lineup(_text(content["day"]), keys, dropped))
        else:
            content = record["put" if "put" in record else "older"]
            on = date.fromisoformat(content["on"]).isoformat()
            draft = Draft(_text(content["key"]), _text(content["line"]), on, _texts(content["ids"]))
            at = At(float(record["at"]), draft)
            if "put" in record:
                self.put(at)
            else:
                self.drafts.append(at)

    def records(self) -> Iterator[dict[str, Any]]:
        """The fewest lines that say the same."""
        for at in self.drafts:
            draft = at.draft._replace(key=at.kept or at.draft.key)
            yield {"older": draft._asdict(), "at": at.moment}
        if self.race:
            yield {"race": self.race[1]._asdict(), "at": self.race[0]}

    def __bool__(self) -> bool:
        return bool(self.drafts or self.race)


def as_line(record: dict[str, Any]) -> bytes:
    """A record as a line. ASCII: whatever was typed, half a character too, comes back."""
    return json.dumps(record, separators=(",", ":")).encode("ascii") + b"\n"


def parsed(data: bytes) -> Journal:
    """What a file leaves. A line that says nothing sensible, cut short or damaged, is passed."""
    journal = Journal()
    for line in data.split(b"\n"):
        try:
            journal.take(json.loads(line))
        except (ValueError, KeyError, TypeError, OverflowError, RecursionError):
            continue
    return journal


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("no text")
    return value


def _texts(value: object) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise TypeError("no list")
    return tuple(map(_text, value))
