"""Who had another tag before: told by the strikes that took back what stood under it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from readiness.entries.entry import ANOTHER_TAG, Entry
from readiness.entries.ids import again_id
from readiness.trade.tags import match_tag, tag_key


class Renamed(NamedTuple):
    """From this moment on (seconds) the bull of the key ``was`` has the key ``now``."""

    since: float
    was: str
    now: str


def renamed(everything: Sequence[Entry]) -> list[Renamed]:
    """Who was given another tag, in the order of time: what undo took back was never done."""
    strikes = [entry for entry in everything if key_given(entry)]
    said = {entry.id: entry for entry in everything} if strikes else {}
    booked = ((strike, said.get(strike.body["entry"])) for strike in strikes)
    found = {
        Renamed(
            datetime.fromisoformat(strike.recorded).timestamp(), booking.bull, key_given(strike)
        )
        for strike, booking in booked
        if booking is not None and booking.kind == "bull" and again_id(strike.id) not in said
    }
    return sorted(found)


def key_given(entry: Entry) -> str:
    """The key that a bull has in place of the one under which this strike takes back what stood of
    him; "" for any other entry."""
    why = (entry.body.get("why") or "") if entry.kind == "strike" else ""
    return tag_key(why.removeprefix(ANOTHER_TAG)) if why.startswith(ANOTHER_TAG) else ""


def keys_given(entries: Sequence[Entry]) -> set[str]:
    """The keys that these entries give to bulls who had others."""
    return set(map(key_given, entries)) - {""}


def key_since(steps: Sequence[Renamed], key: str, moment: float) -> str:
    """The key now of the bull who had this one at a moment (seconds)."""
    for step in steps:
        if step.was == key and step.since > moment:
            key = step.now
    return key


def formerly(everything: Sequence[Entry], tag: str) -> dict[str, str]:
    """Former key → key now, of each bull who had this tag, or one that ends in these digits, and
    was given another."""
    steps = renamed(everything)
    found = match_tag(tag, {step.was for step in steps})
    now = {was: key_since(steps, was, 0.0) for was in found}
    return {was: key for was, key in now.items() if key != was}
