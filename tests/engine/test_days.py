"""The days of checks in one pass against the temporal network of the same bounds.

Beside it stand Dechter, Meiri & Pearl 1991 for what the network says, and networkx for that it says
it (test_network.py): here one pass over checks must say the same.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readiness.engine import assess as assessing
from readiness.engine import days
from readiness.engine.network import Contradiction
from readiness.engine.plan import Case, Plan, Wait
from readiness.herd.board import assess_book
from readiness.history import history
from readiness.rules.load import load_rules
from readiness.trade.checks import CHECKS
from tests.build import entries_of
from tests.reference.books import random_book
from tests.volume import examples

ON = 700_000
RULES = load_rules(None)
NOBODY = history([], RULES.common, ON, "0")
DAYS = st.integers(-40, 40)
NAMES = ("feet", "lift", "clear", "mobility", "vet-exam", "own")


@st.composite
def cases(draw: st.DrawFn) -> tuple[list[Plan], Case, list[days.Fact]]:
    """Checks that wait for entries and for each other, whichever is listed first."""
    plans: list[Plan] = []
    for at, name in enumerate(draw(st.lists(st.sampled_from(NAMES), max_size=6, unique=True))):
        plan = Plan(name, f"rule {name}", "farmer", name)
        plan.oldest = draw(st.none() | st.integers(0, 60))
        plan.tail = draw(st.integers(0, 30)) if draw(st.booleans()) else 0
        for turn in range(draw(st.integers(0, 3))):
            back = draw(st.booleans()) and at > 0
            frm = plans[draw(st.integers(0, at - 1))].id if back else ""
            frm = draw(st.sampled_from(NAMES)) if not back and draw(st.integers(0, 9)) == 0 else frm
            day = None if frm else ON + draw(DAYS)
            plan.waits.append(
                Wait(frm or f"e{turn}", day, draw(st.integers(0, 40)), "w", f"w{turn}")
            )
        plans.append(plan)
    planned = {plan.id: ON + draw(DAYS) for plan in plans if draw(st.integers(0, 4)) == 0}
    turnout = draw(st.none() | st.integers(ON, ON + 90))
    promised = turnout if draw(st.booleans()) else None
    facts = [
        days.Fact(f"f{at}", ON + draw(DAYS), draw(st.integers(0, 30)), "check.x", "x passed")
        for at in range(draw(st.integers(0, 2)))
    ]
    return plans, Case(NOBODY, ON, turnout, promised, False, planned), facts


def said(work: Any, *given: Any) -> Any:
    """What it says, or that no days fit."""
    try:
        return work(*given)
    except Contradiction:
        return "no days fit"


def only(found: Any, plans: list[Plan]) -> Any:
    """The days of the checks, without those of entries and turnout."""
    if isinstance(found, str):
        return found
    ids = {plan.id for plan in plans}
    return [{k: v for k, v in each.items() if k in ids and v < 1 << 39} for each in found]


@given(cases())
def test_days_are_those_of_the_network(of: tuple[list[Plan], Case, list[days.Fact]]) -> None:
    plans, case, _ = of
    one = only(said(days.days_of, plans, case), plans)
    assert one == only(said(days.days_by_network, plans, case), plans)


@given(cases())
def test_the_first_day_that_fits_and_its_chain_are_those_of_the_network(
    of: tuple[list[Plan], Case, list[days.Fact]],
) -> None:
    one, network = (said(work, *of) for work in (days.ready_of, days.ready_by_network))
    assert one == network


@pytest.mark.parametrize("seed", range(examples(40)))
def test_every_bull_of_a_book_stands_the_same_by_the_network_alone(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    on = date(2026, 4, 3)
    entries = entries_of(random_book(seed, 12, 25, on))
    quick = assess_book(entries, RULES, on.toordinal())
    monkeypatch.setattr(assessing, "days_of", days.days_by_network)
    monkeypatch.setattr(assessing, "ready_of", days.ready_by_network)
    assert assess_book(entries, RULES, on.toordinal()) == quick


def test_the_order_in_which_checks_are_told_is_that_of_their_names() -> None:
    plans = [Plan(name, "", "", "") for name in ("zz", *reversed(CHECKS), "aa")]
    assert [plan.id for plan in days.in_order(plans)] == [*CHECKS, "aa", "zz"]
