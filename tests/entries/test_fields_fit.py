"""Fields that must fit each other within one entry."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.entries.validate import validate
from tests.entries.samples import Sample, feet, said


def problems(entry: Sample) -> list[tuple[str, str]]:
    return [(problem.field, problem.text) for problem in validate(entry)[1]]


def place(foot: str, claw: str, code: str, **more: Any) -> Sample:
    return {"foot": foot, "claw": claw, "code": code, **more}


@pytest.mark.parametrize("origin", ["bought", "hired"])
def test_a_bull_from_elsewhere_needs_the_day_he_arrived(origin: str) -> None:
    [(field, text)] = problems(said("bull", origin=origin))
    assert (field, f"a {origin} bull needs the day he arrived" in text) == ("arrived", True)
    assert problems(said("bull", origin=origin, arrived="2026-02-01")) == []


def test_a_homebred_bull_needs_no_day() -> None:
    assert problems(said("bull", origin="homebred")) == []


def test_again_on_goes_with_deferred_only() -> None:
    again = {"again_on": "2026-06-03"}
    assert problems(said("vet-exam", outcome="deferred", **again)) == []
    for outcome in ("satisfactory", "unsatisfactory"):
        assert problems(said("vet-exam", outcome=outcome, **again))[0][0] == "again_on"


def test_again_on_goes_with_a_look_to_be_done_again_only() -> None:
    look = {"about": "illness", "again_on": "2026-05-03"}
    assert problems(said("vet-look", outcome="again", **look)) == []
    for outcome in ("fit", "unfit"):
        assert problems(said("vet-look", outcome=outcome, **look)) == [
            ("again_on", f"goes with again only, not {outcome}; leave it out")
        ]


def test_the_old_name_may_be_listed_on_another_foot() -> None:
    entry = feet(
        findings=[place("LF", "outer", "SU", was="SH")], healed=[place("RF", "outer", "SH")]
    )
    assert problems(entry) == []


def test_a_foot_is_lifted_or_refused_and_named_once() -> None:
    assert problems(feet(lifted=[], refused=["LF"])) == []
    assert problems(feet(lifted=[]))[0][0] == "lifted"
    assert problems(feet(refused=["LH"]))[0][0] == "refused[0]"
    assert problems(feet(lifted=["LF", "LF"]))[0][0] == "lifted[1]"


@pytest.mark.parametrize(
    ("key", "item"),
    [
        ("findings", place("RH", "outer", "SU")),
        ("healed", place("RH", "outer", "SU")),
        ("work", {"foot": "RH", "act": "trim"}),
        ("measures", {"foot": "RH", "claw": "outer", "wall_mm": 92}),
    ],
)
def test_what_was_seen_or_done_needs_the_foot_up(key: str, item: Sample) -> None:
    assert problems(feet(lifted=["LF"], refused=["RH"], **{key: [item]}))[0][0] == f"{key}[0].foot"


@pytest.mark.parametrize(
    ("code", "claw", "fits"),
    [
        ("SU", "outer", True),
        ("SU", "both", True),
        ("SU", "skin", False),
        ("DD", "skin", True),
        ("DD", "outer", False),
        ("IP", "both", False),
        ("XX", "skin", True),
        ("XX", "inner", True),
    ],
)
@pytest.mark.parametrize("key", ["findings", "healed"])
def test_the_claw_fits_the_code(key: str, code: str, claw: str, fits: bool) -> None:
    """ICAR Claw Health Atlas: claw horn or skin, by code."""
    found = problems(feet(**{key: [place("LF", claw, code)]}))
    assert [field for field, _ in found] == ([] if fits else [f"{key}[0].claw"])


def test_a_stage_is_of_digital_dermatitis_only() -> None:
    assert problems(feet(findings=[place("LF", "outer", "SU", stage="M2")]))[0][0] == (
        "findings[0].stage"
    )
    assert problems(feet(findings=[place("LF", "skin", "DD", stage="M5")]))[0][0] == (
        "findings[0].stage"
    )


def test_a_new_name_is_another_code() -> None:
    assert problems(feet(findings=[place("LF", "outer", "SU", was="SU")]))[0][0] == (
        "findings[0].was"
    )


def test_a_list_has_an_end() -> None:
    one = {"foot": "LF", "act": "trim"}
    assert problems(feet(work=[one] * 200)) == []
    assert problems(feet(work=[one] * 201)) == [
        ("work", "has more than 200 items; part it into several entries")
    ]


def test_a_measure_measures_something() -> None:
    assert problems(feet(measures=[{"foot": "LF", "claw": "outer"}]))[0][0] == "measures[0]"


@pytest.mark.parametrize(
    ("found", "gone", "clash"),
    [
        ("outer", "outer", True),
        ("both", "outer", True),
        ("inner", "both", True),
        ("outer", "inner", False),
    ],
)
def test_the_same_finding_is_not_both_there_and_gone(found: str, gone: str, clash: bool) -> None:
    entry = feet(
        findings=[place("LF", found, "SU")],
        healed=[place("LF", "inner", "WLF"), place("LF", gone, "SU")],
    )
    assert [field for field, _ in problems(entry)] == (["healed[1]"] if clash else [])


def test_another_code_or_foot_may_be_healed() -> None:
    entry = feet(
        findings=[place("LF", "outer", "SU")],
        healed=[place("RF", "outer", "SU"), place("LF", "outer", "WLF")],
    )
    assert problems(entry) == []


@pytest.mark.parametrize(
    "entry",
    [
        feet(healed=[place("LF", "outer", "SU")]),
        feet(findings=[place("LF", "outer", "SU", was="WLA")]),
        said("block-off", foot="LF", claw="outer"),
        said("join") | {"group": None},
        said("check", check="not-in-any-rules", result="fail"),
    ],
)
def test_what_only_the_book_could_contradict_is_taken_in(entry: Sample) -> None:
    """Whether a line is valid never depends on what the book holds."""
    assert validate(entry) == (entry, [])
