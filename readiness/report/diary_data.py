"""The diary with what else is to come, as JSON and as CSV: for programs and spreadsheets."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.cover.ahead import Ahead
from readiness.herd.diary import Diary, Due
from readiness.report.as_json import Json, as_json, day, diary_json, event_json
from readiness.report.csv_table import csv_text
from readiness.system.plain import plain

RECORD = (
    "on", "until", "kind", "farm", "group", "bull", "name", "check", "who", "not_before", "last",
    "overdue", "text",
)  # fmt: skip
NOTHING: Json = dict.fromkeys(RECORD)


def ahead_json(diary: Diary, ahead: Ahead) -> Json:
    """``diary --json``: what is due, the days of the season, the days proposed for the vet."""
    return {
        **diary_json(diary, ahead.board.groups),
        "season": [event_json(event) for event in ahead.season],
        "vet_days": [
            {
                **as_json(each, "on", "farm"),
                "checks": [{"bull": due.bull, "id": due.check.id} for due in each.dues],
            }
            for each in ahead.vet.days
        ],
        "vet_without_day": [
            {"bull": due.bull, "farm": due.farm, "id": due.check.id, "why": why}
            for due, why in ahead.vet.left
        ],
    }


def diary_csv(diary: Diary, ahead: Ahead) -> str:
    """A record for each check (``on``: the day by which to plan it, none where nothing says one),
    for each of the season's days, and for each check on a day proposed for the vet."""
    return csv_text(RECORD, _records(diary, ahead))


def _records(diary: Diary, ahead: Ahead) -> Iterator[Json]:
    yield from (_check(due, due.day) for due in diary.overdue)
    for on, dues in diary.days:
        yield from (_check(due, on) for due in dues)
    yield from (_check(due, None) for due in diary.undated)
    for event in ahead.season:
        span = {"on": day(event.first), "until": day(event.last)}
        yield {**NOTHING, **span, "kind": "season", "farm": event.farm, "group": event.group,
               "text": event.text}  # fmt: skip
    for each in ahead.vet.days:
        yield from (_check(due, each.on, "proposed for the vet") for due in each.dues)


def _check(due: Due, on: int | None, kind: str = "check") -> Json:
    check = due.check
    return {
        **NOTHING,
        **as_json(due, "farm", "group", "bull", "name"),
        **as_json(check, "check", "who", "not_before", "overdue"),
        "on": None if on is None else day(on),
        "kind": kind,
        "last": day(check.last_day) if check.has_last_day else None,
        "text": plain(check.text),
    }
