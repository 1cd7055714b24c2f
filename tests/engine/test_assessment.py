"""The whole assessment over random books, against the plain search over days in
``tests.reference``, written from its meaning by somebody who had not seen the engine."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from readiness.engine.results import Assessment
from readiness.herd.board import assess_book
from readiness.rules.load import load_rules
from readiness.trade.tags import tag_key
from tests.build import TAG, entries_of
from tests.engine.alike import ours, rule_book, theirs
from tests.engine.doing import done_in_time
from tests.reference.books import OWN_CHECKS, examined_twice, random_book, some_written_ahead
from tests.reference.brute import brute_board
from tests.reference.strategies import books
from tests.volume import examples, sampled

ON = date(2026, 4, 3)
DEFAULT = load_rules(None)
OWN = {"checks": OWN_CHECKS}


def _agree(
    contents: list[dict[str, Any]],
    on: date,
    *,
    turnout: date | None = None,
    plain: dict[str, Any] | None = None,
) -> list[Assessment]:
    board = assess_book(
        entries_of(contents),
        rule_book(plain),
        on.toordinal(),
        turnout=None if turnout is None else turnout.toordinal(),
    )
    expected = [theirs(bull) for bull in brute_board(contents, on, plain, turnout)]
    said = [ours(bull) for bull in board.bulls]
    assert {b["bull"]: b for b in said} == {b["bull"]: b for b in expected}
    # A tag spelled in two ways stands by its letters here, by how it is written there.
    assert [(b["hold"], b["slack_days"]) for b in said] == [
        (b["hold"], b["slack_days"]) for b in expected
    ]
    return list(board.bulls)


@settings(max_examples=examples(300))
@given(books(ON), st.integers(-20, 20))
def test_a_small_random_book_agrees_with_the_search_over_days(
    contents: list[dict[str, Any]], shift: int
) -> None:
    _agree(contents, ON + timedelta(days=shift))


@sampled("seed", range(24), first=6)
def test_forty_bulls_agree_with_the_search_over_days(seed: int) -> None:
    seen = _agree(random_book(seed, 40, 12, ON), ON)
    assert {bull.status for bull in seen} == {"GO", "HOLD"} or len(seen) < 40


@sampled("chunk", range(12), most=5)
def test_ten_thousand_bulls_agree_with_the_search_over_days(chunk: int) -> None:
    seen = [
        bull
        for seed in range(1000 + 25 * chunk, 1025 + 25 * chunk)
        for bull in _agree(random_book(seed, 40, 12, ON), ON)
    ]
    assert len(seen) > 10_000 / 12


@sampled("seed", range(12), first=3)
def test_another_turnout_and_another_day_agree_with_the_search_over_days(seed: int) -> None:
    contents = random_book(100 + seed, 12, 16, ON)
    for ahead in (-3, 0, 1, 6, 14, 35, 62, 130):
        _agree(contents, ON - timedelta(days=seed), turnout=ON + timedelta(days=ahead))


@sampled("seed", range(12), first=3)
def test_groups_spelt_in_two_ways_agree_with_the_search_over_days(seed: int) -> None:
    """As copies of a book put together may have them."""
    rng = Random(seed)
    ways = (str, str.upper, str.lower, lambda name: f"  {name}  ".replace(" ", "  "))
    contents = [
        {**said, "group": rng.choice(ways)(said["group"])} if said.get("group") else said
        for said in random_book(800 + seed, 20, 12, ON)
    ]
    names = {said["group"] for said in contents if said["kind"] == "group"}
    assert len(names) > len({" ".join(name.casefold().split()) for name in names})
    assert any(bull.group for bull in _agree(contents, ON))


@sampled("seed", range(12), first=3)
def test_a_farms_own_checks_agree_with_the_search_over_days(seed: int) -> None:
    contents = random_book(200 + seed, 20, 14, ON)
    for bull in _agree(contents, ON, plain=OWN):
        assert all(check.check != "bvd-test" or check.who == "vet" for check in bull.outstanding)


@sampled("seed", range(24), first=6)
def test_what_was_written_before_its_day_agrees_with_the_search_over_days(seed: int) -> None:
    contents = some_written_ahead(random_book(600 + seed, 40, 12, ON))
    _agree(contents, ON, plain=OWN)


@sampled("seed", range(12), first=3)
def test_two_words_of_one_day_agree_with_the_search_over_days(seed: int) -> None:
    contents = examined_twice(random_book(700 + seed, 40, 12, ON))
    _agree(contents, ON, plain=OWN)


@sampled("seed", range(12), first=3)
def test_farms_that_ask_for_no_examination_agree_with_the_search_over_days(seed: int) -> None:
    contents = random_book(250 + seed, 20, 14, ON)
    _agree(contents, ON, plain={"vet.required": False})


@sampled("seed", range(12), first=3)
def test_the_chain_adds_up_from_its_start_to_the_day_he_can_be_ready(seed: int) -> None:
    contents = random_book(300 + seed, 30, 14, ON)
    days = {entry.id: entry.day for entry in entries_of(contents)}
    spoken_of = {  # an entry may speak of other days than its own
        said["id"]: [
            date.fromisoformat(said[field]).toordinal()
            for field in ("born", "arrived")
            if field in said
        ]
        for said in contents
        if said["kind"] == "bull"
    }
    for bull in assess_book(entries_of(contents), DEFAULT, ON.toordinal()).bulls:
        if bull.earliest_ready is None:
            assert not bull.chain
            continue
        start = bull.chain[0].frm
        may_be = [{"today": ON.toordinal(), **days}[start], *spoken_of.get(start, ())]
        took = sum(link.days for link in bull.chain)
        assert bull.earliest_ready in [first + took for first in may_be]
        assert bull.chain[-1].to == "turnout"
        for one, two in pairwise(bull.chain):
            assert one.to == two.frm


@sampled("seed", range(12), first=3)
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


@sampled("seed", range(12), first=3)
def test_a_bull_whose_booking_alone_was_taken_back_stays_on_the_board_and_is_held(
    seed: int,
) -> None:
    """As the search over days has it; only two copies of a book put together can say so."""
    contents = random_book(700 + seed, 20, 8, ON)
    booked = [said for said in contents if said["kind"] == "bull"][::2]
    strikes = [
        {"kind": "strike", "on": "2026-04-02", "entry": said["id"], "id": f"strike-{said['id']}"}
        for said in booked
    ]
    lost = {tag_key(said["bull"]) for said in booked}
    again = {tag_key(s["bull"]) for s in contents if s["kind"] == "bull" and s not in booked}
    seen = {bull.key: bull for bull in _agree([*contents, *strikes], ON)}
    held = [bull for key, bull in seen.items() if key in lost - again]
    assert held
    assert all((b.status, b.earliest_ready) == ("HOLD", None) for b in held)
    assert all(b.reasons[0].rule == "booking.stands" for b in held)


def _lasting(text: str) -> bool:
    return text.startswith(("lame", "block on", "vet:", "condition")) or ", open since" in text


@pytest.mark.parametrize("seed", range(6))
def test_a_forecast_is_kept_where_every_check_passes_on_its_first_day(seed: int) -> None:
    contents = random_book(500 + seed, 20, 12, ON)
    struck = {said["entry"] for said in contents if said["kind"] == "strike"}
    heifers = {said["group"] for said in contents if said.get("class") == "heifers"}
    for bull in assess_book(entries_of(contents), DEFAULT, ON.toordinal()).bulls:
        if bull.earliest_ready is None or bull.group in heifers:
            continue
        told = [s for s in contents if tag_key(s.get("bull", "")) == bull.key]
        told = [{**s, "bull": TAG} for s in told if s["id"] not in struck]
        kept = done_in_time(told, DEFAULT.common, ON.toordinal(), bull.earliest_ready)
        assert kept.status == "GO", (bull.bull, kept.reasons, kept.outstanding)
