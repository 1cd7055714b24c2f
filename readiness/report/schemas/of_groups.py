"""Results that tell of groups, of figures and of rules: their JSON Schemas."""

from __future__ import annotations

from readiness.engine.results import Assessment
from readiness.herd.stats.results import Figures, Part
from readiness.report.schemas.of_bulls import events
from readiness.report.schemas.shapes import (
    CLAW,
    DAY,
    FLAG,
    FOOT,
    NAMED,
    NUMBER,
    TAG,
    TEXT,
    WHOLE,
    Schema,
    many,
    may,
    of,
    record,
    told,
    with_keys,
    words,
)
from readiness.rules.model import STANDINGS
from readiness.trade.females import FEMALES

_STATUS = told(Assessment, "status", "hold", "earliest_ready")["properties"]


# ---- bulls and females ---------------------------------------------------------------------------


def _group() -> dict[str, Schema]:
    chance = of(may({**NUMBER, "minimum": 0, "maximum": 1}), "that the team lasts the season")
    return {
        "farm": may(TEXT),
        "group": TEXT,
        "turnout": DAY,
        "class": words(*FEMALES),
        "females": may(WHOLE),
        "workers": WHOLE,
        "capacity_go": of(WHOLE, "females that those who are GO today carry"),
        "capacity_forecast": of(WHOLE, "the same, of those who will be by turnout"),
        "short": may(WHOLE),
        "covered_from": may(DAY),
        "chance": chance,
        "spare_for_90": may(WHOLE),
        "spare_for_95": may(WHOLE),
        "short_if_one_fails": may(WHOLE),
        "first_calf": DAY,
        "last_calf": DAY,
        "last_day": DAY,
    }


def cover() -> Schema:
    move = {
        "farm": may(TEXT),
        "bull": TAG,
        "group": TEXT,
        "from": may(TEXT),
        "role_before": may(TEXT),
        "short_before": WHOLE,
        "short_after": WHOLE,
        "chance_before": NUMBER,
        "chance_after": NUMBER,
        "ask_first": many(TEXT),
    }
    return record(
        {
            "on": DAY,
            "groups": many(record(_group())),
            "allocation": of(many(record(move)), "the moves that mend a shortage"),
            "seasons": many(_season()),
            "days": events(),
            "out_of_season": many(TAG),
        }
    )


def _season() -> Schema:
    working = {
        **NAMED,
        "status": _STATUS["status"],
        "looked": DAY,
        "look_by": may(DAY),
        "condition_lost": may(NUMBER),
        "kg_lost": may(NUMBER),
    }
    return record(
        {
            "farm": may(TEXT),
            "group": TEXT,
            "last_day": DAY,
            "working": many(record(working)),
            "stand_ins": many(record({**NAMED, "ready": may(DAY), "place": TEXT})),
        }
    )


def turnout() -> Schema:
    waits = many(record({**NAMED, **_STATUS, "reasons": many(TEXT), "outstanding": many(TEXT)}))
    return record(
        {
            "on": DAY,
            **_group(),
            "goes": many(record({**NAMED, "walked": may(DAY)})),
            "stays": waits,
            "reserve": waits,
            "out": waits,
        }
    )


def stats() -> Schema:
    share = told(Part)
    row = {"by": TEXT, "value": TEXT, "unit": words("feet", "claws")}
    cell = {"foot": FOOT, "claw": CLAW, "zone": may(WHOLE)}
    return record(
        {
            **told(Figures, "on", "since", "farm")["properties"],
            "lifted": told(Figures, "feet", "bulls"),
            "few": of(WHOLE, "fewer feet lifted than that bear no figure"),
            "rows": many(with_keys(share, row)),
            "cells": many(with_keys(share, cell)),
        }
    )


def rules() -> Schema:
    value = {
        "id": TEXT,
        "value": {},
        "unit": TEXT,
        "standing": words(*STANDINGS),
        "source": TEXT,
        "checked": of(may(DAY), "the day somebody compared it with its source"),
        "overridden": of(FLAG, "a farm or a person set it"),
        "text": TEXT,
        "default": of({}, "what it replaces"),
    }
    return many(record(value))
