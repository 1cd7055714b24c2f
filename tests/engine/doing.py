"""A bull's outstanding checks done one by one, each passing, on its first possible day.

``done_in_time`` plays the days from the assessment to its ``earliest_ready`` and says how he stands
then. It reads the assessment's own days only, so that a forecast that cannot be kept shows.
"""

from __future__ import annotations

from typing import Any

from readiness.engine.assess import assess
from readiness.engine.out import went_out_without
from readiness.engine.results import Assessment, Check
from readiness.history import history
from readiness.rules.model import Rules
from tests.build import day, entries_of, iso, lift, said

Told = list[dict[str, Any]]
ROUNDS = 8
"""How often on one day what is done may ask for something more on that day."""


def standing(told: Told, rules: Rules, on: int, turnout: int | None) -> Assessment | None:
    """The one bull of ``told`` on ``on`` were turnout on ``turnout``; None where he has left."""
    entries = [entry for entry in entries_of(list(told)) if entry.bull]
    state = history(entries, rules, on, entries[0].bull)
    if state.gone:
        return None
    if state.out:
        state.owed = went_out_without(entries, rules, state.out.day, on)
    return assess(state, on, turnout=turnout, group="G" if turnout else None, role="worker")


def done_in_time(told: Told, rules: Rules, on: int, ready: int) -> Assessment:
    """How he stands on ``ready``, turned out then, if from ``on`` every check passed at once."""
    told = [entry for entry in told if day(entry["on"]) <= on]
    for now in range(on, ready + 1):
        for _ in range(ROUNDS):
            bull = standing(told, rules, now, ready)
            assert bull is not None
            todo = [check for check in bull.outstanding if check.not_before <= now]
            entries = [entry for check in todo for entry in passing(check, str(iso(now)))]
            if not entries:
                break
            told += entries
    bull = standing(told, rules, ready, ready)
    assert bull is not None
    return bull


def passing(check: Check, on: str) -> Told:
    """The entries by which a check passes; none for what only a day brings."""
    place = {"foot": check.foot, "claw": check.claw, "code": check.code}
    match check.check:
        case "feet" | "lift":
            return [lift(on, *check.feet)]
        case "look" | "clear":
            return [lift(on, str(check.foot), healed=[place])]
        case "block-off":
            return [said("block-off", on, foot=check.foot, claw=check.claw)]
        case "block-look":
            return [lift(on, str(check.foot))]
        case "wrap-off":
            return [lift(on, str(check.foot), work=[{"foot": check.foot, "act": "unwrap"}])]
        case "walk-again" | "mobility":
            return [said("mobility", on, scale="gb0-3", score=0)]
        case "condition" | "condition-again":
            return [said("condition", on, scale="five", score=3.25)]
        case "vet-exam":
            return [said("vet-exam", on, outcome="satisfactory", stands=True)]
        case "vet-look" | "vet-again":
            abouts = ("foot", "body", "illness", "other")
            return [said("vet-look", on, about=about, outcome="fit") for about in abouts]
        case "quarantine" | "age":
            return []
    return [said("check", on, check=check.check, result="pass")]
