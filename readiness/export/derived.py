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
from readiness.export.shape import Refer, Row, Table
from readiness.history.finding import plausible_day
from readiness.trade import codes, feet

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


def _each(
    of: Callable[[Reading, Assessment], Iterable[Row]],
) -> Callable[[Reading], Iterable[Row]]:
    """Rows of each bull of the board, with day and tag before them."""

    def rows(reading: Reading) -> Iterable[Row]:
        on = iso(reading.on)
        for bull in reading.board.bulls:
            for row in of(reading, bull):
                yield on, reading.tags[bull.key], *row

    return rows


def _board(_: Reading, bull: Assessment) -> Iterable[Row]:
    yield (
        cell(bull.name),
        cell(bull.farm),
        cell(bull.group),
        bull.role,
        iso(bull.turnout),
        bull.status,
        bull.hold,
        bull.outlook,
        iso(bull.earliest_ready),
        bull.slack_days,
        bull.overdue,
    )


_OUTLOOKS = ("ready", "on-track", "tight", "too-late", "vet-decides", "wrong-group",
             "no-turnout", "working")  # fmt: skip

BOARD = Table(
    "board",
    "GO or HOLD for each bull on the day",
    "It informs; the vet decides. Ready and slack hold only if every check passes. A bull who is "
    "out is here, one who left is not.",
    (
        ON,
        BULL,
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
    ("bull",),
    _each(_board),
    (OF_BULL,),
)


def _outstanding(_: Reading, bull: Assessment) -> Iterable[Row]:
    return (_check(check) for check in bull.outstanding)


def _check(check: Check) -> Row:
    return (
        check.id,
        check.check,
        check.rule,
        check.foot,
        check.claw,
        check.code,
        " ".join(check.feet) or None,
        iso(check.not_before),
        iso(check.not_after),
        iso(check.due),
        iso(check.advised_by),
        check.overdue,
        " ".join(check.after) or None,
        iso(check.since),
        check.who,
        cell(check.text),
        check.standing,
        cell(check.source),
    )


OUTSTANDING = Table(
    "outstanding",
    "Checks that are outstanding on the day",
    "Where not_before is later than not_after, no day fits turnout.",
    (
        ON,
        BULL,
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
    ("bull", "id"),
    _each(_outstanding),
    (OF_BULL,),
)


def _numbered(remarks: Iterable[Remark]) -> Iterable[Row]:
    for line, said in enumerate(remarks, start=1):
        yield (
            line,
            said.rule,
            cell(said.text),
            said.foot,
            said.claw,
            said.code,
            iso(said.since),
            said.standing or None,
            cell(said.source),
        )


def _remarks(
    name: str, title: str, what: str, of: Callable[[Assessment], Iterable[Remark]]
) -> Table:
    return Table(
        name,
        title,
        what,
        (
            ON,
            BULL,
            whole("line", "Place among his, from 1", "place", 1, DAYS, required=True),
            text("rule", "The rule that says so", required=True),
            text("text", "It in words", longest=SENTENCE, required=True),
            *_WHERE,
            day("since", "Since when"),
            STANDING,
            SOURCE,
        ),
        ("bull", "line"),
        _each(lambda _, bull: _numbered(of(bull))),
        (OF_BULL,),
    )


REASONS = _remarks(
    "reasons", "Reasons to hold, true on the day", "Each holds by itself.", lambda b: b.reasons
)
ADVICE = _remarks("advice", "Advice, which never holds", "It informs.", lambda b: b.advice)


def _findings(reading: Reading) -> Iterable[Row]:
    on = iso(reading.on)
    for state in reading.herd.states:
        for found in state.feet.open.values():
            yield (
                on,
                reading.tags[state.key],
                found.foot,
                found.claw,
                found.code,
                found.severity,
                found.stage,
                found.zone,
                found.size_mm,
                found.holds,
                iso(found.first),
                iso(found.seen),
                iso(found.looked),
                iso(plausible_day(found, state.rules)) if found.holds else None,
            )


OPEN_FINDINGS = Table(
    "open_findings",
    "Findings that are open on the day",
    "Both claws are two rows. Only a fresh look closes one that holds; time closes none.",
    (
        ON,
        BULL,
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
    ),
    ("bull", "foot", "claw", "code"),
    _findings,
    (OF_BULL,),
)


def _blocks(reading: Reading) -> Iterable[Row]:
    on = iso(reading.on)
    for state in reading.herd.states:
        limits = state.rules.limits
        for block in state.blocks.values():
            yield (
                on,
                reading.tags[state.key],
                block.foot,
                block.claw,
                iso(block.day),
                iso(block.day + limits.block_least),
                iso(block.day + limits.block_most),
                block.entry,
            )


OPEN_BLOCKS = Table(
    "open_blocks",
    "Blocks that are on, on the day",
    "The claw is the one that carries the block.",
    (
        ON,
        BULL,
        replace(_WHERE[0], required=True),
        word("claw", "The claw that carries it", feet.BLOCK_CLAWS, required=True),
        day("fitted", "The day it was fitted", required=True),
        day("off_from", "It may come off from", required=True),
        day("off_by", "It has to be off by", required=True),
        ENTRY,
    ),
    ("bull", "foot", "claw"),
    _blocks,
    (OF_BULL, Refer(("entry",), "blocks", ("entry",))),
)

DERIVED: tuple[Table, ...] = (
    BOARD,
    OUTSTANDING,
    REASONS,
    ADVICE,
    OPEN_FINDINGS,
    OPEN_BLOCKS,
)
