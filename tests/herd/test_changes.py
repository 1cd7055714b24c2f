"""Why a bull stands otherwise: on random books what is said adds up, and what is "too old" is."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest

from readiness.cover.groups import groups_of_board
from readiness.cover.what_if import what_if
from readiness.engine.results import Board
from readiness.herd.board import Herd, assess_herd, fold_book
from readiness.herd.changes import changes
from tests.build import RULES, entries_of
from tests.reference.books import random_book

ON = date(2026, 4, 3)
SEEDS = range(25)
DAYS = (4, 11, 18, 34, 69, 160)
"""Days from ``ON`` to the turnouts that are compared, each with each."""
COMES, GOES = ("too-old", "asked"), ("recent-enough", "not-asked")


def herds(seed: int) -> list[Herd]:
    entries = entries_of(random_book(seed, 12, 14, ON))
    today = ON.toordinal()
    return [fold_book(entries, RULES, today, today + days) for days in DAYS]


def pairs(seed: int) -> list[tuple[Herd, Board, Herd, Board]]:
    boards = [(herd, assess_herd(herd)) for herd in herds(seed)]
    return [(*one, *other) for one in boards for other in boards if one is not other]


@pytest.mark.long
def test_what_comes_and_goes_is_the_whole_difference() -> None:
    """From how he stood and what is said of it follows how he would stand."""
    seen: Counter[str] = Counter()
    for seed in SEEDS:
        for _, before, _, after in pairs(seed):
            for change in changes(before, after):
                old, new = change.before, change.after
                jobs: set[str | None] = {check.id for check in old.outstanding}
                jobs |= {each.check for each in change.why if each.what in COMES}
                jobs -= {each.check for each in change.why if each.what in GOES}
                assert jobs == {check.id for check in new.outstanding}
                why = {(r.rule, r.text) for r in old.reasons}
                why |= {(e.rule, e.text) for e in change.why if e.what == "reason-comes"}
                why -= {(e.rule, e.text) for e in change.why if e.what == "reason-goes"}
                assert why == {(r.rule, r.text) for r in new.reasons}
                if (old.status, old.hold) != (new.status, new.hold):
                    assert change.why
                seen.update(each.what for each in change.why)
    assert set(seen) >= {*COMES, *GOES, "reason-comes", "reason-goes", "day-lost", "day-gained"}


@pytest.mark.parametrize(
    ("kind", "done", "limit"),
    [("mobility", "walk", "mobility_oldest"), ("condition", "condition", "condition_oldest"),
     ("vet-exam", "exam", "vet_oldest")],
)  # fmt: skip
def test_what_is_too_old_was_done_and_is_older_than_the_rule_allows(
    kind: str, done: str, limit: str
) -> None:
    found = 0
    for seed in SEEDS:
        for herd, before, _, after in pairs(seed):
            states = {state.key: state for state in herd.states}
            for change in changes(before, after):
                for cause in change.why:
                    if cause.kind != kind or cause.what not in ("too-old", "recent-enough"):
                        continue
                    state = states[change.after.key]
                    oldest = getattr(state.rules.limits, limit)
                    day = getattr(state, done).day
                    turnouts = (change.before.turnout or 0, change.after.turnout or 0)
                    assert min(turnouts) - oldest <= day < max(turnouts) - oldest
                    assert (cause.what == "too-old") == (turnouts[0] < turnouts[1])
                    found += 1
    assert found > 20


@pytest.mark.long
def test_there_and_back_again_is_the_same_the_other_way_round() -> None:
    moved = 0
    for seed in SEEDS:
        for herd, before, then, after in pairs(seed):
            one = (before, groups_of_board(herd, before))
            other = (after, groups_of_board(then, after))
            there, back = what_if(one, other), what_if(other, one)
            assert {b.key for b in there.ready} == {b.key for b in back.lost}
            assert (there.jobs_added, there.jobs_gone) == (back.jobs_gone, back.jobs_added)
            ready = {bull.key for bull in before.bulls if bull.in_time}
            then_ready = {bull.key for bull in after.bulls if bull.in_time}
            assert ready - {b.key for b in there.lost} | {b.key for b in there.ready} == then_ready
            moved += len(there.ready) + len(there.lost)
    assert moved > 20
