"""The board and the figures as CSV: the fields of the JSON, and on the board what comes next."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine.results import Board
from readiness.herd.selection import next_check
from readiness.herd.stats.results import Figures
from readiness.report.as_json import Json, as_json, day, share_json
from readiness.report.csv_table import csv_text
from readiness.report.rows import why

OF_HIM = (
    "bull", "name", "farm", "group", "role", "turnout", "status", "hold", "outlook",
    "earliest_ready", "slack_days", "overdue",
)  # fmt: skip
BOARD = (
    *OF_HIM, "why", "reasons", "advice", "next_check", "next_text", "next_not_before", "next_by",
    "next_who",
)  # fmt: skip
STATS = ("by", "value", "n", "of", "share", "low", "high", "unit", "bulls", "few")
DIGITS = 6


def board_csv(board: Board) -> str:
    """A record for each bull."""
    return csv_text(BOARD, _bulls(board))


def _bulls(board: Board) -> Iterator[Json]:
    for bull in board.bulls:
        check = next_check(bull)
        yield {
            **as_json(bull, *OF_HIM),
            "why": why(bull, board.on),
            "reasons": "; ".join(reason.text for reason in bull.reasons),
            "advice": "; ".join(advice.text for advice in bull.advice),
            "next_check": check and check.id,
            "next_text": check and check.text,
            "next_not_before": check and day(check.not_before),
            "next_by": check and day(check.plan_by),
            "next_who": check and check.who,
        }


def stats_csv(figures: Figures) -> str:
    """A record for each row; shares from 0 to 1."""
    return csv_text(STATS, (_record(share_json(row)) for row in figures.rows))


def _record(row: Json) -> Json:
    shares = {name: round(row[name], DIGITS) for name in ("share", "low", "high")}
    return {**row, **shares, "few": "yes" if row["few"] else "no"}
