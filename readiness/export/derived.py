"""The tables of what is worked out: how the bulls stand on the day, what is outstanding, why."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from readiness.engine.results import Assessment, Check, Remark
from readiness.export.columns import (
    BULL,
    ENTRY,
    NOTE_MOST,
    OF_BULL,
    cell,
    day,
    flag,
    foot,
    iso,
    number,
    text,
    whole,
    word,
)
from readiness.export.reading import Reading
from readiness.export.shape import Column, Refer, Row, Table
from readiness.history import History
from readiness.report.as_json import Json, as_json, blocks_json, findings_json
from readiness.trade import codes, feet

Result = Assessment | Check | Remark

# Wide enough for a sentence of ours, and for a slack of any length.
SENTENCE, DAYS = 1000, 100_000

ON = day("on", "The day assessed", required=True)
STANDING = text("standing", "How well the rule is founded")
SOURCE = text("source", "Where the rule is from", longest=NOTE_MOST)
_WHERE = (
    foot("The foot it is about"),
    word("claw", "The claw it is about", feet.CLAWS),
    word("code", "The finding it is about", codes.CODES),
)


def _row(on: str | None, tag: str, said: Json, columns: Iterable[Column]) -> Row:
    """What the columns after ``ON`` and ``BULL`` say: the JSON under their names."""
    values = (said[column.name] for column in columns)
    return on, tag, *(cell(" ".join(v) if isinstance(v, list) else v) for v in values)


def _table(
    name: str,
    title: str,
    what: str,
    columns: tuple[Column, ...],
    key: str,
    of: Callable[[Assessment], Iterable[Result]],
) -> Table:
    """A table of what is said of each bull of the board: himself, his checks, his remarks."""

    def rows(reading: Reading) -> Iterable[Row]:
        on = iso(reading.on)
        for bull in reading.board.bulls:
            for line, result in enumerate(of(bull), start=1):
                said = {"line": line, **as_json(result)}
                yield _row(on, reading.tags[bull.key], said, columns)

    return Table(name, title, what, (ON, BULL, *columns), tuple(key.split()), rows, (OF_BULL,))


_OUTLOOKS = ("ready", "on-track", "tight", "too-late", "vet-decides", "wrong-group",
             "no-turnout", "working")  # fmt: skip

BOARD = _table(
    "board",
    "GO or HOLD for each bull on the day",
    "It informs; the vet decides. Ready and slack hold only if every check passes. A bull who is "
    "out is here, one who left is not.",
    (
        text("name", "What he is called"),
        text("farm", "Whose bull he is"),
        text("group", "His group, while its season lasts"),
        word("role", "What he is in it", ("worker", "reserve")),
        day("turnout", "The day the group goes out"),
        word("status", "GO, or HOLD", ("GO", "HOLD"), required=True),
        word("hold", "For a reason true today, or for checks to come", ("reason", "checks")),
        word("outlook", "How he stands towards turnout", _OUTLOOKS, required=True),
        day("earliest_ready", "The earliest day if every check passes; empty: a person decides"),
        whole("slack_days", "Days between that and turnout", "days", -DAYS, DAYS),
        whole("overdue", "Checks overdue", "checks", 0, DAYS, required=True),
    ),
    "bull",
    lambda bull: (bull,),
)


OUTSTANDING = _table(
    "outstanding",
    "Checks that are outstanding on the day",
    "Where not_before is later than not_after, no day fits turnout.",
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
        STANDING,
        SOURCE,
    ),
    "bull id",
    lambda bull: bull.outstanding,
)


_REMARK = (
    whole("line", "Place among his, from 1", "place", 1, DAYS, required=True),
    text("rule", "The rule that says so", required=True),
    text("text", "It in words", longest=SENTENCE, required=True),
    *_WHERE,
    day("since", "Since when"),
    STANDING,
    SOURCE,
)
REASONS = _table(
    "reasons",
    "Reasons to hold, true on the day",
    "Each holds by itself.",
    _REMARK,
    "bull line",
    lambda bull: bull.reasons,
)
ADVICE = _table(
    "advice",
    "Advice, which never holds",
    "It informs.",
    _REMARK,
    "bull line",
    lambda bull: bull.advice,
)


def _open(
    of: Callable[[History], Iterable[Json]], columns: tuple[Column, ...]
) -> Callable[[Reading], Iterable[Row]]:
    """Rows of what is open on each bull that is here or out."""

    def rows(reading: Reading) -> Iterable[Row]:
        for state in reading.herd.states:
            for said in of(state):
                yield _row(iso(reading.on), reading.tags[state.key], said, columns)

    return rows


_FINDING = (
    replace(_WHERE[0], required=True),
    replace(_WHERE[1], required=True),
    replace(_WHERE[2], required=True),
    whole("severity", "1 slight, 2 moderate, 3 severe; empty: never said", "grade", 1, 3),
    word("stage", "Stage of digital dermatitis", codes.STAGES),
    whole("zone", "Zone of the foot, International Lameness Committee", "zone", 0, 12),
    number("size_mm", "How wide it is", "mm", 1, 300),
    flag("holds", "It keeps him back", required=True),
    day("first", "First found", required=True),
    day("seen", "Last found holding"),
    day("looked", "Last looked at", required=True),
    day("plausible", "From when a look that says healed is believed"),
)
OPEN_FINDINGS = Table(
    "open_findings",
    "Findings that are open on the day",
    "Both claws are two rows. Only a fresh look closes one that holds; time closes none.",
    (ON, BULL, *_FINDING),
    ("bull", "foot", "claw", "code"),
    _open(lambda state: findings_json(state, state.rules), _FINDING),
    (OF_BULL,),
)

_BLOCK = (
    replace(_WHERE[0], required=True),
    word("claw", "The claw that carries it", feet.BLOCK_CLAWS, required=True),
    day("fitted", "The day it was fitted", required=True),
    day("off_from", "It may come off from", required=True),
    day("off_by", "It has to be off by", required=True),
    ENTRY,
)
OPEN_BLOCKS = Table(
    "open_blocks",
    "Blocks that are on, on the day",
    "The claw is the one that carries the block.",
    (ON, BULL, *_BLOCK),
    ("bull", "foot", "claw"),
    _open(
        lambda state: ({**on, "fitted": on["on"]} for on in blocks_json(state, state.rules)), _BLOCK
    ),
    (OF_BULL, Refer(("entry",), "blocks", ("entry",))),
)

DERIVED: tuple[Table, ...] = (BOARD, OUTSTANDING, REASONS, ADVICE, OPEN_FINDINGS, OPEN_BLOCKS)
