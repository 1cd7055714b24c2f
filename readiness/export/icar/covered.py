"""What of the entries has a place in the messages and what has none, field by field, and why.

``TOLD`` and ``GAPS`` together name every field of every kind of entry, once (a test holds them to
the entries); a list of a lift is named as its items' fields, as in ``findings.zone``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from readiness.desk.reading import Reading
from readiness.entries.tables import TABLES
from readiness.export.icar.common import Json

NESTED = tuple(
    key for table in TABLES if table.kinds == ("feet",) and not table.item for key in table.lists
)
"""The lists of a lift that hold things of several fields."""

# Kind → its fields that stand in a message.
TOLD: dict[str, tuple[str, ...]] = {
    "bull": ("name", "born", "arrived", "farm", "by"),
    "weight": ("kg", "by", "note"),
    "group": ("group", "turnout", "farm", "by"),
    "join": ("group",),
    "feet": (
        "by", "note", "findings.foot", "findings.claw", "findings.code", "findings.severity",
        "work.foot", "work.claw", "work.act",
    ),
    "mobility": ("scale", "score", "by", "note"),
    "condition": ("scale", "score", "by", "note"),
    "treatment": ("given_by", "withdrawal_until", "by", "note"),
    "moved": ("act", "reason", "by", "note"),
}  # fmt: skip


class Gap(NamedTuple):
    """What has no place. ``fields``: none for the kind as a whole; ``words``: it stands in a
    message in words all the same. ``values``: only where the field says one of these."""

    kind: str
    fields: tuple[str, ...]
    why: str
    words: bool = False
    values: tuple[str, ...] = ()


_NO_REMARK = "animals and sets carry no remark"

GAPS: tuple[Gap, ...] = (
    Gap("bull", ("origin",), "bought and hired are told by an arrival (Purchase, StudService); "
        "homebred has no member", values=("homebred",)),
    Gap("bull", ("born_from",), "a birth is one day there: where only month, year or age is known "
        "nothing is told"),
    Gap("bull", ("breed",), "the standard asks for a breed's code; the book has it in words"),
    Gap("bull", ("temper",), "an animal has no member for how to go near it"),
    Gap("bull", ("heifer_safe",), "an animal has no member for which females it may run with"),
    Gap("bull", ("pen",), "an animal's place is its farm"),
    Gap("bull", ("note",), _NO_REMARK),
    Gap("group", ("weeks", "females", "class"), "a set has its members alone; no females, season"),
    Gap("group", ("note",), _NO_REMARK),
    Gap("join", ("role",), "a member of a set has no role"),
    Gap("join", ("by", "note"), "sets show who is in them on the day, not who put him there"),
    Gap("feet", ("lifted",), "a foot seen without a finding is no diagnosis"),
    Gap("feet", ("refused",), "a foot that would not lift is no event"),
    Gap("feet", ("findings.zone",), "in words in site", words=True),
    Gap("feet", ("findings.stage",), "stages M0 to M4.1 are none of the standard's stages; in "
        "words in description, unknown where not said", words=True),
    Gap("feet", ("findings.size_mm", "findings.was"), "in words in description", words=True),
    Gap("feet", ("healed.foot", "healed.claw", "healed.code", "healed.stable"),
        "a diagnosis has no end"),
    Gap("feet", ("measures.foot", "measures.claw", "measures.wall_mm", "measures.sole_mm",
                 "measures.groove_mm"), "no trait for horn measured in mm"),
    Gap("block-on", (), "no event for a block on a claw"),
    Gap("block-off", (), "no event for a block on a claw"),
    Gap("mobility", ("limb",), "a score has no limb; in words in remark", words=True),
    Gap("vet-exam", (), "no event for a breeding examination of a bull"),
    Gap("vet-look", (), "a look and its outcome, without a diagnosis, are no event"),
    Gap("body", (), "what was seen of a part of the body is no diagnosis: that is the vet's"),
    Gap("incident", (), "what happened is no diagnosis"),
    Gap("treatment", ("product", "reason"), "a reference to a medicine asks for its registered "
        "number; in words in comment", words=True),
    Gap("treatment", ("pain_relief",), "a treatment has no member for what it does"),
    Gap("check", (), "a farm's own checks are its own"),
    Gap("moved", ("act",), "out with females and in again is no departure from the farm (on hire "
        "it is, and is told)", values=("out", "in")),
    Gap("strike", (), "what is taken back is not sent, nor that it was"),
)  # fmt: skip

# What holds for all messages, and can be counted nowhere.
REMARKS = (
    "An entry has a day and no time: 00:00 UTC stands for the day.",
    "Scores are on the scale they were scored on (traitLabel, remark), never converted: the "
    "standard's own linear scores run from 1 to 9.",
    "The standard registers no scheme for the codes of the ICAR Claw Health Atlas: diagnosisCode "
    "carries the Atlas's short code under a URN of this program, and XX is this program's own. The "
    "Central Health Key (icar.disease) has other codes; none are guessed.",
    "positions name single toes, which the standard has since March 2026; a program that knows "
    "release 1.4 alone reads site.",
    "severity is what the trimmer said: 1 slight, 2 moderate, 3 severe; nobody's score of pain.",
    "A withdrawal ends with its last day: endDate is that day's last moment.",
    "How a bull was weighed is not asked, though the standard takes silence for a load cell.",
    "A set shows a group on the day assessed; joining and leaving are in entries.jsonl.",
    "A bull on HOLD has a do-not-breed event of the day; a GO has none, for nobody is cleared to "
    "another program: read csv/board.csv, which has the day beside it.",
    "A tag that is surely a UK one is uk.cts.eartag, an electronic number std.iso.11785 (826 first "
    "for the UK); any other is in a scheme of this program.",
    "Hire of a bull is StudService and StudServiceReturn, the standard's nearest words; a bull who "
    "left as hired is Other.",
    "extendedReasons are the ids of this program's rules (`readiness rules`).",
)


def not_covered(reading: Reading) -> Json:
    """What the messages leave out of the entries that stand, counted; all of it is whole in
    ``entries.jsonl``."""
    counted: Counter[tuple[str, str, str]] = Counter()
    struck = (entry.kind == "strike" for entry in reading.shelf.everything)
    counted["strike", "", ""] = sum(struck)
    for entry in reading.shelf.standing:
        counted[entry.kind, "", ""] += 1
        counted.update((entry.kind, field, value) for field, value in _fields(entry.body))
    return {
        "namespace": "urn:readiness",
        "about": "What of the book has no member in the ICAR ADE messages beside this file. "
        "entries.jsonl holds all of it.",
        "remarks": list(REMARKS),
        "fields": [row for gap in GAPS for row in _rows(gap, counted)],
    }


def _rows(gap: Gap, counted: Mapping[tuple[str, str, str], int]) -> Iterator[Json]:
    for field in gap.fields or ("",):
        count = sum(
            n
            for (kind, said, value), n in counted.items()
            if (kind, said) == (gap.kind, field) and (not gap.values or value in gap.values)
        )
        yield {
            "kind": gap.kind,
            "field": field or None,
            "values": list(gap.values) or None,
            "count": count,
            "in_words": gap.words,
            "why": gap.why,
        }


def _fields(body: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Every field that says something, with its value where that is one word."""
    for key, value in body.items():
        if key in NESTED:
            for item in value:
                yield from ((f"{key}.{inner}", "") for inner in item)
        elif value not in (None, []):
            yield key, _word(body, key)


def _word(body: Mapping[str, Any], key: str) -> str:
    """The value where a gap may be one of some values; out and in on hire are told."""
    if key == "act" and body.get("reason") == "hired":
        return ""
    return str(body[key]) if key in ("origin", "act") else ""
