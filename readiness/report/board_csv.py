"""The board as CSV: RFC 4180, UTF-8, and safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io
from datetime import date

from readiness.engine.results import Assessment, Board
from readiness.report.rows import next_check, why
from readiness.system.plain import plain

HEAD = (
    "bull", "name", "farm", "group", "role", "turnout", "status", "hold", "outlook",
    "earliest_ready", "slack_days", "overdue", "why", "reasons", "advice", "next_check",
    "next_text", "next_not_before", "next_by", "next_who",
)  # fmt: skip


def board_csv(board: Board) -> str:
    """The board as text with CRLF line ends, the head first; days as ISO dates."""
    made = io.StringIO(newline="")
    writer = csv.writer(made, lineterminator="\r\n")
    writer.writerow(HEAD)
    writer.writerows([[guarded(cell) for cell in _cells(bull, board.on)] for bull in board.bulls])
    return made.getvalue()


def guarded(value: object) -> str:
    """A cell as text. What a spreadsheet would take for a formula gets an apostrophe before it;
    a number of ours does not need one."""
    if value is None:
        return ""
    if not isinstance(value, str):
        return str(value)
    formula = value.startswith(("=", "+", "-", "@", "\t", "\r"))
    text = plain(value)
    return f"'{text}" if formula or text.startswith(("=", "+", "-", "@")) else text


def _cells(bull: Assessment, on: int) -> tuple[object, ...]:
    check = next_check(bull)
    return (
        bull.bull,
        bull.name,
        bull.farm,
        bull.group,
        bull.role,
        _day(bull.turnout),
        bull.status,
        bull.hold,
        bull.outlook,
        _day(bull.earliest_ready),
        bull.slack_days,
        bull.overdue,
        why(bull, on),
        "; ".join(reason.text for reason in bull.reasons),
        "; ".join(advice.text for advice in bull.advice),
        check.id if check else None,
        check.text if check else None,
        _day(check.not_before) if check else None,
        _day(check.plan_by) if check else None,
        check.who if check else None,
    )


def _day(ordinal: int | None) -> str | None:
    return None if ordinal is None else date.fromordinal(ordinal).isoformat()
