"""The tables of what is worked out: how the bulls stand on the day, what is outstanding, why.

A column is named as what it shows is in the JSON.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.fields import NOTE_MOST
from readiness.entries.models import BlockOn, Bull, Finding, Group, Join, foot_text
from readiness.entries.tables import BULL, ENTRY
from readiness.export.shape import OF_BULL, Refer, Said, Table, as_in, day, flag, text, whole, word
from readiness.report.as_json import as_json, blocks, open_findings
from readiness.report.as_json import day as iso

# Wide enough for a sentence of ours, and for a slack of any length.
SENTENCE, DAYS = 1000, 100_000

ON = day("on", "The day assessed", required=True)
_FOUNDED = (
    text("standing", "How well the rule is founded"),
    text("source", "Where the rule is from", longest=NOTE_MOST),
)
_WHERE = (
    as_in(Finding, "foot", foot_text("The foot it is about")),
    as_in(Finding, "claw", "The claw it is about"),
    as_in(Finding, "code", "The finding it is about"),
)


OfBulls = Iterator[tuple[str, Mapping[str, Any]]]
"""A bull's key, and what is said of him in a row."""


def _of_bulls(
    name: str,
    title: str,
    what: str,
    key: tuple[str, ...],
    columns: tuple[Column, ...],
    of: Callable[[Reading], OfBulls],
    *refers: Refer,
) -> Table:
    """A table of the bulls on the day."""

    def said(reading: Reading) -> Said:
        for bull, row in of(reading):
            yield {**row, "on": iso(reading.on), "bull": reading.tags[bull]}

    refers = (OF_BULL, *refers)
    return Table(name, title, what, (ON, BULL, *columns), ("bull", *key), said, refers)


def _part(part: str) -> Callable[[Reading], OfBulls]:
    """What stands in a part of each bull's assessment, with its place there."""

    def of(reading: Reading) -> OfBulls:
        for bull in reading.board.bulls:
            for line, each in enumerate(getattr(bull, part), start=1):
                yield bull.key, {**as_json(each), "line": line}

    return of


def _open_findings(reading: Reading) -> OfBulls:
    for state in reading.herd.states:
        yield from ((state.key, found) for found in open_findings(state))


def _open_blocks(reading: Reading) -> OfBulls:
    for state in reading.herd.states:
        yield from ((state.key, {**on, "fitted": on["on"]}) for on in blocks(state))


_OUTLOOKS = ("ready", "on-track", "tight", "too-late", "vet-decides", "not-booked",
             "at-odds", "wrong-group", "no-turnout", "working")  # fmt: skip

BOARD = _of_bulls(
    "board",
    "GO or HOLD for each bull on the day",
    "It informs; the vet decides. The day on which he could go and the days to spare hold only if "
    "every check passes. A bull who is out is here, one who left is not.",
    (),
    (
        as_in(Bull, "name"),
        as_in(Bull, "farm"),
        as_in(Join, "group", "His group, while its season lasts"),
        as_in(Join, "role", "What he is in it"),
        as_in(Group, "turnout", "The day the group goes out"),
        word("status", "GO, or HOLD", ("GO", "HOLD"), required=True),
        word("hold", "For a reason true today, or for checks to come", ("reason", "checks")),
        word("outlook", "How he stands towards turnout", _OUTLOOKS, required=True),
        day("earliest_ready", "The earliest day if every check passes; empty: a person decides"),
        whole("slack_days", "Days between that and turnout", "days", -DAYS, DAYS),
        whole("overdue", "Checks overdue", "checks", 0, DAYS, required=True),
    ),
    lambda reading: ((bull.key, as_json(bull)) for bull in reading.board.bulls),
)

OUTSTANDING = _of_bulls(
    "outstanding",
    "Checks that are outstanding on the day",
    "Where not_before is later than not_after, no day fits turnout.",
    ("id",),
    (
        text("id", "The check, the same from day to day", required=True),
        text("check", "What kind of check", required=True),
        text("rule", "The rule that asks for it", required=True),
        *_WHERE,
        text("feet", "The feet still to be lifted, parted by spaces"),
        day("not_before", "The first day it can be done", required=True),
        day("not_after", "The last day that turnout allows"),
        day("due", "The last day by its own clock"),
        day("advised_by", "Better done by this day"),
        flag("overdue", "That last day has passed", required=True),
        text("after", "Checks it waits for, parted by spaces", longest=SENTENCE),
        day("since", "Since when it is asked for"),
        word("who", "Who does it", ("trimmer", "farmer", "vet"), required=True),
        text("text", "It in words", longest=SENTENCE),
        *_FOUNDED,
    ),
    _part("outstanding"),
)

_REMARK = (
    whole("line", "Place among his, from 1", "place", 1, DAYS, required=True),
    text("rule", "The rule that says so", required=True),
    text("text", "It in words", longest=SENTENCE, required=True),
    *_WHERE,
    day("since", "Since when"),
    *_FOUNDED,
)
REASONS = _of_bulls(
    "reasons",
    "Reasons to hold, true on the day",
    "Each holds by itself.",
    ("line",),
    _REMARK,
    _part("reasons"),
)
ADVICE = _of_bulls(
    "advice",
    "Advice, which never holds",
    "It informs.",
    ("line",),
    _REMARK,
    _part("advice"),
)

OPEN_FINDINGS = _of_bulls(
    "open_findings",
    "Findings that are open on the day",
    "Both claws are two rows. Only a fresh look closes one that holds; time closes none.",
    ("foot", "claw", "code"),
    (
        *(replace(column, required=True) for column in _WHERE),
        as_in(Finding, "severity", "1 slight, 2 moderate, 3 severe; empty: never said"),
        as_in(Finding, "stage"),
        as_in(Finding, "zone"),
        as_in(Finding, "size_mm"),
        flag("holds", "It keeps him back", required=True),
        day("first", "First found", required=True),
        day("seen", "Last found holding"),
        day("looked", "Last looked at", required=True),
        day("plausible", "From when a look that says healed is believed"),
    ),
    _open_findings,
)

OPEN_BLOCKS = _of_bulls(
    "open_blocks",
    "Blocks that are on, on the day",
    "The claw is the one that carries the block.",
    ("foot", "claw"),
    (
        replace(_WHERE[0], required=True),
        as_in(BlockOn, "claw", required=True),
        day("fitted", "The day it was fitted", required=True),
        day("off_from", "It may come off from", required=True),
        day("off_by", "It has to be off by", required=True),
        ENTRY,
    ),
    _open_blocks,
    Refer("entry", "blocks"),
)

DERIVED: tuple[Table, ...] = (
    BOARD, OUTSTANDING, REASONS, ADVICE, OPEN_FINDINGS, OPEN_BLOCKS,
)  # fmt: skip
