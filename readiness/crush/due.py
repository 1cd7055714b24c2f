"""What there is to do on a bull who stands in the crush today, and what was done last."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from readiness.engine.results import Check
from readiness.herd.card import Card
from readiness.shorthand import words
from readiness.trade.feet import spot_words
from readiness.trade.words import column_day as day
from readiness.trade.words import day_words, sentence


class Task(NamedTuple):
    """One thing that can be done today. ``late``: it is overdue."""

    words: str
    late: bool


def tasks(card: Card, on: int) -> list[Task]:
    """What can be done today, the most pressing first; the vet's own last."""
    open_today = [check for check in card.assessment.outstanding if check.not_before <= on]
    open_today.sort(key=lambda c: (c.who == "vet", not c.overdue, c.last_day))
    return [Task(_words(check, on), check.overdue) for check in open_today]


def _words(check: Check, on: int) -> str:
    ends = [end for end in (check.due, check.not_after) if end is not None]
    if check.overdue and check.due is not None:
        return f"{check.text} (was due {day(check.due, on)})"
    if not ends or min(ends) < on:
        return check.text
    return f"{check.text} (by {day(min(ends), on)})"


def blocks_to_stay(card: Card, on: int) -> list[str]:
    """The blocks that are on and not due to come off yet."""
    found = []
    for check in card.assessment.outstanding:
        if check.check == "block-off" and check.not_before > on:
            place = spot_words(check.foot or "", check.claw)
            found.append(f"block on {place} stays until {day(check.not_before, on)}")
    return found


def wraps_on(card: Card, on: int) -> list[str]:
    """The wraps that are on, since when and until when at the longest."""
    due = {c.foot: c.due for c in card.assessment.outstanding if c.check == "wrap-off"}
    found = []
    for wrap in card.state.wraps.values():
        last = due.get(wrap.foot)
        off = f", off by {day(last, on)}" if last is not None else ""
        found.append(f"wrap on {wrap.foot} since {day(wrap.day, on)}{off}: no walk counts on it")
    return found


def last_visit(card: Card, on: int) -> str:
    """When his feet were last lifted and what was seen; empty where they never were."""
    lifts = (each for each in card.entries if each.kind == "feet" and each.body["lifted"])
    last = next((lift for lift in lifts if lift.day <= on), None)
    if last is None:
        return ""
    when = day_words(date.fromordinal(last.day), date.fromordinal(on))
    by = f" ({last.body['by']})" if last.body.get("by") else ""
    return sentence(f"last lifted {when}{by}: {words(last.body)}")
