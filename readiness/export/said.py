"""The tables of what was said: one or more for each kind of entry, a row for each thing said.

They hold the entries that stand, whatever their day; what was struck is in ``entries.jsonl``, and
the table of strikes says what it was. Lists of a lift are in long form: a row for each finding.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from readiness.desk.reading import Reading
from readiness.export.columns import (
    BULL,
    BY,
    ENTRY,
    GROUP,
    LINE,
    NOTE,
    NOTE_MOST,
    OF_BULL,
    ON,
    PROFILE,
    RECORDED,
    cell,
    day,
    flag,
    foot,
    iso,
    number,
    tail,
    text,
    whole,
    word,
)
from readiness.export.shape import Column, Row, Table
from readiness.history.groups import FIELDS
from readiness.trade import codes, feet, scales
from readiness.trade.body import PARTS, STATES
from readiness.trade.females import FEMALES

Body = Mapping[str, Any]
Parts = Callable[[Body], Iterable[Body]]


def whole_entry(body: Body) -> list[Body]:
    """The entry itself is the one row."""
    return [body]


def listed(key: str) -> Parts:
    """A row for each item of the list ``key``."""
    return lambda body: body.get(key, ())


def _tried(body: Body) -> list[Body]:
    return [
        {"foot": foot, "outcome": outcome}
        for outcome in ("lifted", "refused")
        for foot in body.get(outcome, ())
    ]


def _block(body: Body) -> list[Body]:
    return [{**body, "act": body["kind"].removeprefix("block-")}]


def _group(body: Body) -> list[Body]:
    """What is null is empty, as what is not said: so that it is taken away is told by name."""
    gone = (name for name in FIELDS if body.get(name, "") is None)
    return [{**body, "taken_away": " ".join(gone) or None}]


def _table(
    name: str,
    title: str,
    what: str,
    kinds: tuple[str, ...],
    fields: tuple[Column, ...],
    parts: Parts = whole_entry,
    *,
    of_bull: bool = True,
) -> Table:
    """A table of entries of some kinds: the fields between who and when."""
    several = parts not in (whole_entry, _block, _group)
    key = (ENTRY, LINE) if several else (ENTRY,)
    whose = (BULL,) if of_bull else ()
    names = [column.name for column in fields]

    def rows(reading: Reading) -> Iterable[Row]:
        for entry in reading.of(kinds):
            who = (reading.tags[entry.bull],) if of_bull else ()
            for line, part in enumerate(parts(entry.body), start=1):
                head = (entry.id, line) if several else (entry.id,)
                values = (cell(part.get(name)) for name in names)
                yield (*head, iso(entry.day), *who, *values, *tail(entry))

    columns = (*key, ON, *whose, *fields, BY, NOTE, RECORDED)
    refers = (OF_BULL,) if of_bull else ()
    return Table(name, title, what, columns, tuple(c.name for c in key), rows, refers)


_CLAW = word("claw", "outer, inner, both, or the skin of the foot", feet.CLAWS, required=True)
_CODE = word(
    "code", "Short code of the ICAR Claw Health Atlas (XX: other)", codes.CODES, required=True
)
_FOOT = foot("The foot", required=True)
_HORN = word("claw", "The claw", feet.HORN_CLAWS, required=True)

SAID: tuple[Table, ...] = (
    _table(
        "bookings",
        "What was said of the bulls themselves",
        "Said again, later fields replace earlier ones; the table bulls puts them together.",
        ("bull",),
        PROFILE,
    ),
    _table(
        "group_said",
        "What was said of the groups of females",
        "Said again, later fields replace earlier ones, and what is not said stays; the table "
        "groups puts them together.",
        ("group",),
        (
            *GROUP,
            day("turnout", "The day the bulls go out", required=True),
            whole("weeks", "How long they stay", "weeks", 1, 52),
            whole("females", "How many females", "head", 0, 10000),
            word("class", "What they are", FEMALES),
            text("taken_away", "Which of weeks, females, class no longer hold, parted by spaces"),
        ),
        _group,
        of_bull=False,
    ),
    _table(
        "memberships",
        "Which bull goes with which group",
        "An empty group takes him out of his.",
        ("join",),
        (
            text("group", "The group's name, on the bull's farm"),
            word("role", "What he is there for", ("worker", "reserve")),
        ),
    ),
    _table(
        "lifts",
        "Feet lifted and feet refused",
        "A row for each foot; a foot lifted without a finding was seen and had none.",
        ("feet",),
        (
            _FOOT,
            word("outcome", "Lifted, or could not be", ("lifted", "refused"), required=True),
        ),
        _tried,
    ),
    _table(
        "findings",
        "What was found on the feet",
        "A row for each finding of a lift; found again it keeps severity and stage unless said.",
        ("feet",),
        (
            _FOOT,
            _CLAW,
            _CODE,
            whole("zone", "Zone of the foot, International Lameness Committee", "zone", 0, 12),
            whole("severity", "1 slight, 2 moderate, 3 severe", "grade", 1, 3),
            word("stage", "Stage of digital dermatitis", codes.STAGES),
            number("size_mm", "How wide it is", "mm", 1, 300),
            word("was", "The code it was called by before", codes.CODES),
        ),
        listed("findings"),
    ),
    _table(
        "healed",
        "What was seen healed",
        "As it was said: whether it counts as healed depends on the day (see open_findings).",
        ("feet",),
        (_FOOT, _CLAW, _CODE, flag("stable", "Fit to work though not gone")),
        listed("healed"),
    ),
    _table(
        "work",
        "What was done on the feet",
        "No claw means the foot as a whole.",
        ("feet",),
        (
            _FOOT,
            word("claw", "The claw, or the skin", feet.CLAWS),
            word("act", "What was done", feet.ACTS, required=True),
        ),
        listed("work"),
    ),
    _table(
        "measures",
        "Horn measured",
        "A wall measured says nothing of the sole.",
        ("feet",),
        (
            _FOOT,
            _HORN,
            number("wall_mm", "Length of the front wall", "mm", 20, 300),
            number("sole_mm", "Thickness of the sole at the toe", "mm", 1, 60),
            number("groove_mm", "A groove's distance below the coronet", "mm", 0, 200),
        ),
        listed("measures"),
    ),
    _table(
        "blocks",
        "Blocks fitted, taken off and lost",
        "The claw is the one that carries the block.",
        ("block-on", "block-off"),
        (
            word("act", "Fitted, or off again", ("on", "off"), required=True),
            _FOOT,
            word("claw", "The claw that carries it", feet.BLOCK_CLAWS, required=True),
            flag("lost", "It came off by itself"),
        ),
        _block,
    ),
    _table(
        "mobility",
        "How he walked",
        "A score is on its own scale and is never converted: gb0-3 and nz0-3 run from 0 (sound) "
        "to 3, five1-5 from 1 (sound) to 5.",
        ("mobility",),
        (
            word("scale", "The scale of the score", scales.MOBILITY, required=True),
            whole("score", "The score on that scale", "score", 0, 5, required=True),
            foot("The limb he was lame on", "limb"),
        ),
    ),
    _table(
        "condition",
        "His condition",
        "A score is on its own scale and is never converted: five runs from 1 to 5, nine from 1 "
        "to 9.",
        ("condition",),
        (
            word("scale", "The scale of the score", scales.CONDITION, required=True),
            number("score", "The score on that scale", "score", 1, 9, required=True),
        ),
    ),
    _table(
        "weights",
        "What he weighed",
        "How he was weighed is not asked.",
        ("weight",),
        (number("kg", "Live weight", "kg", 20, 2500, required=True),),
    ),
    _table(
        "vet_exams",
        "Breeding examinations by a vet",
        "The vet's outcome, of that day only.",
        ("vet-exam",),
        (
            word(
                "outcome",
                "The vet's word",
                ("satisfactory", "deferred", "unsatisfactory"),
                required=True,
            ),
            day("again_on", "When the vet will examine again"),
            number("scrotum_cm", "Scrotal circumference", "cm", 10, 70),
            number("motility_pct", "Sperm that move forward", "%", 0, 100),
            number("normal_pct", "Normal sperm", "%", 0, 100),
            flag("feet_seen", "The vet looked at his feet, too"),
            flag("stands", "The vet stands by satisfactory though a figure is low"),
        ),
    ),
    _table(
        "vet_looks",
        "What a vet looked at",
        "Apart from the breeding examination. A look of an older book may have no outcome.",
        ("vet-look",),
        (
            word("about", "What about", ("foot", "lame", "body", "illness", "other"),
                 required=True),
            word("outcome", "The vet's word", ("fit", "unfit", "again")),
            day("again_on", "When the vet will see him again"),
            foot("The foot looked at"),
            word("part", "The part of the body looked at", PARTS),
            foot("The limb of the joint", "limb"),
        ),
    ),
    _table(
        "body",
        "Parts of the body, beside the feet",
        "As it was seen; what is wrong there is for the vet to say.",
        ("body",),
        (
            word("part", "The part", PARTS, required=True),
            foot("The limb of the joint", "limb"),
            word("state", "How it is", STATES, required=True),
        ),
    ),
    _table(
        "incidents",
        "Fights, falls, illness",
        "What happened to him, as it was seen.",
        ("incident",),
        (
            word("cause", "What it was", ("fight", "fall", "transport", "illness", "other"),
                 required=True),
            flag("lame", "He was lame after it"),
            flag("fever", "He had a fever"),
            foot("The limb that was hurt", "limb"),
            word("suspect", "Where it is thought to be",
                 ("foot", "shoulder", "stifle", "back", "other")),
        ),
    ),
    _table(
        "treatments",
        "What he was given",
        "Written down in words; no dose. Withdrawal is as the label or the vet said.",
        ("treatment",),
        (
            text("given_by", "Who gave it", required=True),
            text("product", "What, in words", required=True),
            text("reason", "What for", longest=NOTE_MOST),
            flag("pain_relief", "It relieves pain"),
            day("withdrawal_until", "The last day of withdrawal"),
        ),
    ),
    _table(
        "checks",
        "The farm's own checks",
        "By the names of the farm's own rules.",
        ("check",),
        (
            text("check", "Which check", required=True),
            word("result", "How it went", ("pass", "fail"), required=True),
        ),
    ),
    _table(
        "moves",
        "Out, in, and left",
        "Out with females, in again, or gone from the farm.",
        ("moved",),
        (
            word("act", "Where to", ("out", "in", "left"), required=True),
            word("reason", "Why", ("sold", "culled", "died", "rested", "lame", "hired", "other")),
        ),
    ),
)  # fmt: skip
