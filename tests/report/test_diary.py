"""The diary: each outstanding check once, under the last day on which to do it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from readiness.diary import diary
from readiness.engine.results import Check
from readiness.report.diary_text import NOTHING, diary_text
from readiness.report.look import Look, cells
from tests.report.awkward import DAY, board, named

MODEL = named("Corran").outstanding[0]
DAYS = st.integers(DAY, DAY + 60)


@st.composite
def checks(draw: st.DrawFn) -> Check:
    due = draw(st.none() | st.integers(DAY - 30, DAY + 60))
    return replace(
        MODEL,
        id=f"lift:{draw(st.integers(0, 10**9))}",
        not_before=draw(DAYS),
        not_after=draw(st.none() | DAYS),
        due=due,
        overdue=due is not None and due < DAY,
        who=draw(st.sampled_from(("trimmer", "farmer", "vet"))),
    )


def last_day(check: Check) -> int:
    """The contract's words: the earlier of due and not_after; where neither exists or it lies
    before not_before: not_before."""
    if check.due is None and check.not_after is None:
        return check.not_before
    if check.due is None or check.not_after is None:
        end = check.not_after if check.due is None else check.due
        assert end is not None
    else:
        end = check.due if check.due < check.not_after else check.not_after
    return check.not_before if end < check.not_before else end


@given(st.lists(checks(), max_size=12), st.none() | st.integers(0, 60))
def test_each_check_stands_once_under_its_last_day(found: list[Check], ahead: int | None) -> None:
    bull = replace(named("Corran"), outstanding=tuple(found))
    listed = diary(replace(board(), bulls=(bull,)), ahead)
    assert sorted(due.check.id for due in listed.overdue) == sorted(
        c.id for c in found if c.overdue
    )
    on_days = [(day, due.check) for day, dues in listed.days for due in dues]
    wanted = [
        (last_day(check), check.id)
        for check in found
        if not check.overdue and (ahead is None or last_day(check) <= DAY + ahead)
    ]
    assert sorted((day, check.id) for day, check in on_days) == sorted(wanted)
    assert [day for day, _ in listed.days] == sorted({day for day, _ in wanted})


def test_within_a_day_by_who_does_it() -> None:
    for _, dues in diary(board()).days:
        who = [("trimmer", "farmer", "vet").index(due.check.who) for due in dues]
        assert who == sorted(who)


def test_text_says_when_nothing_is_due() -> None:
    text = diary_text(diary(replace(board(), bulls=())), Look(80))
    assert NOTHING in text


def test_text_fits_and_names_what_is_late() -> None:
    late = replace(MODEL, due=DAY - 2, overdue=True)
    bull = replace(named("Corran"), outstanding=(late,))
    text = diary_text(diary(replace(board(), bulls=(bull,))), Look(60))
    assert "! Overdue" in text and "due 1 Apr, 2 days ago" in " ".join(text.split())
    assert all(cells(line) <= 60 for line in diary_text(diary(board()), Look(60)).splitlines())
