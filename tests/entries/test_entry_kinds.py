"""Each kind of entry: what is taken in and what is refused, with its field."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.entries.models import KINDS
from readiness.entries.validate import validate
from tests.entries.samples import FULL, ID, REQUIRED, Sample, feet, said


def refused(entry: Sample) -> dict[str, str]:
    """The problems of an entry by field; fails where it is taken in."""
    content, problems = validate(entry)
    assert content is None
    assert problems
    return {problem.field: problem.text for problem in problems}


def test_there_is_a_sample_of_every_kind() -> None:
    assert set(FULL) == set(REQUIRED) == set(KINDS)
    assert len(KINDS) == 17


@pytest.mark.parametrize("kind", FULL)
def test_a_full_entry_stays_as_it_was_written(kind: str) -> None:
    entry = FULL[kind] | {"by": "R. Hale", "note": "after rain"}
    assert validate(entry) == (entry, [])


@pytest.mark.parametrize("kind", FULL)
def test_what_may_be_left_out_may_be_left_out(kind: str) -> None:
    needed = ("kind", "on", *REQUIRED[kind])
    entry = {key: value for key, value in FULL[kind].items() if key in needed}
    assert validate(entry) == (entry, [])


@pytest.mark.parametrize(
    ("kind", "key"),
    [(kind, key) for kind, keys in REQUIRED.items() for key in ("on", *keys)],
)
def test_what_is_required_is_missed_by_name(kind: str, key: str) -> None:
    entry = {name: value for name, value in FULL[kind].items() if name != key}
    assert "is missing" in refused(entry)[key]


@pytest.mark.parametrize("kind", FULL)
def test_an_unknown_key_is_refused_by_name(kind: str) -> None:
    assert "is not a key here" in refused(FULL[kind] | {"colour": None})["colour"]


def test_the_nearest_key_is_said() -> None:
    assert "did you mean turnout?" in refused(FULL["group"] | {"turnuot": "x"})["turnuot"]
    finding = {"foot": "LF", "claw": "outer", "code": "SU", "serverity": 2}
    text = refused(feet(findings=[finding]))["findings[0].serverity"]
    assert "did you mean severity?" in text


def test_kinds_are_named_where_one_is_unknown() -> None:
    assert "did you mean mobility?" in refused(said("mobilty"))["kind"]
    assert "is missing" in refused({"on": "2026-04-03"})["kind"]
    assert "3 is not a kind" in refused({"kind": 3})["kind"]


WRONG: list[tuple[str, dict[str, Any], str]] = [
    ("bull", {"temper": "mad"}, "temper"),
    ("bull", {"heifer_safe": "yes"}, "heifer_safe"),
    ("bull", {"heifer_safe": 1}, "heifer_safe"),
    ("bull", {"origin": "found"}, "origin"),
    ("bull", {"bull": 417}, "bull"),
    ("bull", {"bull": "  "}, "bull"),
    ("bull", {"name": "x" * 121}, "name"),
    ("weight", {"kg": -5}, "kg"),
    ("weight", {"kg": "980"}, "kg"),
    ("weight", {"kg": True}, "kg"),
    ("weight", {"kg": 12000}, "kg"),
    ("group", {"class": "calves"}, "class"),
    ("group", {"weeks": 0}, "weeks"),
    ("group", {"weeks": 9.5}, "weeks"),
    ("group", {"females": -1}, "females"),
    ("group", {"bull": "00417"}, "bull"),
    ("join", {"role": "spare"}, "role"),
    ("join", {"group": 3}, "group"),
    ("feet", {"lifted": "LF"}, "lifted"),
    ("feet", {"lifted": ["LF", "LX"]}, "lifted[1]"),
    ("feet", {"findings": [3]}, "findings[0]"),
    ("block-on", {"claw": "both"}, "claw"),
    ("block-on", {"lost": True}, "lost"),
    ("block-off", {"lost": "yes"}, "lost"),
    ("mobility", {"scale": "gb0-5"}, "scale"),
    ("mobility", {"limb": "left"}, "limb"),
    ("condition", {"scale": "ten"}, "scale"),
    ("vet-exam", {"outcome": "fine"}, "outcome"),
    ("vet-exam", {"motility_pct": 101}, "motility_pct"),
    ("vet-exam", {"scrotum_cm": 360}, "scrotum_cm"),
    ("vet-exam", {"stands": "yes"}, "stands"),
    ("vet-look", {"about": "teeth"}, "about"),
    ("vet-look", {"outcome": "satisfactory"}, "outcome"),
    ("vet-look", {"again_on": "3 may"}, "again_on"),
    ("vet-look", {"part": "knee"}, "part"),
    ("vet-look", {"limb": "left"}, "limb"),
    ("body", {"part": "knee"}, "part"),
    ("body", {"limb": "left"}, "limb"),
    ("body", {"state": "fine"}, "state"),
    ("body", {"state": True}, "state"),
    ("feet", {"work": [{"foot": "LF", "act": "bandage"}]}, "work[0].act"),
    ("incident", {"cause": "storm"}, "cause"),
    ("incident", {"suspect": "hip"}, "suspect"),
    ("treatment", {"product": ""}, "product"),
    ("treatment", {"pain_relief": None, "withdrawal_until": "soon"}, "withdrawal_until"),
    ("check", {"result": "done"}, "result"),
    ("check", {"check": "bvd test"}, "check"),
    ("check", {"check": "vet-exam"}, "check"),
    ("check", {"check": "today"}, "check"),
    ("check", {"check": "turnout"}, "check"),
    ("moved", {"act": "sold"}, "act"),
    ("moved", {"reason": "tired"}, "reason"),
    ("strike", {"entry": "417"}, "entry"),
    ("strike", {"entry": ID.replace("-", "")}, "entry"),
]


@pytest.mark.parametrize(("kind", "wrong", "field"), WRONG)
def test_wrong_values_are_refused_by_field(kind: str, wrong: Sample, field: str) -> None:
    assert list(refused(FULL[kind] | wrong)) == [field]


@pytest.mark.parametrize(
    ("day", "why"),
    [
        ("2026-02-31", "no day"),
        ("2026-02-29", "no day"),
        ("31/02", "03/04 could be March or April"),
        ("03/04/2026", "year-month-day"),
        ("20260403", "year-month-day"),
        ("2026-W14-5", "year-month-day"),
        ("2026-4-3", "year-month-day"),
        ("2026-04-03T10:00", "year-month-day"),
        ("٢٠٢٦-٠٤-٠٣", "year-month-day"),
        ("1989-12-31", "1990 to 2100"),
        ("2101-01-01", "1990 to 2100"),
        (20260403, "year-month-day"),
    ],
)
def test_dates_are_iso_and_in_the_calendar(day: Any, why: str) -> None:
    assert why in refused(said("weight", kg=900, on=day))["on"]


@pytest.mark.parametrize(
    ("scale", "score", "span"),
    [
        # The published ranges: AHDB mobility scoring guide 0-3; Sprecher et al. 1997 1-5.
        ("gb0-3", 4, "0 to 3"),
        ("nz0-3", 4, "0 to 3"),
        ("five1-5", 0, "1 to 5"),
        ("gb0-3", -1, "0 to 3"),
        ("gb0-3", 1.5, "whole numbers"),
    ],
)
def test_a_walk_score_off_its_scale_is_refused_with_the_range(
    scale: str, score: float, span: str
) -> None:
    assert span in refused(said("mobility", scale=scale, score=score))["score"]


@pytest.mark.parametrize(
    ("scale", "score", "span"),
    [
        ("five", 5.25, "1 to 5"),
        ("five", 3.1, "quarters"),
        ("nine", 0.5, "1 to 9"),
        ("nine", 5.25, "halves"),
    ],
)
def test_a_condition_score_off_its_scale_is_refused_with_the_range(
    scale: str, score: float, span: str
) -> None:
    assert span in refused(said("condition", scale=scale, score=score))["score"]


@pytest.mark.parametrize(
    ("kind", "key", "words"),
    [
        ("vet-look", "outcome", "a vet-look entry needs it: write one of fit, unfit, again"),
        ("body", "state", "a body entry needs it: write one of wrong, watch, right"),
        ("body", "part", "write one of penis, sheath, scrotum, eyes, mouth, joint, back, other"),
        ("vet-exam", "outcome", "write one of satisfactory, deferred, unsatisfactory"),
    ],
)
def test_where_a_word_is_missing_the_words_are_said(kind: str, key: str, words: str) -> None:
    entry = {name: value for name, value in FULL[kind].items() if name != key}
    assert refused(entry)[key].endswith(words)


def test_where_no_fixed_word_is_missing_none_is_said() -> None:
    entry = {name: value for name, value in FULL["weight"].items() if name != "kg"}
    assert refused(entry)["kg"] == "is missing; a weight entry needs it"


@pytest.mark.parametrize(
    ("kind", "wrong", "field", "words"),
    [
        ("vet-look", {"outcome": "fut"}, "outcome",
         "write one of fit, unfit, again; did you mean fit?"),
        ("body", {"part": "eye"}, "part", "did you mean eyes?"),
        ("body", {"state": "rigth"}, "state",
         "write one of wrong, watch, right; did you mean right?"),
        ("moved", {"reason": "lent"}, "reason", "rested, lame, hired, other"),
        ("bull", {"origin": "hire"}, "origin",
         "write one of homebred, bought, hired; did you mean hired?"),
        ("group", {"weeks": "none"}, "weeks", "is not a number"),
        ("group", {"class": "calves"}, "class", "write one of cows, heifers"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_what_to_write(
    kind: str, wrong: Sample, field: str, words: str
) -> None:
    assert words in refused(FULL[kind] | wrong)[field]


def test_every_problem_is_found_in_one_go() -> None:
    wrong = said("feet", on="31/02", lifted=["XX"], work=[{"foot": "LF"}])
    assert set(refused(wrong)) == {"on", "lifted[0]", "work[0].act"}


def test_an_export_s_keys_are_checked_and_left_out() -> None:
    receipt = {
        "id": ID.upper(),
        "recorded": "2026-04-03T10:44:00+01:00",
        "position": 3,
        "batch": "b1",
        "device": "shed",
    }
    entry = FULL["weight"]
    assert validate(entry | receipt) == (entry, [])
    assert "not a moment" in refused(entry | {"recorded": "2026-04-03T10:44:00"})["recorded"]
    assert "UUID" in refused(entry | {"id": "3"})["id"]
    assert "out of range" in refused(entry | {"position": -1})["position"]
