"""What a line of shorthand means."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from readiness.shorthand import Scales, read

ALL = ["LF", "RF", "LH", "RH"]
Said = dict[str, Any]


def said(text: str, on: str = "2026-04-03", by: str | None = None) -> list[Said]:
    """What a line says, without what is common to its entries."""
    scales = Scales("gb0-3", "five")
    contents = read(text, bull="00417", on=date.fromisoformat(on), by=by, scales=scales)
    for content in contents:
        assert content.pop("bull") == "00417"
        assert content.pop("on") == on
        assert content.pop("by", None) == by
    return contents


def feet(lifted: list[str], **more: Any) -> list[Said]:
    return [{"kind": "feet", "lifted": lifted, **more}]


def spot(foot: str, claw: str, code: str, **more: Any) -> Said:
    return {"foot": foot, "claw": claw, "code": code, **more}


def work(foot: str, act: str, claw: str | None = None) -> Said:
    return {"foot": foot, "act": act} | ({"claw": claw} if claw else {})


SU = spot("LF", "outer", "SU")

FEET: list[tuple[str, list[Said]]] = [
    ("all ok", feet(ALL)),
    ("lh rf ok", feet(["LH", "RF"])),
    (
        "lf o su@4/2 pare wrap",
        feet(
            ["LF"],
            findings=[SU | {"zone": 4, "severity": 2}],
            work=[work("LF", "pare", "outer"), work("LF", "wrap", "outer")],
        ),
    ),
    (
        "rh s dd:m2/2 dress",
        feet(
            ["RH"],
            findings=[spot("RH", "skin", "DD", stage="M2", severity=2)],
            work=[work("RH", "dress", "skin")],
        ),
    ),
    ("lf o su/3 was sh", feet(["LF"], findings=[SU | {"severity": 3, "was": "SH"}])),
    ("lf o su healed", feet(["LF"], healed=[SU])),
    ("lf o su healed stable", feet(["LF"], healed=[SU | {"stable": True}])),
    (
        "lf o wall 92 sole 7 groove 20",
        feet(
            ["LF"],
            measures=[
                {"foot": "LF", "claw": "outer", "wall_mm": 92, "sole_mm": 7, "groove_mm": 20}
            ],
        ),
    ),
    ("rh refused", feet([], refused=["RH"])),
    ("lf ok; rh refused", feet(["LF"], refused=["RH"])),
    ("lf b sh/1", feet(["LF"], findings=[spot("LF", "both", "SH", severity=1)])),
    (
        "rh dd:M4.1@10 22.5mm",
        feet(["RH"], findings=[spot("RH", "skin", "DD", stage="M4.1", zone=10, size_mm=22.5)]),
    ),
    (
        "rf o wlf@2 1 pare",
        feet(
            ["RF"],
            findings=[spot("RF", "outer", "WLF", zone=2, severity=1)],
            work=[work("RF", "pare", "outer")],
        ),
    ),
    # A foot holds until the next is named, a claw until the next claw or foot is.
    (
        "lf o su pare; i wlf dress; rh trim",
        feet(
            ["LF", "RH"],
            findings=[SU, spot("LF", "inner", "WLF")],
            work=[work("LF", "pare", "outer"), work("LF", "dress", "inner"), work("RH", "trim")],
        ),
    ),
    ("lf o su; wlf/2", feet(["LF"], findings=[SU, spot("LF", "outer", "WLF", severity=2)])),
    ("lf o su; lf trim", feet(["LF"], findings=[SU], work=[work("LF", "trim")])),
    (
        "lh unwrap; lf o su unwrap pare",
        feet(
            ["LH", "LF"],
            findings=[SU],
            work=[work("LH", "unwrap"), work("LF", "unwrap", "outer"), work("LF", "pare", "outer")],
        ),
    ),
    ("lf o su; rest ok", feet(ALL, findings=[SU])),
    ("lh rh trim", feet(["LH", "RH"], work=[work("LH", "trim"), work("RH", "trim")])),
    ("lf o su; walk 1; rf ok", [*feet(["LF", "RF"], findings=[SU]), *said("walk 1")]),
    ("lf ok; then; lf o su", [*feet(["LF"]), *feet(["LF"], findings=[SU])]),
]


@pytest.mark.parametrize(("text", "contents"), FEET, ids=[text for text, _ in FEET])
def test_feet(text: str, contents: list[Said]) -> None:
    assert said(text) == contents


@pytest.mark.parametrize(
    "text", ["LF O SU@4/2 PARE", "lfosu@4/2pare", " lf,o  su @ 4 / 2 ;pare", "lf outer su/2@4 pare"]
)
def test_case_and_spacing_are_free(text: str) -> None:
    assert said(text) == said("lf o su@4/2 pare")


OTHERS: list[tuple[str, Said]] = [
    ("block lh i", {"kind": "block-on", "foot": "LH", "claw": "inner"}),
    ("block lh i off", {"kind": "block-off", "foot": "LH", "claw": "inner"}),
    ("block lh i lost", {"kind": "block-off", "foot": "LH", "claw": "inner", "lost": True}),
    ("walk 1", {"kind": "mobility", "scale": "gb0-3", "score": 1}),
    ("walk 2 lf", {"kind": "mobility", "scale": "gb0-3", "score": 2, "limb": "LF"}),
    ("walk 5 five1-5", {"kind": "mobility", "scale": "five1-5", "score": 5}),
    ("cond 3.25", {"kind": "condition", "scale": "five", "score": 3.25}),
    ("cond 6.5 nine", {"kind": "condition", "scale": "nine", "score": 6.5}),
    ("kg 980", {"kind": "weight", "kg": 980}),
    ("kg 1,025", {"kind": "weight", "kg": 1025}),
    ("cond 3,25", {"kind": "condition", "scale": "five", "score": 3.25}),
    ("vet passed", {"kind": "vet-exam", "outcome": "satisfactory"}),
    ("fight", {"kind": "incident", "cause": "fight"}),
    (
        "fight lame lf shoulder",
        {"kind": "incident", "cause": "fight", "lame": True, "limb": "LF", "suspect": "shoulder"},
    ),
    ("fall rh", {"kind": "incident", "cause": "fall", "limb": "RH"}),
    ("ill fever", {"kind": "incident", "cause": "illness", "fever": True}),
    ("transport", {"kind": "incident", "cause": "transport"}),
    ("trouble not lame", {"kind": "incident", "cause": "other", "lame": False}),
    ("vet ok", {"kind": "vet-exam", "outcome": "satisfactory"}),
    ("vet again", {"kind": "vet-exam", "outcome": "deferred"}),
    ("vet again 3 jun", {"kind": "vet-exam", "outcome": "deferred", "again_on": "2026-06-03"}),
    (
        "vet no cm 36 mot 65 norm 78 feet",
        {
            "kind": "vet-exam",
            "outcome": "unsatisfactory",
            "scrotum_cm": 36,
            "motility_pct": 65,
            "normal_pct": 78,
            "feet_seen": True,
        },
    ),
    ("vetlook lame fit", {"kind": "vet-look", "about": "lame", "outcome": "fit"}),
    ("vet look illness fit", {"kind": "vet-look", "about": "illness", "outcome": "fit"}),
    (
        "vetlook foot unfit lf",
        {"kind": "vet-look", "about": "foot", "outcome": "unfit", "foot": "LF"},
    ),
    (
        "vetlook lame again 3 may rh",
        {
            "kind": "vet-look",
            "about": "lame",
            "outcome": "again",
            "again_on": "2026-05-03",
            "foot": "RH",
        },
    ),
    (
        "vetlook body fit joint lh",
        {"kind": "vet-look", "about": "body", "outcome": "fit", "part": "joint", "limb": "LH"},
    ),
    (
        "vetlook body other unfit",
        {"kind": "vet-look", "about": "body", "outcome": "unfit", "part": "other"},
    ),
    (
        "vet ok stands cm 30",
        {"kind": "vet-exam", "outcome": "satisfactory", "scrotum_cm": 30, "stands": True},
    ),
    ("vet ok not stands", {"kind": "vet-exam", "outcome": "satisfactory", "stands": False}),
    ("body penis wrong", {"kind": "body", "part": "penis", "state": "wrong"}),
    ("body joint lf right", {"kind": "body", "part": "joint", "limb": "LF", "state": "right"}),
    ("body other watch", {"kind": "body", "part": "other", "state": "watch"}),
    (
        "given A. Vet: Blue spray 20 mg/ml",
        {"kind": "treatment", "given_by": "A. Vet", "product": "Blue spray 20 mg/ml"},
    ),
    (
        "given vet: drops pain until 2026-04-20 for sore foot",
        {
            "kind": "treatment",
            "given_by": "vet",
            "product": "drops",
            "pain_relief": True,
            "withdrawal_until": "2026-04-20",
            "reason": "sore foot",
        },
    ),
    (
        "given vet: drops no pain",
        {"kind": "treatment", "given_by": "vet", "product": "drops", "pain_relief": False},
    ),
    (
        'given "Hale: senior": "not for pain" not pain',
        {
            "kind": "treatment",
            "given_by": "Hale: senior",
            "product": "not for pain",
            "pain_relief": False,
        },
    ),
    ("out", {"kind": "moved", "act": "out"}),
    ("out hired", {"kind": "moved", "act": "out", "reason": "hired"}),
    ("in hired", {"kind": "moved", "act": "in", "reason": "hired"}),
    ("in lame", {"kind": "moved", "act": "in", "reason": "lame"}),
    ("in rested", {"kind": "moved", "act": "in", "reason": "rested"}),
    ("left sold", {"kind": "moved", "act": "left", "reason": "sold"}),
    ("done bvd-test", {"kind": "check", "check": "bvd-test", "result": "pass"}),
    ("failed BVD-test", {"kind": "check", "check": "BVD-test", "result": "fail"}),
    ("join Hill cows", {"kind": "join", "group": "Hill cows"}),
    ("join Heifers reserve", {"kind": "join", "group": "Heifers", "role": "reserve"}),
    ("join none", {"kind": "join", "group": None}),
    ('join "none"', {"kind": "join", "group": "none"}),
    ('join "Hill; reserve" worker', {"kind": "join", "group": "Hill; reserve", "role": "worker"}),
]


@pytest.mark.parametrize(("text", "content"), OTHERS, ids=[text for text, _ in OTHERS])
def test_other_parts(text: str, content: Said) -> None:
    assert said(text) == [content]


def test_a_block_takes_the_one_foot_that_holds() -> None:
    assert said("lf o su/2; block i")[1] == {"kind": "block-on", "foot": "LF", "claw": "inner"}


def test_a_note_goes_with_its_part_else_the_one_before_else_the_next() -> None:
    notes = [c.get("note") for c in said('"early"; all ok; walk 0 "sound; ""really"""; cond 3')]
    assert notes == ["early", 'sound; "really"', None]
    assert said('all ok; "late"')[0]["note"] == "late"
    assert said('lf ok "a"; rf ok "b"')[0]["note"] == "a; b"


def test_who_said_it_stands_in_every_entry() -> None:
    assert len(said("all ok; walk 0; cond 3", by="R. Hale")) == 3


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("3 apr", "2026-04-03"),
        ("2 apr", "2027-04-02"),
        ("2 April 2026", "2026-04-02"),
        ("29feb 2028", "2028-02-29"),
        ("2026-6-3", "2026-06-03"),
        ("1 sept", "2026-09-01"),
    ],
)
def test_a_day_without_year_is_the_next_one(text: str, day: str) -> None:
    assert said(f"vet again {text}")[0]["again_on"] == day


def test_controls_are_stripped_on_the_way_in() -> None:
    assert said('all\tok; "a\x1b[31mb\u202e"')[0]["note"] == "a[31mb"
