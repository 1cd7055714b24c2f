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

_CHANCE = may({**NUMBER, "minimum": 0, "maximum": 1})
_STAND_IN = {**NAMED, "ready": may(DAY), "place": TEXT}
_STATUS = told(Assessment, "status", "hold", "earliest_ready")["properties"]


# ---- bulls and females ---------------------------------------------------------------------------


def _group() -> dict[str, Schema]:
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
        "chance": of(_CHANCE, "that the team lasts the season"),
        "spare_for_90": may(WHOLE),
        "spare_for_95": may(WHOLE),
        "short_if_one_fails": may(WHOLE),
        "first_calf": DAY,
        "last_calf": DAY,
        "last_day": DAY,
        "bulls_out": of(may(WHOLE), "null before the season, as those that follow"),
        "capacity_out": may(WHOLE),
        "short_out": may(WHOLE),
        "chance_out": _CHANCE,
        "short_out_if_one_fails": may(WHOLE),
        "bulls_waiting": of(may(WHOLE), "who are GO and not out yet"),
        "capacity_waiting": may(WHOLE),
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
        "chance_before": _CHANCE,
        "chance_after": _CHANCE,
        "ask_first": many(TEXT),
    }
    return record(
        {
            "on": DAY,
            "groups": many(record(_group())),
            "allocation": of(many(record(move)), "the moves that mend a shortage"),
            "put_off": of(many(_put_off()), "a later turnout that mends one"),
            "seasons": many(_season()),
            "days": events(),
            "out_of_season": many(TAG),
            "stand_ins": of(
                many(record({"farm": may(TEXT), "group": TEXT, **_STAND_IN})),
                "who could work in the place of one who fails",
            ),
            "after_season": many(_after()),
        }
    )


def _put_off() -> Schema:
    return record(
        {
            "farm": may(TEXT),
            "group": TEXT,
            "turnout": DAY,
            "days": of(WHOLE, "later than it is now"),
            "with_moves": of(may(FLAG), "the moves of allocation are made before; null: none is"),
            "short_before": may(WHOLE),
            "chance_before": _CHANCE,
            "chance_after": _CHANCE,
            "first_calf_before": DAY,
            "first_calf_after": DAY,
        }
    )


def _after() -> Schema:
    loss = {"what": TEXT, "before": NUMBER, "before_on": DAY, "now": NUMBER, "now_on": DAY}
    return record(
        {
            **NAMED,
            "farm": may(TEXT),
            "group": may(TEXT),
            "last_day": may(DAY),
            "out": DAY,
            "back": of(may(DAY), "null: he is out still"),
            "rest_until": of(may(DAY), "he would go out again sooner than that"),
            "out_again": may(DAY),
            "lost": of(many(record(loss)), "at work, and not regained"),
            "troubles": many(record({"what": TEXT, "on": DAY})),
            "last_passed": of(may(DAY), "the last examination that he passed"),
            "exam_due": FLAG,
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
            "stand_ins": many(record(_STAND_IN)),
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


def fleet_stats() -> Schema:
    share = {key: may(each) for key, each in told(Part)["properties"].items() if key != "of"}
    row = {
        "by": TEXT,
        "value": of(may(TEXT), "null: the small groups together; a farm's is a number"),
        "of": WHOLE,
        **share,
        "unit": words("feet", "claws", "bulls"),
    }
    return record(
        {
            "on": of(DAY, "the last day of any farm: each counts on its own last day up to it"),
            "farms": WHOLE,
            "least": of(WHOLE, "fewer bulls than that are no group to be told of"),
            "few": of(WHOLE, "fewer feet lifted than that bear no figure"),
            "lifted": record({"feet": may(WHOLE), "bulls": may(WHOLE)}),
            "go": record({"n": may(WHOLE), "of": may(WHOLE)}),
            "rows": of(many(record(row)), "as those of stats; null: withheld"),
            "shares": of(many(record(row)), "of bulls GO, by farm, breed, age and week"),
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
