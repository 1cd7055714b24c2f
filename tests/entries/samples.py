"""One full valid entry of each kind. Farm, tags and names are invented."""

from __future__ import annotations

from typing import Any

Sample = dict[str, Any]
ID = "0196a1f0-0000-7000-8000-000000000001"


def said(kind: str, **more: Any) -> Sample:
    """An entry of a bull; None takes a key out."""
    entry = {"kind": kind, "on": "2026-04-03", "bull": "00417", **more}
    return {key: value for key, value in entry.items() if value is not None}


def feet(**more: Any) -> Sample:
    """All four feet lifted; ``more`` adds to it or replaces."""
    return said("feet", **{"lifted": ["LF", "RF", "LH", "RH"], **more})


FULL: dict[str, Sample] = {
    "bull": said(
        "bull",
        name="Corran",
        breed="Limousin",
        born="2022-04-03",
        origin="bought",
        arrived="2026-02-01",
        temper="watch",
        heifer_safe=False,
        pen="3",
        farm="Sallow Fell",
    ),
    "weight": said("weight", kg=980.5),
    "group": said("group", bull=None, group="Heifers", turnout="2026-05-09", weeks=9, females=60)
    | {"class": "heifers", "farm": "Sallow Fell"},
    "join": said("join", group="Heifers", role="reserve"),
    "feet": said(
        "feet",
        lifted=["LF", "RH"],
        refused=["LH"],
        findings=[
            {"foot": "LF", "claw": "outer", "code": "SU", "zone": 4, "severity": 2, "was": "SH"},
            {"foot": "RH", "claw": "skin", "code": "DD", "stage": "M4.1", "size_mm": 22.5},
        ],
        healed=[{"foot": "RH", "claw": "both", "code": "WLF", "stable": True}],
        work=[{"foot": "LF", "claw": "outer", "act": "pare"}, {"foot": "RH", "act": "trim"}],
        measures=[
            {"foot": "LF", "claw": "inner", "wall_mm": 92, "sole_mm": 7, "groove_mm": 20},
        ],
    ),
    "block-on": said("block-on", foot="LF", claw="inner"),
    "block-off": said("block-off", foot="LF", claw="inner", lost=True),
    "mobility": said("mobility", scale="gb0-3", score=2, limb="LF"),
    "condition": said("condition", scale="five", score=3.25),
    "vet-exam": said(
        "vet-exam",
        outcome="deferred",
        again_on="2026-06-03",
        scrotum_cm=36.5,
        collection="electro-ejaculation",
        motility_pct=25,
        motility_by="individual",
        morphology=True,
        normal_pct=78,
        libido="keen",
        examined=[{"part": "eyes", "how": "seen"}, {"part": "testes", "how": "felt"}],
        feet_seen=True,
        examiner="J. Hart",
    ),
    "vet-look": said(
        "vet-look",
        about="body",
        outcome="again",
        again_on="2026-05-03",
        part="joint",
        limb="LH",
        examiner="J. Hart",
    ),
    "body": said("body", part="joint", limb="LH", state="wrong"),
    "incident": said(
        "incident", cause="fight", lame=True, fever=False, limb="LF", suspect="shoulder"
    ),
    "treatment": said(
        "treatment",
        given_by="A. Vet",
        product="as on the label",
        reason="sore foot",
        pain_relief=True,
        withdrawal_until="2026-04-20",
    ),
    "check": said(
        "check",
        check="bvd-test",
        result="pass",
        laboratory="Sike Laboratories",
        reading="negative, 1:20",
        valid_until="2027-04-02",
    ),
    "moved": said("moved", act="in", reason="lame"),
    "strike": said("strike", bull=None, entry=ID, why="wrong bull"),
}

REQUIRED: dict[str, tuple[str, ...]] = {
    "bull": ("bull",),
    "weight": ("bull", "kg"),
    "group": ("group", "turnout"),
    "join": ("bull", "group"),
    "feet": ("bull", "lifted"),
    "block-on": ("bull", "foot", "claw"),
    "block-off": ("bull", "foot", "claw"),
    "mobility": ("bull", "scale", "score"),
    "condition": ("bull", "scale", "score"),
    "vet-exam": ("bull", "outcome"),
    "vet-look": ("bull", "about", "outcome"),
    "body": ("bull", "part", "state"),
    "incident": ("bull", "cause"),
    "treatment": ("bull", "given_by", "product"),
    "check": ("bull", "check", "result"),
    "moved": ("bull", "act"),
    "strike": ("entry",),
}
