"""Which corners of the assessment a run of books reaches, counted."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

from .brute import assess, in_order, key, stories
from .state import Entry
from .values import rule_values


def corners_reached(
    entries: list[Entry], on: date, rules: dict[str, Any] | None = None
) -> Counter[str]:
    """Of every corner the number of bulls on the board that reach it on ``on``.

    A corner is what a bull's story met, or a check, reason, outlook or hold that he shows. Bulls
    not on the board and strikes are counted besides.
    """
    reached: Counter[str] = Counter()
    today = on.toordinal()
    for story, group, past in stories(entries, today, rule_values(rules)):
        bull = assess(story, group, today, past)
        shown = {f"check {check['check']}" for check in bull["outstanding"]}
        shown |= {f"reason {kind}" for kind, *_ in bull["reasons"]}
        shown |= {f"outlook {bull['outlook']}", f"hold {bull['hold']}"}
        no_day = any(
            check["not_after"] is not None and check["not_before"] > check["not_after"]
            for check in bull["outstanding"]
        )
        shown |= {"no day fits"} if no_day else set()
        shown |= {"one thing is wanting"} if len(bull["outstanding"]) == 1 else set()
        reached.update(story.corners | shown | {"on the board"})
    booked = {key(entry["bull"]) for entry in in_order(entries) if entry["kind"] == "bull"}
    reached["not on the board"] += len(booked) - reached["on the board"]
    reached["struck"] += sum(entry["kind"] == "strike" for entry in entries)
    return reached
