"""Cover and the day of turnout as JSON, cover as CSV: for programs and spreadsheets."""

from __future__ import annotations

from fractions import Fraction

from readiness.cover.after import AfterSeason
from readiness.cover.moves import Move
from readiness.cover.put_off import PutOff
from readiness.cover.results import GroupCover
from readiness.cover.season import Season, StandIn
from readiness.cover.turnout import TurnoutDay
from readiness.cover.whole import Cover
from readiness.engine.care import cares
from readiness.engine.results import Assessment
from readiness.report.as_json import Json, as_json, day, event_json
from readiness.report.csv_table import csv_text

GROUP = (
    "farm", "group", "turnout", "class", "females", "workers", "capacity_go", "capacity_forecast",
    "short", "covered_from", "chance", "spare_for_90", "spare_for_95", "short_if_one_fails",
    "first_calf", "last_calf", "last_day", "bulls_out", "capacity_out", "short_out", "chance_out",
    "short_out_if_one_fails", "bulls_waiting", "capacity_waiting",
)  # fmt: skip
DIGITS = 6


def cover_json(cover: Cover) -> Json:
    """``cover --json``: chances from 0 to 1."""
    return {
        "on": day(cover.on),
        "groups": [group_row(group) for group in cover.groups],
        "allocation": [_move(move) for move in cover.moves],
        "put_off": [_put_off(found) for found in cover.put_off],
        "seasons": [_season(season) for season in cover.seasons],
        "days": [event_json(event) for event in cover.events],
        "out_of_season": [bull.bull for bull in cover.strays],
        "stand_ins": [
            {"farm": farm or None, "group": group, **_stand_in(each)}
            for (farm, group), found in cover.stand_ins.items()
            for each in found
        ],
        "after_season": [_after(each) for each in cover.after],
    }


def _after(each: AfterSeason) -> Json:
    rest, passed = each.rest, each.last_passed
    return {
        **as_json(each.bull, "bull", "name", "farm"),
        "group": each.group,
        "last_day": day(each.last_day),
        "out": day(each.out),
        "back": day(each.back),
        "rest_until": day(rest and rest.until),
        "out_again": day(rest and rest.again),
        "lost": [
            {
                "what": loss.what,
                "before": loss.before[1],
                "before_on": day(loss.before[0]),
                "now": loss.now[1],
                "now_on": day(loss.now[0]),
            }
            for loss in each.lost
        ],
        "troubles": [{"what": told.what, "on": day(told.day)} for told in each.troubles],
        "last_passed": day(passed),
        "exam_due": each.exam_due,
    }


def _season(season: Season) -> Json:
    return {
        "farm": season.group.farm,
        "group": season.group.group,
        "last_day": day(season.group.last_day),
        "working": [
            {
                **as_json(each.bull, "bull", "name", "status"),
                "looked": day(each.looked),
                "look_by": day(each.look_by),
                "condition_lost": each.condition,
                "kg_lost": each.kg,
            }
            for each in season.working
        ],
        "stand_ins": [_stand_in(each) for each in season.stand_ins],
    }


def _stand_in(each: StandIn) -> Json:
    return {**as_json(each.bull, "bull", "name"), "ready": day(each.ready), "place": each.place}


def cover_csv(cover: Cover) -> str:
    """A record for each group."""
    return csv_text(GROUP, map(group_row, cover.groups))


def group_row(group: GroupCover) -> Json:
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
        "chance": _chance(group.chance),
        "spare_for_90": group.by_turnout.spare_for_90,
        "spare_for_95": group.by_turnout.spare_for_95,
        "short_if_one_fails": group.by_turnout.short_if_one_fails,
        "first_calf": day(group.first_calf),
        "last_calf": day(group.last_calf),
        "last_day": day(group.last_day),
        **_at_work(group),
    }


def _at_work(group: GroupCover) -> Json:
    """Of the season under way; all null before it. Who waits and is not GO is counted nowhere."""
    at_work = group.at_work
    if at_work is None:
        return dict.fromkeys(GROUP[GROUP.index("bulls_out") :])
    return {
        "bulls_out": len(at_work.bulls),
        "capacity_out": at_work.carried,
        "short_out": at_work.short,
        "chance_out": _chance(at_work.chance),
        "short_out_if_one_fails": at_work.short_if_one_fails,
        "bulls_waiting": sum(worker.go for worker in group.waiting),
        "capacity_waiting": group.would_carry,
    }


def _chance(chance: Fraction | None) -> float | None:
    return None if chance is None else round(float(chance), DIGITS)


def _move(move: Move) -> Json:
    return {
        "farm": move.farm,
        "bull": move.bull.bull,
        "group": move.group,
        "from": move.frm,
        "role_before": move.role_before,
        "short_before": move.short_before,
        "short_after": move.short_after,
        "chance_before": _chance(move.chance_before),
        "chance_after": _chance(move.chance_after),
        "ask_first": [care.text for care in cares(move.bull)],
    }


def _put_off(found: PutOff) -> Json:
    before, after = found.before, found.after
    return {
        "farm": after.farm,
        "group": after.group,
        "turnout": day(after.turnout),
        "days": found.days,
        "with_moves": found.with_moves,
        "short_before": before.short,
        "chance_before": _chance(before.chance),
        "chance_after": _chance(after.chance),
        "first_calf_before": day(before.first_calf),
        "first_calf_after": day(after.first_calf),
    }


def turnout_json(turnout: TurnoutDay) -> Json:
    """``turnout --json``: who goes, with his last walk; who stays and from when he could follow."""
    return {
        "on": day(turnout.on),
        **group_row(turnout.cover),
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
