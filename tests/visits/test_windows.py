"""From entries to the planning problem: the windows of the trimmer's checks, worked by hand.

The reference is the arithmetic beside each case: the rules' days, counted on a calendar.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from readiness.herd.board import assess_herd
from readiness.visits.asked import Wishes, asked_of
from readiness.visits.problem import Job
from readiness.visits.windows import problem_of
from tests.build import FEET, day, said
from tests.visits.herds import (
    block,
    bull,
    found,
    grouped,
    herd_of,
    jobs_of,
    lame,
    problem_for,
    rules_of,
)

ENDLESS = 1 << 39
TO_8_MAY = "2026-05-08"


def window(job: Job) -> tuple[int, int]:
    return job.first, job.last


def days(first: str, last: str) -> tuple[int, int]:
    return day(first), day(last)


# ---- in time -------------------------------------------------------------------------------------


def test_an_ulcer_with_a_block_beside_it() -> None:
    """A moderate ulcer and a block of 4 Mar: the look 28 days on, a quarter of it sooner or later
    (25 Mar to 8 Apr); the block from 28 to 42 days (1 to 15 Apr); healed is plausible after 33
    (6 Apr), and that and the look under the block have until turnout."""
    jobs = jobs_of(
        herd_of(grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04"), block("B 1", "2026-03-04")))
    )
    assert {name: window(job) for name, job in jobs.items()} == {
        "look:LH:outer:SU": days("2026-04-03", "2026-04-08"),
        "block-off:LH:inner": days("2026-04-03", "2026-04-15"),
        "clear:LH:outer:SU": days("2026-04-06", TO_8_MAY),
        "block-look:LH:inner": days("2026-04-03", TO_8_MAY),
    }
    assert all(job.wanted == job.last and not job.overdue for job in jobs.values())


def test_turnout_ends_a_window_before_the_check_s_own_clock_does() -> None:
    """Turned out on 7 Apr, the walk that counts 7 days after the block: off by 31 Mar, which is
    past; the look is due on 8 Apr, but turnout is a day sooner."""
    jobs = jobs_of(
        herd_of(
            grouped("B 1", "2026-04-07", found("B 1", "2026-03-04"), block("B 1", "2026-03-04"))
        )
    )
    assert window(jobs["look:LH:outer:SU"]) == days("2026-04-03", "2026-04-07")
    assert jobs["block-off:LH:inner"].wanted == day("2026-03-31")


def test_a_routine_trim_is_wanted_a_week_before_turnout() -> None:
    """Never lifted, turned out on 8 May: 7 days before it is 1 May."""
    jobs = jobs_of(herd_of(grouped("B 1", TO_8_MAY)))
    assert window(jobs["feet"]) == days("2026-04-03", "2026-05-01")
    assert jobs["feet"].minutes == 15


def test_a_lame_bull_is_lifted_within_two_days() -> None:
    """Lame today, Friday: until Sunday the 5th, of which Friday and Saturday are working days."""
    jobs = jobs_of(herd_of(bull("B 1", lame("B 1", "2026-04-03"))))
    assert window(jobs["lift"]) == days("2026-04-03", "2026-04-05")
    assert jobs["lift"].minutes == 10


# ---- late, but not left alone --------------------------------------------------------------------


def test_what_is_past_has_a_week_from_today_and_says_when_it_was_wanted() -> None:
    """Lame on 20 Mar, to be lifted by the 22nd: overdue, and from today on for visits.late, 7."""
    jobs = jobs_of(herd_of(bull("B 1", lame("B 1", "2026-03-20"))))
    assert window(jobs["lift"]) == days("2026-04-03", "2026-04-10")
    assert jobs["lift"].wanted == day("2026-03-22")
    assert jobs["lift"].overdue


def test_what_has_no_room_before_turnout_is_late_without_being_overdue() -> None:
    """Healed is plausible on 6 Apr, 33 days after 4 Mar, and turnout is on the 5th."""
    jobs = jobs_of(herd_of(grouped("B 1", "2026-04-05", found("B 1", "2026-03-04"))))
    assert window(jobs["clear:LH:outer:SU"]) == days("2026-04-06", "2026-04-13")
    assert jobs["clear:LH:outer:SU"].wanted == day("2026-04-05")
    assert not jobs["clear:LH:outer:SU"].overdue


def test_a_window_of_a_sunday_alone_is_late() -> None:
    """Lame on Friday the 3rd; seen on Sunday the 5th, the last day, the first on which one may
    come is Monday."""
    herd = herd_of(bull("B 1", lame("B 1", "2026-04-03")), on="2026-04-05")
    assert window(jobs_of(herd)["lift"]) == days("2026-04-05", "2026-04-12")
    assert jobs_of(herd)["lift"].wanted == day("2026-04-05")


def test_a_window_of_holidays_alone_is_late(tmp_path: Path) -> None:
    """Nobody comes until the 8th, the look's last day: it has a week from its first on."""
    rules = rules_of(tmp_path, '[rules]\nvisits.except = ["2026-04-03/2026-04-08"]\n')
    herd = herd_of(grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04")), rules=rules)
    look = jobs_of(herd)["look:LH:outer:SU"]
    assert window(look) == days("2026-04-03", "2026-04-10")
    assert look.wanted == day("2026-04-08")


def test_how_late_is_a_rule_also_of_one_farm(tmp_path: Path) -> None:
    """visits.late: 3 for all, 0 at Low Farm."""
    rules = rules_of(
        tmp_path, '[rules]\nvisits.late = 3\n[farm."Low Farm".rules]\nvisits.late = 0\n'
    )
    herd = herd_of(
        bull("B 1", lame("B 1", "2026-03-20"), farm="Hill Farm"),
        bull("B 2", lame("B 2", "2026-03-20"), farm="Low Farm"),
        rules=rules,
    )
    lifts = {job.farm: window(job) for job in problem_for(herd).jobs if job.id == "lift"}
    assert lifts == {
        "Hill Farm": days("2026-04-03", "2026-04-06"),
        "Low Farm": days("2026-04-03", "2026-04-03"),
    }


# ---- one after another ---------------------------------------------------------------------------


def test_seen_healed_comes_after_the_look_and_after_the_block() -> None:
    jobs = jobs_of(
        herd_of(grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04"), block("B 1", "2026-03-04")))
    )
    assert set(jobs["clear:LH:outer:SU"].after) == {
        ("look:LH:outer:SU", 0),
        ("block-off:LH:inner", 0),
    }
    assert jobs["block-look:LH:inner"].after == (("block-off:LH:inner", 0),)
    assert jobs["look:LH:outer:SU"].after == ()


def test_what_waits_begins_no_sooner_than_what_it_waits_for_may_be_done(tmp_path: Path) -> None:
    """Nobody comes before 4 May: the look can be done on that day at the soonest, and so can what
    waits for it, though healed is plausible on 6 Apr. Turnout on 8 May leaves room for it."""
    rules = rules_of(tmp_path, '[rules]\nvisits.except = ["2026-04-03/2026-05-03"]\n')
    herd = herd_of(grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04")), rules=rules)
    assert window(jobs_of(herd)["clear:LH:outer:SU"]) == days("2026-05-04", TO_8_MAY)


def test_each_job_stands_behind_those_it_waits_for() -> None:
    herd = herd_of(
        grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04"), block("B 1", "2026-03-04")),
        grouped("B 2", TO_8_MAY, found("B 2", "2026-03-25", "DD", claw="skin", stage="M2")),
    )
    seen: set[tuple[str, str]] = set()
    jobs = problem_for(herd).jobs
    for job in jobs:
        assert {(job.bull, other) for other, _ in job.after} <= seen
        seen.add(job.key)
    assert any(job.after for job in jobs)


# ---- blocks --------------------------------------------------------------------------------------


def test_looking_under_a_block_costs_nothing_beside_taking_it_off() -> None:
    jobs = jobs_of(herd_of(grouped("B 1", TO_8_MAY, block("B 1", "2026-03-04"))))
    assert jobs["block-look:LH:inner"].beside == "block-off:LH:inner"
    assert {job.id for job in jobs.values() if job.beside} == {"block-look:LH:inner"}
    assert jobs["block-off:LH:inner"].beside is None


def test_a_look_under_a_block_that_is_off_goes_with_another_lift_of_that_foot() -> None:
    """Off on 2 Apr: the look under it within 3 days, and it takes its own 6 minutes, but for the
    day on which all four feet are lifted anyhow."""
    off = said("block-off", "2026-04-02", "B 1", foot="LH", claw="inner")
    jobs = jobs_of(herd_of(bull("B 1", block("B 1", "2026-02-20"), off)))
    look = jobs["block-look:LH:inner"]
    assert (look.beside, look.minutes) == ("feet", 6)
    assert window(look) == days("2026-04-03", "2026-04-05")


def test_each_block_goes_with_its_own_claw() -> None:
    jobs = jobs_of(
        herd_of(
            bull("B 1", block("B 1", "2026-03-04"), block("B 1", "2026-03-10", "RF", "outer")),
        )
    )
    assert {job.id: job.beside for job in jobs.values() if job.beside} == {
        "block-look:LH:inner": "block-off:LH:inner",
        "block-look:RF:outer": "block-off:RF:outer",
    }


# ---- whose checks --------------------------------------------------------------------------------


def test_the_vet_s_and_the_farmer_s_checks_are_not_planned() -> None:
    """A bull that walks lame and was never examined has plenty outstanding; one is the trimmer's:
    the lift (his feet were all lifted in February)."""
    lifted = said("feet", "2026-02-10", "B 1", lifted=FEET)
    herd = herd_of(grouped("B 1", TO_8_MAY, lifted, lame("B 1", "2026-04-03")))
    assert set(jobs_of(herd)) == {"lift"}


OWN = '[[check]]\nname = "{}"\nwho = "{}"\nfrom = 10\nto = 3\n'


def test_a_check_of_the_farm_s_own_is_planned_where_the_trimmer_does_it(tmp_path: Path) -> None:
    """10 to 3 days before 8 May: from 28 Apr to 5 May."""
    rules = rules_of(
        tmp_path,
        "[rules]\nminutes.own = 9\n"
        + OWN.format("claw-photo", "trimmer")
        + OWN.format("passport", "farmer")
        + OWN.format("blood", "vet"),
    )
    lifted = said("feet", "2026-02-10", "B 1", lifted=FEET)
    jobs = jobs_of(herd_of(grouped("B 1", TO_8_MAY, lifted), rules=rules))
    assert set(jobs) == {"claw-photo"}
    assert window(jobs["claw-photo"]) == days("2026-04-28", "2026-05-05")
    assert jobs["claw-photo"].minutes == 9


def test_minutes_are_those_of_his_own_farm(tmp_path: Path) -> None:
    rules = rules_of(
        tmp_path,
        '[rules]\nminutes.lift = 12\n[farm."Low Farm".rules]\nminutes.lift = 25\n',
    )
    herd = herd_of(
        bull("B 1", lame("B 1", "2026-04-03"), farm="Hill Farm"),
        bull("B 2", lame("B 2", "2026-04-03"), farm="Low Farm"),
        rules=rules,
    )
    assert {job.farm: job.minutes for job in problem_for(herd).jobs if job.id == "lift"} == {
        "Hill Farm": 12,
        "Low Farm": 25,
    }


@pytest.mark.parametrize(
    ("rule", "check"),
    [
        ("feet", "feet"),
        ("lift", "lift"),
        ("look", "look:LH:outer:SU"),
        ("clear", "clear:LH:outer:SU"),
        ("block_off", "block-off:LH:inner"),
        ("block_look", "block-look:LH:inner"),
    ],
)
def test_every_kind_of_check_has_its_own_minutes(tmp_path: Path, rule: str, check: str) -> None:
    rules = rules_of(tmp_path, f"[rules]\nminutes.{rule} = 77\n")
    ulcer = {"foot": "LH", "claw": "outer", "code": "SU", "severity": 2}
    herd = herd_of(
        grouped(
            "B 1",
            TO_8_MAY,
            said("feet", "2026-03-04", "B 1", lifted=["LH"], findings=[ulcer]),
            block("B 1", "2026-03-04"),
            lame("B 1", "2026-04-02"),
        ),
        rules=rules,
    )
    jobs = jobs_of(herd)
    assert {name for name, job in jobs.items() if job.minutes == 77} == {check}


# ---- bulls without a turnout ---------------------------------------------------------------------


def test_a_bull_without_a_group_has_no_turnout_to_be_ready_for() -> None:
    """The look keeps its own clock; seeing him healed is wanted by no day."""
    jobs = jobs_of(herd_of(bull("B 1", found("B 1", "2026-03-04"))))
    assert window(jobs["look:LH:outer:SU"]) == days("2026-04-03", "2026-04-08")
    clear = jobs["clear:LH:outer:SU"]
    assert clear.first == day("2026-04-06")
    assert clear.last == clear.wanted > ENDLESS


def test_a_bull_that_is_out_is_planned_for_what_holds_him_and_no_trim() -> None:
    """Out since March, lame today: he is lifted. Nobody asks for a routine trim where all four had
    been lifted; what he went out without stays to be done."""
    out = said("moved", "2026-03-01", "B 1", act="out")
    trim = said("feet", "2026-02-20", "B 1", lifted=["LF", "RF", "LH", "RH"])
    limping = lame("B 1", "2026-04-03")
    assert set(jobs_of(herd_of(grouped("B 1", "2026-03-01", out, limping)))) == {"feet", "lift"}
    jobs = jobs_of(herd_of(grouped("B 1", "2026-03-01", trim, out, limping)))
    assert set(jobs) == {"lift"}
    assert window(jobs["lift"]) == days("2026-04-03", "2026-04-05")


def test_a_bull_that_left_is_not_planned() -> None:
    left = said("moved", "2026-04-02", "B 1", act="left", reason="sold")
    assert jobs_of(herd_of(bull("B 1", lame("B 1", "2026-04-01"), left))) == {}


def test_once_turnout_has_passed_it_ends_no_window() -> None:
    """A trim due before a turnout of 5 March is due by no day now."""
    jobs = jobs_of(herd_of(grouped("B 1", "2026-03-05")))
    assert jobs["feet"].first == day("2026-04-03")
    assert jobs["feet"].last > ENDLESS
    assert not jobs["feet"].overdue


# ---- a later first day ---------------------------------------------------------------------------


def test_a_plan_from_later_on_begins_each_window_there() -> None:
    """From 14 Apr: the block has until the 15th; the look's 8 Apr is gone, so it has a week; what
    has until turnout still does. It is late then, and not overdue today."""
    herd = herd_of(grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04"), block("B 1", "2026-03-04")))
    jobs = jobs_of(herd, Wishes(date(2026, 4, 14)))
    assert {name: window(job) for name, job in jobs.items()} == {
        "look:LH:outer:SU": days("2026-04-14", "2026-04-21"),
        "block-off:LH:inner": days("2026-04-14", "2026-04-15"),
        "clear:LH:outer:SU": days("2026-04-14", TO_8_MAY),
        "block-look:LH:inner": days("2026-04-14", TO_8_MAY),
    }
    assert jobs["look:LH:outer:SU"].wanted == day("2026-04-08")
    assert not any(job.overdue for job in jobs.values())


def test_the_plan_ends_so_many_days_ahead() -> None:
    """90 days from 3 Apr is 2 Jul, a Thursday; --days 2 leaves Friday and Saturday; a Sunday is
    never among them."""
    herd = herd_of(bull("B 1", lame("B 1", "2026-04-03")))
    (farm,) = problem_for(herd).farms
    assert (farm.days[0], farm.days[-1]) == days("2026-04-03", "2026-07-02")
    assert day("2026-04-05") not in farm.days
    (farm,) = problem_for(herd, Wishes(days=2)).farms
    assert farm.days == (day("2026-04-03"), day("2026-04-04"))


def test_a_window_that_reaches_past_the_plan_is_cut_by_the_plan_s_days_alone() -> None:
    """Ten days ahead: healed may be seen until turnout, but only the farm's days count."""
    herd = herd_of(grouped("B 1", TO_8_MAY, found("B 1", "2026-03-04")))
    jobs = jobs_of(herd, Wishes(days=10))
    assert window(jobs["clear:LH:outer:SU"]) == days("2026-04-06", TO_8_MAY)


def test_a_farm_that_is_not_asked_for_has_no_jobs() -> None:
    herd = herd_of(
        bull("B 1", lame("B 1", "2026-04-03"), farm="Hill Farm"),
        bull("B 2", lame("B 2", "2026-04-03"), farm="Low Farm"),
    )
    asked = asked_of(Wishes(), ["Low Farm"], herd.rulebook, herd.on)
    jobs = problem_of(assess_herd(herd), herd.rulebook, asked).jobs
    assert [(job.bull, job.id) for job in jobs] == [("B2", "feet"), ("B2", "lift")]
