"""The tables of what is worked out: how the bulls stand on the day, what is outstanding, why.

A column is named as what it shows is in the JSON.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from readiness.desk.reading import Reading
from readiness.engine.results import Assessment
from readiness.entries.columns import Column
from readiness.entries.fields import NOTE_MOST
from readiness.entries.models import BlockOn, Bull, Finding, Group, Join, foot_text
from readiness.entries.tables import BULL, ENTRY
from readiness.export.columns import OF_BULL, as_in, day, flag, text, whole, word
from readiness.export.shape import Refer, Said, Table
from readiness.history import History
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


def _assessed(
    name: str,
    title: str,
    what: str,
    key: tuple[str, ...],
    columns: tuple[Column, ...],
    of: Callable[[Assessment], Iterable[object]],
) -> Table:
    """A table of each bull of the board, in its order."""

    def said(reading: Reading) -> Said:
        for bull in reading.board.bulls:
            head = {"on": iso(reading.on), "bull": reading.tags[bull.key]}
            for line, each in enumerate(of(bull), start=1):
                yield {**as_json(each), **head, "line": line}

    return Table(name, title, what, (ON, BULL, *columns), ("bull", *key), said, (OF_BULL,))


def _folded(
    name: str,
    title: str,
    what: str,
    key: tuple[str, ...],
    columns: tuple[Column, ...],
    of: Callable[[History], Said],
    *refers: Refer,
) -> Table:
    """A table of each bull that is here or out, as his entries make him."""

    def said(reading: Reading) -> Said:
        for state in reading.herd.states:
            head = {"on": iso(reading.on), "bull": reading.tags[state.key]}
            for each in of(state):
                yield {**each, **head}

    refers = (OF_BULL, *refers)
    return Table(name, title, what, (ON, BULL, *columns), ("bull", *key), said, refers)


_OUTLOOKS = ("ready", "on-track", "tight", "too-late", "vet-decides", "wrong-group",
             "no-turnout", "working")  # fmt: skip

BOARD = _assessed(
    "board",
    "GO or HOLD for each bull on the day",
    "It informs; the vet decides. Ready and slack hold only if every check passes. A bull who is "
    "out is here, one who left is not.",
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
    lambda bull: (bull,),
)

OUTSTANDING = _assessed(
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
    lambda bull: bull.outstanding,
)

_REMARK = (
    whole("line", "Place among his, from 1", "place", 1, DAYS, required=True),
    text("rule", "The rule that says so", required=True),
    text("text", "It in words", longest=SENTENCE, required=True),
    *_WHERE,
    day("since", "Since when"),
    *_FOUNDED,
)
REASONS = _assessed(
    "reasons",
    "Reasons to hold, true on the day",
    "Each holds by itself.",
    ("line",),
    _REMARK,
    lambda bull: bull.reasons,
)
ADVICE = _assessed(
    "advice",
    "Advice, which never holds",
    "It informs.",
    ("line",),
    _REMARK,
    lambda bull: bull.advice,
)

OPEN_FINDINGS = _folded(
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
    open_findings,
)

OPEN_BLOCKS = _folded(
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
    lambda state: ({**block, "fitted": block["on"]} for block in blocks(state)),
    Refer(("entry",), "blocks", ("entry",)),
)

DERIVED: tuple[Table, ...] = (
    BOARD, OUTSTANDING, REASONS, ADVICE, OPEN_FINDINGS, OPEN_BLOCKS,
)  # fmt: skip
