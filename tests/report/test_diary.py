"""The diary: each outstanding check once. Programs read it under the last day on which to do it,
people under the day by which they plan it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from readiness.engine.results import Check, Remark
from readiness.herd.diary import diary, planned
from readiness.report.diary_lines import NOTHING, UNDATED, diary_text
from readiness.report.look import Look
from readiness.system.width import cells
from readiness.trade.checks import LIFTING
from tests.report.awkward import DAY, board, named

MODEL = named("Corran").outstanding[0]
DAYS = st.integers(DAY, DAY + 60)


@st.composite
def checks(draw: st.DrawFn) -> Check:
    due = draw(st.none() | st.integers(DAY - 30, DAY + 60))
    return MODEL._replace(
        id=f"lift:{draw(st.integers(0, 10**9))}",
        not_before=draw(DAYS),
        not_after=draw(st.none() | DAYS),
        due=due,
        advised_by=draw(st.none() | st.integers(DAY - 30, DAY + 60)),
        overdue=due is not None and due < DAY,
        who=draw(st.sampled_from(("trimmer", "farmer", "vet"))),
    )


def last_day(check: Check) -> int:
    """The earlier of due and not_after; where neither exists or it lies
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
    bull = named("Corran")._replace(outstanding=tuple(found))
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


@given(st.lists(checks(), max_size=12, unique_by=lambda c: c.id), st.none() | st.integers(0, 60))
def test_people_plan_each_check_once_and_never_later_than_its_last_day(
    found: list[Check], ahead: int | None
) -> None:
    """Under the advised day while that is to come, a lift after it as soon as it can be; what
    nothing says a day for stands apart."""
    bull = named("Corran")._replace(outstanding=tuple(found))
    listed = planned(replace(board(), bulls=(bull,)), ahead)
    end = DAY + 1000 if ahead is None else DAY + ahead
    under = {due.check.id: day for day, dues in listed.days for due in dues}
    apart = {due.check.id for due in listed.undated}
    late = {due.check.id for due in listed.overdue}
    for check in found:
        assert (check.id in late) == check.overdue
        if check.due is None and check.not_after is None:
            assert (check.id in apart) == (check.not_before <= end)
            continue
        assert check.id not in apart
        day = last_day(check)
        advised = check.advised_by
        if advised is not None and check.not_before <= advised < day:
            day = advised
        elif advised is not None and advised < day and check.check in LIFTING:
            day = check.not_before
        if not check.overdue:
            assert under.get(check.id) == (day if day <= end else None)
    assert len(under) + len(apart) + len(late) <= len(found)


def test_the_vet_is_planned_four_weeks_before_turnout_not_for_turnout_itself() -> None:
    """Brock goes out on 8 May: the examination is better by 10 Apr, and 8 May is the last day."""
    [(day, due)] = [
        (day, due) for day, dues in planned(board()).days for due in dues
        if due.name == "Brock" and due.check.check == "vet-exam"
    ]  # fmt: skip
    assert (day, due.check.last_day) == (DAY + 7, DAY + 35)
    text = " ".join(diary_text(planned(board()), Look(80)).split())
    assert "breeding examination by the vet, last 8 May" in text
    past = due.check._replace(advised_by=DAY - 1)
    bull = named("Brock")._replace(outstanding=(past,))
    [(day, _)] = planned(replace(board(), bulls=(bull,))).days
    assert day == DAY + 35


def test_a_bull_without_a_turnout_is_not_under_today() -> None:
    text = diary_text(planned(board()), Look(80))
    dated, apart = text.split(UNDATED)
    assert "Stray" not in dated and apart.count("Stray") == len(named("Stray").outstanding)


def test_the_diary_says_which_withdrawals_run_and_until_when() -> None:
    bull = named("Brock")._replace(advice=(*named("Brock").advice, WITHDRAWAL))
    shown = diary_text(planned(replace(board(), bulls=(bull,))), Look(80)).splitlines()
    assert "Not for slaughter: 00093 Brock, withdrawal until 20 Apr" in shown


WITHDRAWAL = Remark(
    "withdrawal.shown", "Calmazole: withdrawal until 20 Apr, not for slaughter before"
)


def test_within_a_day_the_vet_comes_first() -> None:
    for _, dues in diary(board()).days:
        who = [("vet", "trimmer", "farmer").index(due.check.who) for due in dues]
        assert who == sorted(who)


def test_text_says_when_nothing_is_due() -> None:
    text = diary_text(diary(replace(board(), bulls=())), Look(80))
    assert NOTHING in text


def test_text_fits_and_names_what_is_late() -> None:
    late = MODEL._replace(due=DAY - 2, overdue=True)
    bull = named("Corran")._replace(outstanding=(late,))
    text = diary_text(diary(replace(board(), bulls=(bull,))), Look(60))
    assert "! Overdue" in text and "2 days overdue (was due 1 Apr)" in " ".join(text.split())
    assert all(cells(line) <= 60 for line in diary_text(diary(board()), Look(60)).splitlines())


def test_no_name_no_farm_and_no_mark_of_a_dangerous_bull_is_cut_off() -> None:
    for width in (60, 80, 120):
        for name in ("Corran", "Corran of the name that fits into no column"):
            bulls = [
                named("Corran")._replace(name=name, temper="dangerous", farm="The Farm Far Away"),
                board().bulls[-1]._replace(farm="Another", outstanding=(MODEL,)),
            ]
            text = diary_text(diary(replace(board(), bulls=tuple(bulls))), Look(width))
            shown = sum("Corran" in line for line in text.splitlines())
            for end in (name.split()[-1], "!!,", "Away"):
                assert text.count(end) == shown > 0, (width, end)
            assert "…" not in text
            assert all(cells(line) <= width for line in text.splitlines())
