"""The whole assessment over random books, against the plain search over days in
``tests.reference``, written from the specification by somebody who had not seen the engine."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from readiness.engine.board import assess_book
from readiness.engine.results import Assessment
from readiness.entry import tag_key
from readiness.rules.load import default_rules, load_rules
from readiness.rules.model import RuleBook
from readiness.trade.body import PARTS
from tests.bench.books import entries_of
from tests.reference.books import random_book
from tests.reference.brute import brute_board
from tests.reference.strategies import books

ON = date(2026, 4, 3)
DEFAULT = default_rules()
OWN_CHECKS = """
[[check]]
name = "bvd-test"
who = "vet"
from = 60
to = 14
applies = "bought"
text = "BVD blood test back"

[[check]]
name = "ring-check"
who = "farmer"
from = 30
to = 3
applies = "all"
text = "nose ring sound"
"""
OWN_AS_PLAIN = {
    "checks": [
        {"name": "bvd-test", "who": "vet", "from": 60, "to": 14, "applies": "bought"},
        {"name": "ring-check", "who": "farmer", "from": 30, "to": 3, "applies": "all"},
    ]
}


def _day(ordinal: int | None) -> date | None:
    return None if ordinal is None else date.fromordinal(ordinal)


def _ours(bull: Assessment) -> dict[str, Any]:
    return {
        "bull": tag_key(bull.bull),
        "farm": bull.farm,
        "group": bull.group,
        "role": bull.role,
        "turnout": _day(bull.turnout),
        "status": bull.status,
        "hold": bull.hold,
        "outlook": bull.outlook,
        "earliest_ready": _day(bull.earliest_ready),
        "slack_days": bull.slack_days,
        "overdue": bull.overdue,
        "outstanding": {
            check.id: {
                "check": check.check,
                "foot": check.foot,
                "claw": check.claw,
                "code": check.code,
                "not_before": _day(check.not_before),
                "not_after": _day(check.not_after),
                "due": _day(check.due),
                "advised_by": _day(check.advised_by),
                "overdue": check.overdue,
                "feet": list(check.feet),
                "who": check.who,
            }
            for check in bull.outstanding
        },
        "reasons": {_kind(reason.rule, reason.text, reason) for reason in bull.reasons},
    }


KINDS = (
    ("lame", "lame"),
    ("condition", "condition"),
    ("vet to look again", "vet-again"),
    ("vet to look", "vet-look"),
    ("vet looked", "unfit"),
    ("vet:", "vet"),
    ("lift", "lift"),
    ("in quarantine", "quarantine"),
    ("too young", "age"),
    ("not safe with heifers", "heifers"),
    ("went out without", "went-out"),
)
"""How a reason begins, and what the reference calls it."""


def _kind(rule: str, text: str, reason: Any) -> tuple[str, str | None, str | None, str | None]:
    """Our reason in the reference's words: the kind, and the place where it has one."""
    if text.startswith("went out without"):
        return "went-out", None, None, None
    if rule.startswith("check."):
        return f"check:{rule.removeprefix('check.')}", None, None, None
    if reason.code is not None:
        return "finding", reason.foot, reason.claw, reason.code
    if text.startswith("block on"):
        return "block", reason.foot, reason.claw, None
    if text.startswith("wrap on"):
        return "wrap", reason.foot, None, None
    if rule.endswith(".least") and "held until the vet stands by it" in text:
        return "vet-figures", None, None, None
    if "wrong since" in text and not text.startswith("vet to look"):
        part = next(part for part, name in PARTS.items() if text.startswith(name))
        return "body", reason.foot, None, part
    for start, kind in KINDS:
        if text.startswith(start):
            return kind, None, None, None
    raise AssertionError(f"a reason of no known kind: {text}")


def _theirs(bull: dict[str, Any]) -> dict[str, Any]:
    outstanding = {
        check["id"]: {name: value for name, value in check.items() if name != "id"}
        for check in bull["outstanding"]
    }
    return {**bull, "bull": tag_key(bull["bull"]), "outstanding": outstanding}


def _agree(
    contents: list[dict[str, Any]],
    on: date,
    *,
    turnout: date | None = None,
    rules: RuleBook = DEFAULT,
    plain: dict[str, Any] | None = None,
) -> list[Assessment]:
    board = assess_book(
        entries_of(contents),
        rules,
        on.toordinal(),
        turnout=None if turnout is None else turnout.toordinal(),
    )
    expected = [_theirs(bull) for bull in brute_board(contents, on, plain, turnout)]
    ours = [_ours(bull) for bull in board.bulls]
    assert {b["bull"]: b for b in ours} == {b["bull"]: b for b in expected}
    # A tag spelled in two ways stands by its letters here, by how it is written there.
    assert [(b["hold"], b["slack_days"]) for b in ours] == [
        (b["hold"], b["slack_days"]) for b in expected
    ]
    return list(board.bulls)


@settings(max_examples=300, deadline=None)
@given(books(ON), st.integers(-20, 20))
def test_a_small_random_book_agrees_with_the_search_over_days(
    contents: list[dict[str, Any]], shift: int
) -> None:
    _agree(contents, ON + timedelta(days=shift))


@pytest.mark.parametrize("seed", range(24))
def test_forty_bulls_agree_with_the_search_over_days(seed: int) -> None:
    seen = _agree(random_book(seed, 40, 12, ON), ON)
    assert {bull.status for bull in seen} == {"GO", "HOLD"} or len(seen) < 40


@pytest.mark.parametrize("seed", range(12))
def test_another_turnout_and_another_day_agree_with_the_search_over_days(seed: int) -> None:
    contents = random_book(100 + seed, 12, 16, ON)
    for ahead in (-3, 0, 1, 6, 14, 35, 62, 130):
        _agree(contents, ON - timedelta(days=seed), turnout=ON + timedelta(days=ahead))


@pytest.mark.parametrize("seed", range(12))
def test_a_farms_own_checks_agree_with_the_search_over_days(seed: int, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text(OWN_CHECKS, encoding="utf-8")
    rules = load_rules(own)
    contents = random_book(200 + seed, 20, 14, ON)
    for bull in _agree(contents, ON, rules=rules, plain=OWN_AS_PLAIN):
        assert all(check.check != "bvd-test" or check.who == "vet" for check in bull.outstanding)


@pytest.mark.parametrize("seed", range(12))
def test_the_chain_adds_up_from_its_start_to_the_day_he_can_be_ready(seed: int) -> None:
    contents = random_book(300 + seed, 30, 14, ON)
    days = {entry.id: entry.day for entry in entries_of(contents)}
    arrived = {
        said["id"]: date.fromisoformat(said["arrived"]).toordinal()
        for said in contents
        if "arrived" in said
    }
    for bull in assess_book(entries_of(contents), DEFAULT, ON.toordinal()).bulls:
        if bull.earliest_ready is None:
            assert not bull.chain
            continue
        start = bull.chain[0].frm
        first = {"today": ON.toordinal(), **days, **arrived}[start]
        assert first + sum(link.days for link in bull.chain) == bull.earliest_ready
        assert bull.chain[-1].to == "turnout"
        for one, two in pairwise(bull.chain):
            assert one.to == two.frm


@pytest.mark.parametrize("seed", range(12))
def test_time_alone_never_clears_a_bull_held_for_a_finding_a_block_or_lameness(seed: int) -> None:
    """Do no harm: what holds him today for one of these holds him a year on, nothing being done."""
    entries = entries_of(random_book(400 + seed, 20, 14, ON))
    entries = [entry for entry in entries if entry.day <= ON.toordinal()]
    now = assess_book(entries, DEFAULT, ON.toordinal())
    later = {b.key: b for b in assess_book(entries, DEFAULT, ON.toordinal() + 365).bulls}
    for bull in now.bulls:
        held = {(r.rule, r.foot, r.claw, r.code) for r in bull.reasons if _lasting(r.text)}
        still = {(r.rule, r.foot, r.claw, r.code) for r in later[bull.key].reasons}
        assert held <= still


def _lasting(text: str) -> bool:
    return text.startswith(("lame", "block on", "vet:", "condition")) or ", open since" in text
