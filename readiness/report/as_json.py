"""Results as JSON values, whose keys DEVELOPERS.md promises: the fields of a result are the keys,
days are ISO dates."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import is_dataclass
from datetime import date
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from readiness.cover.season import Event
    from readiness.cover.what_if import WhatIf
    from readiness.desk.writing import Outcome
    from readiness.engine.results import Board, GroupLine
    from readiness.entries.entry import Entry
    from readiness.herd.card import Card
    from readiness.herd.changes import Change
    from readiness.herd.day_sheet import Sheet
    from readiness.herd.diary import Diary, Due
    from readiness.herd.stats.results import Figures, Place, StatsRow
    from readiness.history import History
    from readiness.history.records import BodyFinding, Mark, Part
    from readiness.rules.model import Value
    from readiness.visits.plan import Visit, VisitPlan

Json = dict[str, Any]

FORMAT = 1
"""Of every result that is an object: counted up where a key goes away or changes its meaning."""
_CALLED = {"frm": ("from", "frm"), "lags": ("after", "after")}
"""Field → its key and what stands there, where that is not the field itself."""
_INTERNAL = frozenset(("key",))
_DAYS = ("Day", "Day | None")
STANDING = ("turnout", "status", "hold", "outlook", "earliest_ready", "slack_days")
"""How a bull stands towards his turnout, to be compared."""


@cache
def day(ordinal: int | None) -> str | None:
    """An ordinal as an ISO date; None, and the "never" of a history (0), as null."""
    return date.fromordinal(ordinal).isoformat() if ordinal else None


def as_json(result: Any, *names: str) -> Json:
    """A result's fields in their order, or those of ``names``: those declared as ``Day`` as ISO
    dates, tuples as lists, results in them likewise."""
    said = {}
    for name, key, read, is_day in told_of(result.__class__):
        if not names or name in names:
            value = getattr(result, read)
            if is_day:
                value = day(value)
            elif isinstance(value, tuple | list):
                value = [as_json(each) if is_result(each.__class__) else each for each in value]
            said[key] = value
    return said


class ToldField(NamedTuple):
    """A field that is told of: its key, what is read for it, and whether that is a day."""

    name: str
    key: str
    read: str
    day: bool


@cache
def is_result(kind: type) -> bool:
    """Whether values of this class are results: records with named fields, and no plain pairs."""
    return is_dataclass(kind) or hasattr(kind, "_fields")


@cache
def told_of(kind: type) -> tuple[ToldField, ...]:
    """All that is told of a result of this class."""
    declared = kind.__annotations__.items()  # a named tuple's are wrapped
    hints = {name: getattr(hint, "__forward_arg__", hint) for name, hint in declared}
    return tuple(
        ToldField(name, *_CALLED.get(name, (name, name)), hint in _DAYS)
        for name, hint in hints.items()
        if name not in _INTERNAL
    )


def as_line(value: Any) -> str:
    """A JSON value in one line of ASCII."""
    return json.dumps(value, allow_nan=False).replace("\x7f", "\\u007f")


def board_json(board: Board) -> Json:
    """``board --json``."""
    rules = {"name": board.rules_name, "digest": board.rules_digest}
    return {"on": day(board.on), "rules": rules, **as_json(board, "groups", "bulls")}


def changes_json(changed: tuple[Change, ...]) -> list[Json]:
    """The bulls that change, as they were and as they would be, and why."""
    return [
        {
            "bull": change.after.bull,
            "before": as_json(change.before, *STANDING),
            "after": as_json(change.after, *STANDING),
            "missed": list(change.missed),
            **as_json(change, "open_end", "why"),
        }
        for change in changed
    ]


def sum_json(found: WhatIf) -> Json:
    """What another turnout comes to in all."""
    return {
        "ready": [bull.bull for bull in found.ready],
        "lost": [bull.bull for bull in found.lost],
        **as_json(found, "jobs_added", "jobs_gone", "calving"),
    }


def card_json(card: Card, on: int) -> Json:
    """``bull TAG --json``: the board's bull, and what is known of him; of a GO what it rests on."""
    from readiness.report.sentences import resting

    return {
        **as_json(card.assessment),
        "left": card.state.gone,
        "rests_on": [{"words": words, "rules": list(rules)} for words, rules in resting(card, on)],
        "history": [entry_json(entry) for entry in card.entries],
        "open_findings": open_findings(card.state),
        "blocks": blocks(card.state),
        "wraps": _wraps(card.state),
        "body": _body(card.state),
        "scores": _scores(card.state),
        "tests": _tests(card.state),
    }


def entry_json(entry: Entry) -> Json:
    """One entry as an export writes it."""
    who = {"who": entry.who} if entry.who else {}
    return {**entry.body, **_named(entry, "id", "recorded", "position", "batch", "device"), **who}


def open_findings(state: History) -> list[Json]:
    """The open findings of a bull."""
    from readiness.history.finding import plausible_day

    said = ("foot", "claw", "code", "severity", "stage", "zone", "size_mm", "holds")
    return [
        {
            **_named(finding, *said),
            **{name: day(getattr(finding, name)) for name in ("first", "seen", "looked")},
            "plausible": day(plausible_day(finding, state.rules)) if finding.holds else None,
            "entries": list(finding.entries),
        }
        for finding in state.feet.open.values()
    ]


def blocks(state: History) -> list[Json]:
    """The blocks that are on, and when each may and has to come off."""
    limits = state.rules.limits
    return [
        {
            **_named(block, "foot", "claw"),
            "on": day(block.day),
            "off_from": day(block.day + limits.block_least),
            "off_by": day(block.day + limits.block_most),
            "entry": block.entry,
        }
        for block in state.blocks.values()
    ]


def _wraps(state: History) -> list[Json]:
    most = state.rules.limits.wrap_most
    return [
        {"foot": w.foot, "on": day(w.day), "off_by": day(w.day + most), "entry": w.entry}
        for w in state.wraps.values()
    ]


def _body(state: History) -> list[Json]:
    """What is wrong with his body, and what is to be watched."""
    said: dict[str, Mapping[Part, BodyFinding | Mark]]
    said = {"wrong": state.body, "watch": state.watched}
    return [
        {"part": part, "limb": limb, "state": how, "since": day(found.day), "entry": found.entry}
        for how, parts in said.items()
        for (part, limb), found in parts.items()
    ]


def _tests(state: History) -> list[Json]:
    """The last of each test and own check, and until when a pass holds."""
    from readiness.engine.own import holds_until, last_of

    own = {check.name.casefold(): check for check in state.rules.checks}
    last = ((name, last_of(told)) for name, told in sorted(state.checks.items()))
    return [
        {
            "check": own[name].name if name in own else name,
            "on": day(tested.day),
            "result": "pass" if tested.passed else "fail",
            "holds_until": day(holds_until(tested, own.get(name))) if tested.passed else None,
            "entry": tested.entry,
        }
        for name, tested in last
    ]


def _scores(state: History) -> Json:
    weight = None if state.weight is None else {"on": day(state.weight[0]), "kg": state.weight[1]}
    walks = ("scale", "score", "limb", "lame", "counts", "entry")
    conditions = ("scale", "score", "outside", "entry")
    return {
        "mobility": [{"on": day(walk.day), **_named(walk, *walks)} for walk in state.walks],
        "condition": [
            {"on": day(score.day), **_named(score, *conditions)} for score in state.conditions
        ],
        "weight": weight,
    }


def _named(record: Any, *names: str) -> Json:
    return {name: getattr(record, name) for name in names}


def diary_json(diary: Diary, groups: Iterable[GroupLine]) -> Json:
    """``diary --json``; ``turnouts``: the groups by their day."""
    return {
        "on": day(diary.on),
        "overdue": [_due(due) for due in diary.overdue],
        "days": [{"on": day(on), "due": [_due(due) for due in dues]} for on, dues in diary.days],
        "turnouts": [
            {"on": day(line.turnout), **as_json(line, "farm", "group")} for line in groups
        ],
    }


def event_json(event: Event) -> Json:
    """A day to keep of a group's season, or several; ``every``: only each so many of them."""
    days = {"first": day(event.first), "last": day(event.last), "every": event.every}
    return {"farm": event.farm, "group": event.group or None, **days, "text": event.text}


def _due(due: Due) -> Json:
    return {**as_json(due, "bull", "farm", "group"), **as_json(due.check)}


def rules_json(values: Iterable[Value]) -> list[Json]:
    """``rules --json``."""
    return [{**value._asdict(), "checked": value.checked or None} for value in values]


def outcome_json(outcome: Outcome) -> Json:
    """``log --json``, ``import --json`` and the other commands that write."""
    return as_json(outcome, "written", "skipped", "warnings")


def sheets_json(sheets: Iterable[Sheet], on: int, visits: Iterable[Visit]) -> Json:
    """``sheet --json``: who was handled, how he stands after it, the work; and what comes next."""
    return {
        "on": day(on),
        "sheets": [
            {
                "farm": sheet.farm or None,
                "by": list(sheet.by),
                "bulls": [
                    {
                        "bull": bull.tag,
                        "name": bull.name or None,
                        "entries": [entry_json(entry) for entry in bull.entries],
                        "stands": bull.assessment
                        and as_json(bull.assessment, *STANDING, "outstanding"),
                    }
                    for bull in sheet.bulls
                ],
                "work": [as_json(work) for work in sheet.work],
            }
            for sheet in sheets
        ],
        "visits": [visit_json(visit) for visit in visits],
    }


def stats_json(figures: Figures) -> Json:
    """``stats --json``: shares from 0 to 1.

    ``few``: the rule; a row says whether it rests on fewer feet lifted. ``cells``: the places on
    each foot where anything was found, of the lifts of that foot.
    """
    return {
        **as_json(figures, "on", "since", "farm"),
        "lifted": as_json(figures, "feet", "bulls"),
        "few": figures.few,
        "rows": [share_json(row) for row in figures.rows],
        "cells": [share_json(cell) for cell in figures.cells],
    }


def share_json(share: StatsRow | Place) -> Json:
    """One row (``unit``: what ``n`` and ``of`` count, feet or claws), or one place."""
    said: Json = {}
    for name, value in as_json(share).items():
        said |= as_json(value) if name == "part" else {name: value}
    return said


def visits_json(plan: VisitPlan) -> Json:
    """``visits --json``. ``bound``: there are no fewer visits than that."""
    return {
        "on": day(plan.board.on),
        "from": day(plan.asked.first),
        "to": day(plan.asked.last),
        **as_json(plan, "exact", "bound", "least_unplaced"),
        "visits": [visit_json(visit) for visit in plan.visits],
        "unplaced": [
            {
                **as_json(each.bull, "bull", "farm"),
                "check": each.check.id,
                "why": each.why,
                "rule": each.rule or None,
            }
            for each in plan.unplaced
        ],
    }


def visit_json(visit: Visit) -> Json:
    """One visit, with its checks in the order to take the bulls."""
    names = ("id", "check", "foot", "claw", "code", "feet", "not_before", "not_after", "due")
    return {
        "on": day(visit.on),
        "farm": visit.farm or None,
        "minutes": visit.minutes,
        "promised": visit.promised,
        "bring": visit.bring._asdict(),
        "pen": [{**as_json(stop.bull, "bull", "temper"), "pen": stop.pen} for stop in visit.stops],
        "checks": [
            {"bull": stop.bull.bull, **as_json(check, *names), "late": stop.late.get(check.id, 0)}
            for stop in visit.stops
            for check in stop.checks
        ],
    }
