"""Results as JSON values, days as ISO dates: their keys are promised in DEVELOPERS.md."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import cache
from typing import TYPE_CHECKING, Any

from readiness.engine.results import Assessment, Board, Check, GroupLine, Link, Remark
from readiness.entries.entry import Entry
from readiness.herd.card import Card
from readiness.herd.changes import Change
from readiness.herd.diary import Diary, Due
from readiness.history.finding import plausible_day
from readiness.rules.model import Value

if TYPE_CHECKING:
    from readiness.desk.writing import Outcome

Json = dict[str, Any]


@cache
def _iso(ordinal: int) -> str:
    return date.fromordinal(ordinal).isoformat()


def day(ordinal: int | None) -> str | None:
    """An ordinal as an ISO date; None, and the "never" of a history (0), as null."""
    return _iso(ordinal) if ordinal else None


def board_json(board: Board) -> Json:
    """``board --json``."""
    return {
        "on": _iso(board.on),
        "rules": {"name": board.rules_name, "digest": board.rules_digest},
        "groups": [_group(line) for line in board.groups],
        "bulls": [bull_json(bull) for bull in board.bulls],
    }


def _group(line: GroupLine) -> Json:
    return {
        "farm": line.farm,
        "group": line.group,
        "turnout": _iso(line.turnout),
        "females": line.females,
        "bulls": line.bulls,
        "go": line.go,
        "forecast_ready": line.forecast_ready,
        "hold_reason": line.hold_reason,
        "hold_checks": line.hold_checks,
        "overdue": line.overdue,
    }


def bull_json(bull: Assessment) -> Json:
    """One bull of the board."""
    return {
        "bull": bull.bull,
        "name": bull.name,
        "farm": bull.farm,
        "group": bull.group,
        "role": bull.role,
        "turnout": day(bull.turnout),
        "status": bull.status,
        "hold": bull.hold,
        "outlook": bull.outlook,
        "earliest_ready": day(bull.earliest_ready),
        "slack_days": bull.slack_days,
        "overdue": bull.overdue,
        "reasons": [_remark(reason) for reason in bull.reasons],
        "outstanding": [check_json(check) for check in bull.outstanding],
        "advice": [_remark(advice) for advice in bull.advice],
        "chain": [_link(link) for link in bull.chain],
        "temper": bull.temper,
    }


def changes_json(changed: tuple[Change, ...]) -> list[Json]:
    """The bulls that change, as they were and as they would be."""
    return [
        {
            "bull": change.after.bull,
            "before": _standing(change.before),
            "after": _standing(change.after),
            "missed": list(change.missed),
            "open_end": change.open_end,
        }
        for change in changed
    ]


def _standing(bull: Assessment) -> Json:
    """How a bull stands towards his turnout, to be compared."""
    return {
        "turnout": day(bull.turnout),
        "status": bull.status,
        "hold": bull.hold,
        "outlook": bull.outlook,
        "earliest_ready": day(bull.earliest_ready),
        "slack_days": bull.slack_days,
    }


def _remark(remark: Remark) -> Json:
    return {
        "rule": remark.rule,
        "text": remark.text,
        "foot": remark.foot,
        "claw": remark.claw,
        "code": remark.code,
        "since": day(remark.since),
        "standing": remark.standing,
        "source": remark.source,
    }


def check_json(check: Check) -> Json:
    """One outstanding check."""
    return {
        "id": check.id,
        "check": check.check,
        "rule": check.rule,
        "foot": check.foot,
        "claw": check.claw,
        "code": check.code,
        "feet": list(check.feet),
        "not_before": _iso(check.not_before),
        "not_after": day(check.not_after),
        "due": day(check.due),
        "advised_by": day(check.advised_by),
        "overdue": check.overdue,
        "after": list(check.after),
        "since": day(check.since),
        "who": check.who,
        "text": check.text,
        "standing": check.standing,
        "source": check.source,
    }


def _link(link: Link) -> Json:
    return {
        "from": link.frm,
        "to": link.to,
        "days": link.days,
        "rule": link.rule,
        "text": link.text,
    }


def card_json(card: Card) -> Json:
    """``bull TAG --json``: the board's bull, and what is known of him."""
    return {
        **bull_json(card.assessment),
        "left": card.state.gone,
        "history": [entry_json(entry) for entry in card.entries],
        "open_findings": _findings(card),
        "blocks": _blocks(card),
        "wraps": _wraps(card),
        "body": _body(card),
        "scores": _scores(card),
    }


def entry_json(entry: Entry) -> Json:
    """One entry as an export writes it."""
    return {
        **entry.body,
        "id": entry.id,
        "recorded": entry.recorded,
        "position": entry.position,
        "batch": entry.batch,
        "device": entry.device,
    }


def _findings(card: Card) -> list[Json]:
    return [
        {
            "foot": finding.foot,
            "claw": finding.claw,
            "code": finding.code,
            "severity": finding.severity,
            "stage": finding.stage,
            "zone": finding.zone,
            "size_mm": finding.size_mm,
            "holds": finding.holds,
            "first": day(finding.first),
            "seen": day(finding.seen),
            "looked": day(finding.looked),
            "plausible": day(plausible_day(finding, card.rules)) if finding.holds else None,
            "entries": list(finding.entries),
        }
        for finding in card.state.feet.open.values()
    ]


def _blocks(card: Card) -> list[Json]:
    limits = card.rules.limits
    return [
        {
            "foot": block.foot,
            "claw": block.claw,
            "on": day(block.day),
            "off_from": day(block.day + limits.block_least),
            "off_by": day(block.day + limits.block_most),
            "entry": block.entry,
        }
        for block in card.state.blocks.values()
    ]


def _wraps(card: Card) -> list[Json]:
    return [
        {
            "foot": wrap.foot,
            "on": day(wrap.day),
            "off_by": day(wrap.day + card.rules.limits.wrap_most),
            "entry": wrap.entry,
        }
        for wrap in card.state.wraps.values()
    ]


def _body(card: Card) -> list[Json]:
    """What is wrong with his body, and what is to be watched."""
    wrong = [(f.part, f.limb, "wrong", f.day, f.entry) for f in card.state.body.values()]
    watched = [
        (part, limb, "watch", mark.day, mark.entry)
        for (part, limb), mark in card.state.watched.items()
    ]
    return [
        {"part": part, "limb": limb, "state": state, "since": day(since), "entry": entry}
        for part, limb, state, since, entry in (*wrong, *watched)
    ]


def _scores(card: Card) -> Json:
    state = card.state
    return {
        "mobility": [
            {
                "on": day(walk.day),
                "scale": walk.scale,
                "score": walk.score,
                "limb": walk.limb,
                "lame": walk.lame,
                "counts": walk.counts,
                "entry": walk.entry,
            }
            for walk in state.walks
        ],
        "condition": [
            {
                "on": day(score.day),
                "scale": score.scale,
                "score": score.score,
                "outside": score.outside,
                "entry": score.entry,
            }
            for score in state.conditions
        ],
        "weight": None if state.weight is None else _weight(*state.weight),
    }


def _weight(on: int, kg: float) -> Json:
    return {"on": day(on), "kg": kg}


def diary_json(diary: Diary, groups: Iterable[GroupLine]) -> Json:
    """``diary --json``; ``turnouts``: the groups by their day."""
    return {
        "on": _iso(diary.on),
        "overdue": [_due(due) for due in diary.overdue],
        "days": [{"on": _iso(on), "due": [_due(due) for due in dues]} for on, dues in diary.days],
        "turnouts": [
            {"on": _iso(line.turnout), "farm": line.farm, "group": line.group} for line in groups
        ],
    }


def _due(due: Due) -> Json:
    return {"bull": due.bull, "farm": due.farm, "group": due.group, **check_json(due.check)}


def rules_json(values: Iterable[Value]) -> list[Json]:
    """``rules --json``."""
    return [
        {
            "id": value.id,
            "value": value.value,
            "unit": value.unit,
            "standing": value.standing,
            "source": value.source,
            "checked": value.checked or None,
            "overridden": value.overridden,
            "text": value.text,
            "default": value.default,
        }
        for value in values
    ]


def outcome_json(outcome: Outcome) -> Json:
    """``log --json``, ``import --json`` and the other commands that write."""
    return {
        "written": list(outcome.written),
        "skipped": list(outcome.skipped),
        "warnings": [{"entry": said.entry, "text": said.text} for said in outcome.warnings],
    }
