"""Tables as CSV: RFC 4180, CRLF, the head first, safe to open in a spreadsheet.

A day is an ISO date, a flag true or false, a number has a point; nothing is an empty cell. Text is
made plain, and gets an apostrophe before it where it begins with one of ``BEGINS``, an apostrophe
among them: whoever reads the file takes the first apostrophe of a text away and has what was
written, always. The schema of every exported table says so.

Which characters begin a formula: OWASP, "CSV Injection" (equals, plus, minus, at, tab, carriage
return, line feed and the full-width forms of the first four).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence

from readiness.engine.results import Board
from readiness.herd.selection import next_check
from readiness.herd.stats.results import Figures
from readiness.report.as_json import Json, as_json, day, share_json
from readiness.report.rows import why
from readiness.system.plain import plain

LINE_END = "\r\n"
MARK = "'"
BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠", MARK)
RULE = (
    "Text that begins with one of = + - @ (also full-width) or an apostrophe has one more "
    "apostrophe before it, so that no spreadsheet takes it for a formula. Take the first "
    "apostrophe of a text away to have what was written. Parquet and JSON hold it as written."
)
_TOGETHER = 500  # rows handed on at once


def csv_text(head: Sequence[str], records: Iterable[Mapping[str, object]]) -> str:
    """The whole table; of each record what the head names."""
    return "".join(csv_pieces(head, ([record[name] for name in head] for record in records)))


def csv_pieces(head: Sequence[str], rows: Iterable[Sequence[object]]) -> Iterator[str]:
    """The table in pieces, so that a large one is never whole in memory."""
    made = io.StringIO(newline="")
    writer = csv.writer(made, lineterminator=LINE_END)
    writer.writerow(head)
    for count, row in enumerate(rows, start=1):
        writer.writerow(map(_cell, row))
        if count % _TOGETHER == 0:
            yield _taken(made)
    yield _taken(made)


def _taken(made: io.StringIO) -> str:
    piece = made.getvalue()
    made.seek(0)
    made.truncate()
    return piece


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return guarded(plain(value)) if isinstance(value, str) else str(value)


def guarded(text: str) -> str:
    """The text as a cell of a CSV file; a number of ours does not need it."""
    return MARK + text if text.startswith(BEGINS) else text


# ---- the board and the figures: the fields of the JSON, and on the board what comes next ---------

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
