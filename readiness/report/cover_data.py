"""Cover and the day of turnout as JSON, cover as CSV: for programs and spreadsheets."""

from __future__ import annotations

from readiness.cover.groups import GroupCover
from readiness.cover.moves import Move
from readiness.cover.turnout import TurnoutDay
from readiness.cover.whole import Cover
from readiness.engine.results import Assessment
from readiness.report.as_json import Json, as_json, day
from readiness.report.csv_table import csv_text

GROUP = (
    "farm", "group", "turnout", "class", "females", "workers", "capacity_go", "capacity_forecast",
    "short", "covered_from", "chance", "spare_for_90", "spare_for_95", "short_if_one_fails",
    "first_calf", "last_calf",
)  # fmt: skip
DIGITS = 6


def cover_json(cover: Cover) -> Json:
    """``cover --json``: chances from 0 to 1."""
    return {
        "on": day(cover.on),
        "groups": [_group(group) for group in cover.groups],
        "allocation": [_move(move) for move in cover.moves],
    }


def cover_csv(cover: Cover) -> str:
    """A record for each group."""
    return csv_text(GROUP, map(_group, cover.groups))


def _group(group: GroupCover) -> Json:
    return {
        "farm": group.farm,
        "group": group.group,
        "turnout": day(group.turnout),
        "class": group.category,
        "females": group.females,
        "workers": len(group.workers),
        "capacity_go": group.capacity_go,
        "capacity_forecast": group.capacity_forecast,
        "short": group.short,
        "covered_from": day(group.covered_from),
        "chance": None if group.chance is None else round(float(group.chance), DIGITS),
        "spare_for_90": group.spare_for_90,
        "spare_for_95": group.spare_for_95,
        "short_if_one_fails": group.short_if_one_fails,
        "first_calf": day(group.first_calf),
        "last_calf": day(group.last_calf),
    }


def _move(move: Move) -> Json:
    return {
        "farm": move.farm,
        "bull": move.bull.bull,
        "group": move.group,
        "from": move.frm,
        "role_before": move.role_before,
        "short_before": move.short_before,
        "short_after": move.short_after,
        "chance_before": round(float(move.chance_before), DIGITS),
        "chance_after": round(float(move.chance_after), DIGITS),
    }


def turnout_json(turnout: TurnoutDay) -> Json:
    """``turnout --json``: who goes, with his last walk; who stays and from when he could follow."""
    return {
        "on": day(turnout.on),
        **_group(turnout.cover),
        "goes": [
            {
                "bull": goer.bull.bull,
                "name": goer.bull.name,
                "walked": day(goer.walk and goer.walk.day),
            }
            for goer in turnout.goes
        ],
        "stays": [_waits(bull) for bull in turnout.stays],
        "reserve": [_waits(bull) for bull in turnout.reserve],
        "out": [_waits(bull) for bull in turnout.out],
    }


def _waits(bull: Assessment) -> Json:
    return {
        **as_json(bull, "bull", "name", "status", "hold", "earliest_ready"),
        "reasons": [reason.text for reason in bull.reasons],
        "outstanding": [check.id for check in bull.outstanding],
    }
