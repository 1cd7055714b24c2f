"""What is asked of a plan: promises, days and farms that can be met, and the others refused in a
sentence."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from readiness.rules.model import RuleBook
from readiness.system.errors import UsageError
from readiness.visits.asked import Promise, Wishes, asked_of
from readiness.visits.windows import Asked
from tests.build import FEET, RULES, day, said
from tests.visits.herds import TODAY, bull, found, herd_of, keep, lame, plan_of, rules_of, visited

ASH, BECK = "Ash Farm", "Beck Farm"
SHARE = "[rules]\nvisits.share_day = true\n"


def asked(
    *farms: str, rules: RuleBook = RULES, first: str | None = None, days: int | None = None,
    minutes: int | None = None, kept: tuple[Promise, ...] = (),
) -> Asked:  # fmt: skip
    begin = None if first is None else date.fromisoformat(first)
    return asked_of(Wishes(begin, days, minutes, kept), farms or ("",), rules, day(TODAY))


def refused(
    *farms: str, rules: RuleBook = RULES, first: str | None = None, days: int | None = None,
    kept: tuple[Promise, ...] = (),
) -> str:  # fmt: skip
    """The one sentence of a refusal."""
    with pytest.raises(UsageError) as caught:
        asked(*farms, rules=rules, first=first, days=days, kept=kept)
    said = str(caught.value)
    assert caught.value.exit_code == 2
    assert "\n" not in said
    assert said[0].isupper()
    assert re.findall(r"[.!?](?= |$)", said) == ["."], said
    assert said.endswith(".")
    return said


# ---- days and minutes ----------------------------------------------------------------------------


def test_a_plan_is_from_the_day_assessed_and_looks_ninety_days_ahead() -> None:
    plan = asked()
    assert (plan.first, plan.last, plan.minutes) == (day(TODAY), day("2026-07-02"), 480)
    (farm,) = plan.farms
    assert (farm.name, farm.minutes, farm.shares, farm.kept) == ("", 480, False, ())


def test_how_far_ahead_and_how_long_a_day_is_are_rules(tmp_path: Path) -> None:
    rules = rules_of(
        tmp_path,
        "[rules]\nvisits.ahead = 14\nminutes.day = 300\n"
        '[farm."Beck Farm".rules]\nminutes.day = 200\nvisits.workdays = "FREQ=WEEKLY;BYDAY=WE"\n',
    )
    plan = asked(ASH, BECK, rules=rules)
    assert (plan.last, plan.minutes) == (day("2026-04-17"), 300)
    assert [farm.minutes for farm in plan.farms] == [300, 200]
    assert plan.farms[1].days == (day("2026-04-08"), day("2026-04-15"))


def test_wishes_go_before_the_rules(tmp_path: Path) -> None:
    rules = rules_of(tmp_path, "[rules]\nvisits.ahead = 14\nminutes.day = 300\n")
    plan = asked(ASH, rules=rules, first="2026-04-10", days=3, minutes=90)
    assert (plan.first, plan.last, plan.minutes) == (day("2026-04-10"), day("2026-04-13"), 90)
    assert plan.farms[0].minutes == 90
    assert plan.farms[0].days == tuple(day(f"2026-04-{n}") for n in (10, 11, 13))


def test_a_plan_cannot_begin_in_the_past() -> None:
    assert refused(first="2026-04-02") == (
        "A plan cannot begin on Thu 2 Apr 2026, before the day assessed, Fri 3 Apr 2026: give a "
        "later --from."
    )
    assert asked(first=TODAY).first == day(TODAY)


def test_no_working_day() -> None:
    assert refused(first="2026-04-05", days=0) == (
        "There is no working day from Sun 5 Apr 2026 to Sun 5 Apr 2026: change visits.workdays or "
        "visits.except in the rules, or give another --from or --days."
    )


def test_no_working_day_at_one_of_the_farms(tmp_path: Path) -> None:
    rules = rules_of(
        tmp_path, '[farm."Beck Farm".rules]\nvisits.except = ["2026-01-01/2026-12-31"]\n'
    )
    assert refused(ASH, BECK, rules=rules).startswith(
        "There is no working day at Beck Farm from Fri 3 Apr 2026 to Thu 2 Jul 2026: "
    )
    assert len(asked(ASH, rules=rules).farms) == 1


# ---- promises ------------------------------------------------------------------------------------


def test_a_promise_to_the_only_farm_needs_no_name() -> None:
    (farm,) = asked(ASH, kept=(keep("2026-04-07"),)).farms
    assert farm.kept == (day("2026-04-07"),)


def test_promises_are_sorted_and_each_counts_once() -> None:
    kept = (keep("2026-04-21", ASH), keep("2026-04-07", ASH), keep("2026-04-21", ASH))
    ash, beck = asked(ASH, BECK, kept=kept).farms
    assert ash.kept == (day("2026-04-07"), day("2026-04-21"))
    assert beck.kept == ()


def test_a_promise_may_be_on_a_day_on_which_nobody_works_else() -> None:
    """Sunday the 5th is among the farm's days then; the next Sunday is not."""
    (farm,) = asked(ASH, kept=(keep("2026-04-05"),)).farms
    assert day("2026-04-05") in farm.days
    assert day("2026-04-12") not in farm.days
    (only,) = asked(ASH, first="2026-04-05", days=0, kept=(keep("2026-04-05"),)).farms
    assert only.days == only.kept == (day("2026-04-05"),)


@pytest.mark.parametrize("on", ["2026-04-02", "2026-07-03"])
def test_a_promise_outside_the_plan(on: str) -> None:
    said = refused(ASH, kept=(keep(on),))
    assert said.startswith("The promised visit on ")
    assert "is not among the days planned, Fri 3 Apr 2026 to Thu 2 Jul 2026" in said


@pytest.mark.parametrize("on", [TODAY, "2026-07-02"])
def test_a_promise_on_the_first_or_the_last_day_of_the_plan(on: str) -> None:
    assert asked(ASH, kept=(keep(on),)).farms[0].kept == (day(on),)


def test_a_promise_on_an_exception_contradicts_it(tmp_path: Path) -> None:
    rules = rules_of(tmp_path, '[rules]\nvisits.except = ["2026-04-06/2026-04-08"]\n')
    assert refused(ASH, rules=rules, kept=(keep("2026-04-07"),)) == (
        "The promised visit on Tue 7 Apr 2026 is on a day that visits.except leaves out: take away "
        "one of the two."
    )


def test_an_exception_of_one_farm_is_no_other_farm_s(tmp_path: Path) -> None:
    rules = rules_of(tmp_path, '[farm."Beck Farm".rules]\nvisits.except = ["2026-04-07"]\n')
    assert asked(ASH, BECK, rules=rules, kept=(keep("2026-04-07", ASH),)).farms[0].kept
    assert "visits.except" in refused(ASH, BECK, rules=rules, kept=(keep("2026-04-07", BECK),))


def test_which_farm_is_promised() -> None:
    """Two farms may be meant: a question, and how to answer it."""
    with pytest.raises(UsageError) as caught:
        asked(ASH, BECK, kept=(keep("2026-04-07"),))
    assert str(caught.value) == (
        'Which farm is promised 2026-04-07? Write --keep "2026-04-07 FARM"; there are Ash Farm and '
        "Beck Farm."
    )


def test_a_farm_that_is_not_there() -> None:
    assert refused(ASH, BECK, kept=(keep("2026-04-07", "Crow Farm"),)) == (
        "There is no farm Crow Farm to visit on 2026-04-07; there are Ash Farm and Beck Farm."
    )
    assert refused(ASH, kept=(keep("2026-04-07", "Crow Farm"),)).endswith("; there is Ash Farm.")


# ---- two farms on one day ------------------------------------------------------------------------

SAME = (keep("2026-04-07", ASH), keep("2026-04-07", BECK))


def test_one_day_promised_to_two_farms_that_do_not_share_it() -> None:
    assert refused(ASH, BECK, kept=SAME) == (
        "Both Ash Farm and Beck Farm are promised Tue 7 Apr 2026, and they do not share a day: "
        "take one --keep away, or set visits.share_day for both."
    )


def test_it_is_not_enough_that_one_of_them_would_share(tmp_path: Path) -> None:
    one = '[farm."{}".rules]\nvisits.share_day = true\n'
    for farm in (ASH, BECK):
        assert refused(ASH, BECK, rules=rules_of(tmp_path, one.format(farm)), kept=SAME)


def test_two_farms_that_share_may_both_be_promised_a_day(tmp_path: Path) -> None:
    farms = asked(ASH, BECK, rules=rules_of(tmp_path, SHARE), kept=SAME).farms
    assert [farm.kept for farm in farms] == [(day("2026-04-07"),)] * 2
    assert all(farm.shares for farm in farms)


def test_a_third_farm_that_does_not_share_stands_in_the_way_of_two_that_do(tmp_path: Path) -> None:
    rules = rules_of(tmp_path, SHARE + '[farm."Crow Farm".rules]\nvisits.share_day = false\n')
    kept = (*SAME, keep("2026-04-07", "Crow Farm"))
    said = refused(ASH, BECK, "Crow Farm", rules=rules, kept=kept)
    assert said.startswith("Both Ash Farm and Crow Farm are promised Tue 7 Apr 2026")


# ---- what comes of it ----------------------------------------------------------------------------


def test_a_promised_visit_takes_what_can_be_done_on_it() -> None:
    """The look has until 8 Apr, healed may be seen from the 6th: one promise on the 7th does both,
    and today nobody comes."""
    herd = herd_of(bull("B 1", found("B 1", "2026-03-04")))
    plan = plan_of(herd, Wishes(kept=(keep("2026-04-07"),)))
    both = [("B 1", ["look:LH:outer:SU", "clear:LH:outer:SU"])]
    assert visited(plan) == [("", "2026-04-07", both)]
    assert [visit.promised for visit in plan.visits] == [True]


def test_a_promise_takes_place_though_nothing_is_due() -> None:
    herd = herd_of(bull("B 1", said("feet", "2026-02-10", "B 1", lifted=FEET)))
    plan = plan_of(herd, Wishes(kept=(keep("2026-04-07"), keep("2026-04-21"))))
    assert visited(plan) == [("", "2026-04-07", []), ("", "2026-04-21", [])]
    assert all(visit.promised and visit.minutes == 0 for visit in plan.visits)


def test_farms_where_nothing_is_due_are_not_asked_about() -> None:
    """Only Ash Farm has work: the promise can mean no other, and Beck Farm may have no working day
    for all we care."""
    herd = herd_of(
        bull("B 1", said("feet", "2026-02-10", "B 1", lifted=FEET), lame("B 1", TODAY), farm=ASH),
        bull("B 2", said("feet", "2026-02-10", "B 2", lifted=FEET), farm=BECK),
    )
    plan = plan_of(herd, Wishes(kept=(keep("2026-04-04"),)))
    assert visited(plan) == [(ASH, "2026-04-04", [("B 1", ["lift"])])]
    promised = plan_of(herd, Wishes(kept=(keep("2026-04-07", BECK),)))
    assert (BECK, "2026-04-07", []) in visited(promised)
