"""A joint is blamed, the foot is at fault: what the history shows when a foot was lifted after all.

The program asks for the foot before a shoulder or stifle is believed. It diagnoses nothing: it says
what was suspected, and what was then found in the foot of that limb.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from readiness.entries.entry import Entry
from readiness.herd.card import Card
from readiness.rules.model import Rules
from readiness.trade.codes import CODES
from readiness.trade.feet import FEET, feet_words, spot_words
from readiness.trade.words import day_words

NOT_THE_FOOT = ("shoulder", "stifle", "back", "other")
SHARE = "lame.from_foot"


def asked_first(
    contents: Iterable[Mapping[str, Any]], rules: Rules, lifted: Sequence[str]
) -> str | None:
    """What to do before what is blamed is believed, for the incident among ``contents``; None
    where no foot is asked for, or all are lifted."""
    incident = next((c for c in contents if c["kind"] == "incident"), None)
    if incident is None or not (incident.get("lame") or incident.get("limb")):
        return None
    feet = (incident["limb"],) if "limb" in incident else FEET
    missing = [foot for foot in feet if foot not in lifted]
    if not missing:
        return None
    blamed = incident.get("suspect")
    what = "a joint" if blamed in (None, "foot", "other") else f"the {blamed}"
    share = rules.values[SHARE]
    most = f"about {share.value:g} % of lameness sits in the foot ({share.source})"
    return f"Lift {feet_words(missing)} before {what} is believed: {most}."


def blamed_but_foot(card: Card, on: int) -> list[str]:
    """For each incident in which something else than the foot was suspected: what a lift of that
    limb (any limb, where none was named) found from then on, newest first."""
    said = []
    entries = [entry for entry in reversed(card.entries) if entry.day <= on]
    for at, entry in enumerate(entries):
        if entry.kind != "incident" or entry.body.get("suspect") not in NOT_THE_FOOT:
            continue
        found = _found_after(entries[at + 1 :], entry.body.get("limb"), card.rules)
        if found is not None:
            said.append(_sentence(entry, *found, on))
    return said[::-1]


def _found_after(
    later: Iterable[Entry], limb: str | None, rules: Rules
) -> tuple[Entry, list[str]] | None:
    """The first lift of that limb that found something that can hold a bull, and what; it ends at
    the next incident, which is a story of its own."""
    for entry in later:
        if entry.kind == "incident":
            return None
        if entry.kind != "feet":
            continue
        found = [
            f"{CODES[item['code']].name} {spot_words(item['foot'], item['claw'])}"
            for item in entry.body.get("findings", ())
            if item["foot"] == (limb or item["foot"])
            and not rules.findings[item["code"]].never_holds
        ]
        if found:
            return entry, found
    return None


def _sentence(incident: Entry, lift: Entry, found: list[str], on: int) -> str:
    blamed = incident.body["suspect"]
    where = f" {incident.body['limb']}" if "limb" in incident.body else ""
    what = "another cause" if blamed == "other" else f"the {blamed}"
    then = day_words(incident.day, on)
    seen = day_words(lift.day, on)
    return f"{what}{where} was suspected on {then}; on {seen} the foot showed {', '.join(found)}"
