"""What only somebody who was there can say, written down before its own day: nobody had seen it.

It clears nothing, neither on that day nor later. What it finds wrong holds from that day on all the
same: it may well be true, and the day a slip of the pen.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from readiness.entries.entry import Entry, written_ahead
from readiness.history.finding import claws_of
from readiness.history.records import Ahead
from readiness.history.state import History
from readiness.trade.codes import THIN_SOLE

Body = Mapping[str, Any]


def what_is_wrong(state: History, entry: Entry) -> Entry | None:
    """What is left of such an entry; None where nothing is. ``state``: before it."""
    state.ahead[entry.kind] = Ahead(entry.day, entry.id, entry.day - written_ahead(entry))
    body = _LEFT[entry.kind](state, entry.body)
    return None if body is None else entry._replace(body=body)


def _feet(state: History, body: Body) -> Body:
    """What holds and is open there already stays as it is: no later look has seen it."""
    rules, thin = state.rules, state.rules.limits.sole_thin
    found = [
        {**{name: said for name, said in item.items() if name != "was"}, "claw": claw}
        for item in body.get("findings", ())
        if rules.findings[item["code"]].holds(item.get("severity"), item.get("stage"))
        for claw in claws_of(item["claw"])
        if not state.feet.holds((item["foot"], claw, item["code"]))
    ]
    measured = [
        {"foot": measure["foot"], "claw": claw, "sole_mm": measure["sole_mm"]}
        for measure in body.get("measures", ())
        if measure.get("sole_mm", thin) < thin
        for claw in claws_of(measure["claw"])
        if not state.feet.holds((measure["foot"], claw, THIN_SOLE))
    ]
    return {"refused": body.get("refused", ()), "findings": found, "measures": measured}


def _block_off(state: History, body: Body) -> None:
    return None


def _mobility(state: History, body: Body) -> Body | None:
    return body if body["score"] >= state.rules.mobility[body["scale"]].lame else None


def _condition(state: History, body: Body) -> Body | None:
    low, high = state.rules.condition[body["scale"]].hold
    return None if low <= body["score"] <= high else body


def _vet_exam(state: History, body: Body) -> Body | None:
    """One that leaves more open than the last takes not its place."""
    failed = state.exam is not None and state.exam.outcome == "unsatisfactory"
    if failed or body["outcome"] == "satisfactory":
        return None
    return {name: body[name] for name in ("outcome", "again_on") if name in body}


def _vet_look(state: History, body: Body) -> Body | None:
    return None if body["outcome"] == "fit" else body


def _check(state: History, body: Body) -> Body | None:
    return None if body["result"] == "pass" else body


_LEFT: Mapping[str, Callable[[History, Body], Body | None]] = {
    "feet": _feet,
    "block-off": _block_off,
    "mobility": _mobility,
    "condition": _condition,
    "vet-exam": _vet_exam,
    "vet-look": _vet_look,
    "check": _check,
}
"""Of each of the kinds that are ``SEEN``."""
