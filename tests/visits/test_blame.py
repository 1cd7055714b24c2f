"""Why a check has no day: each bound by a plan in which it is the one to blame."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.herd.board import Herd
from readiness.visits.asked import Promise, Wishes
from readiness.visits.plan import VisitPlan
from tests.build import FEET, Line, said
from tests.visits.herds import bull, found, grouped, herd_of, keep, lame, plan_of, rules_of, visited

HOLIDAYS = '[rules]\nvisits.except = ["2026-04-03/2026-05-10"]\n'
ASH, BECK = "Ash Farm", "Beck Farm"


def lifted(tag: str) -> Line:
    return said("feet", "2026-02-10", tag, lifted=FEET)


def lame_today(tag: str, farm: str | None = None) -> list[Line]:
    """Lame on Friday the 3rd: to be lifted by Sunday, so on Friday or Saturday."""
    return bull(tag, lifted(tag), lame(tag, "2026-04-03"), farm=farm)


def promised(*days: int, farm: str = BECK) -> tuple[Promise, ...]:
    return tuple(keep(f"2026-04-{day:02}", farm) for day in days)


def blamed(plan: VisitPlan) -> list[tuple[str, str, str, str]]:
    return [(each.bull.bull, each.check.id, each.why, each.rule) for each in plan.unplaced]


def test_where_everything_has_a_day_nothing_is_to_blame() -> None:
    plan = plan_of(herd_of(lame_today("B 1")))
    assert visited(plan) == [("", "2026-04-03", [("B 1", ["lift"])])]
    assert plan.unplaced == ()


def test_the_only_working_day_is_a_public_holiday(tmp_path: Path) -> None:
    """Good Friday, 3 Apr 2026; Easter Monday is none in Scotland."""
    own = (
        '[rules]\nvisits.workdays = "FREQ=WEEKLY;BYDAY=FR"\nvisits.except = [2026-04-10]\n'
        'visits.holidays = "GB-SCT"\n'
    )
    herd = herd_of(lame_today("B 1"), rules=rules_of(tmp_path, own))
    assert blamed(plan_of(herd)) == [
        ("B 1", "lift", "nobody can come from Fri 3 Apr 2026 to Fri 10 Apr 2026: Fri 3 Apr 2026 is "
         "Good Friday", "visits.holidays"),
    ]  # fmt: skip


def test_the_plan_ends_before_it_may_be_done(tmp_path: Path) -> None:
    """10 days before 8 May is 28 April; a plan of ten days ends on the 13th."""
    own = '[[check]]\nname = "claw-photo"\nwho = "trimmer"\nfrom = 10\nto = 3\n'
    herd = herd_of(grouped("B 1", "2026-05-08", lifted("B 1")), rules=rules_of(tmp_path, own))
    assert blamed(plan_of(herd, Wishes(days=10))) == [
        ("B 1", "claw-photo", "may first be done on Tue 28 Apr 2026, after the last day of the "
         "plan", "visits.ahead"),
    ]  # fmt: skip
    assert blamed(plan_of(herd)) == []


def test_nobody_can_come_in_its_days(tmp_path: Path) -> None:
    herd = herd_of(lame_today("B 1"), rules=rules_of(tmp_path, HOLIDAYS))
    assert blamed(plan_of(herd)) == [
        ("B 1", "lift", "nobody can come from Fri 3 Apr 2026 to Fri 10 Apr 2026",
         "visits.workdays"),
    ]  # fmt: skip


def test_it_takes_longer_than_a_day_has() -> None:
    herd = herd_of(lame_today("B 1"))
    assert blamed(plan_of(herd, Wishes(minutes=9))) == [
        ("B 1", "lift", "it takes 10 minutes, and a day has 9", "minutes.day"),
    ]
    assert blamed(plan_of(herd, Wishes(minutes=10))) == []


def test_the_day_of_one_farm_may_be_shorter(tmp_path: Path) -> None:
    rules = rules_of(tmp_path, '[farm."Ash Farm".rules]\nminutes.day = 8\n')
    herd = herd_of(lame_today("B 1", ASH), lame_today("B 2", BECK), rules=rules)
    assert blamed(plan_of(herd)) == [
        ("B 1", "lift", "it takes 10 minutes, and a day has 8", "minutes.day"),
    ]


def test_what_it_waits_for_has_no_day(tmp_path: Path) -> None:
    """Nobody comes to look, so nobody may see him healed either."""
    herd = herd_of(
        grouped("B 1", "2026-05-08", found("B 1", "2026-03-04")), rules=rules_of(tmp_path, HOLIDAYS)
    )
    assert blamed(plan_of(herd)) == [
        ("B 1", "look:LH:outer:SU", "nobody can come from Fri 3 Apr 2026 to Fri 10 Apr 2026",
         "visits.workdays"),
        ("B 1", "clear:LH:outer:SU",
         "it waits for another that has no day: look at sole ulcer LH outer", "visits.late"),
    ]  # fmt: skip


def late_look() -> Herd:
    """An ulcer of 20 Feb: the look was due on 27 Mar and has a week from today, 3 to 10 Apr; he is
    turned out on the 9th, so he can be seen healed until then. The other farm needs nobody."""
    return herd_of(
        grouped("B 1", "2026-04-09", found("B 1", "2026-02-20"), farm=ASH),
        bull("B 2", lifted("B 2"), farm=BECK),
    )


def test_what_it_waits_for_comes_too_late() -> None:
    """Beck Farm is promised every day up to the 9th: the look is on the 10th."""
    plan = plan_of(late_look(), Wishes(kept=promised(3, 4, 6, 7, 8, 9)))
    assert ("Ash Farm", "2026-04-10", [("B 1", ["look:LH:outer:SU"])]) in visited(plan)
    assert blamed(plan) == [
        ("B 1", "clear:LH:outer:SU",
         "what it waits for leaves it no day up to Thu 9 Apr 2026", "visits.late"),
    ]  # fmt: skip


def test_with_a_day_of_its_own_left_it_is_not_to_blame() -> None:
    plan = plan_of(late_look(), Wishes(kept=promised(3, 4, 6, 7, 8)))
    assert blamed(plan) == []
    assert ("Ash Farm", "2026-04-09", [("B 1", ["look:LH:outer:SU", "clear:LH:outer:SU"])]) in (
        visited(plan)
    )


def test_other_farms_are_visited_on_its_days() -> None:
    """He is to be lifted on Friday or Saturday, and both are promised to another farm."""
    herd = herd_of(lame_today("B 1", ASH), bull("B 2", lifted("B 2"), farm=BECK))
    assert blamed(plan_of(herd, Wishes(kept=promised(3, 4)))) == [
        ("B 1", "lift", "other farms are visited on each of its days, Fri 3 Apr 2026 to Sat 4 Apr "
         "2026", "visits.share_day"),
    ]  # fmt: skip


@pytest.mark.parametrize("both", [True, False])
def test_farms_share_a_day_where_both_say_so(tmp_path: Path, both: bool) -> None:
    text = '[farm."Ash Farm".rules]\nvisits.share_day = true\n'
    if both:
        text += '[farm."Beck Farm".rules]\nvisits.share_day = true\n'
    herd = herd_of(
        lame_today("B 1", ASH),
        bull("B 2", lifted("B 2"), farm=BECK),
        rules=rules_of(tmp_path, text),
    )
    plan = plan_of(herd, Wishes(kept=promised(3, 4)))
    assert [rule for *_, rule in blamed(plan)] == ([] if both else ["visits.share_day"])


def test_its_days_are_full() -> None:
    """Three are to be lifted on Friday or Saturday, ten minutes each, and a day has ten."""
    plan = plan_of(
        herd_of(lame_today("B 1"), lame_today("B 2"), lame_today("B 3")), Wishes(minutes=10)
    )
    assert [(on, len(stops)) for _, on, stops in visited(plan)] == [
        ("2026-04-03", 1), ("2026-04-04", 1),
    ]  # fmt: skip
    assert [each[1:] for each in blamed(plan)] == [
        ("lift", "its days are full, Fri 3 Apr 2026 to Sat 4 Apr 2026: 10 minutes each",
         "minutes.day"),
    ]  # fmt: skip


def test_its_one_day_is_full() -> None:
    plan = plan_of(herd_of(lame_today("B 1"), lame_today("B 2")), Wishes(minutes=10, days=0))
    assert [each[1:] for each in blamed(plan)] == [
        ("lift", "its days are full, Fri 3 Apr 2026: 10 minutes each", "minutes.day"),
    ]


def test_a_shared_day_that_is_full_is_full(tmp_path: Path) -> None:
    """Both farms share; the person's day of 15 minutes holds one lift and not two."""
    shares = "visits.share_day = true\n"
    rules = rules_of(
        tmp_path,
        f'[rules]\nminutes.day = 15\n[farm."Ash Farm".rules]\n{shares}'
        f'[farm."Beck Farm".rules]\n{shares}',
    )
    herd = herd_of(lame_today("B 1", ASH), lame_today("B 2", BECK), rules=rules)
    plan = plan_of(herd, Wishes(days=0))
    assert [each[2:] for each in blamed(plan)] == [
        ("its days are full, Fri 3 Apr 2026: 15 minutes each", "minutes.day"),
    ]
    assert blamed(plan_of(herd, Wishes(days=0, minutes=20))) == []


def test_every_rule_that_is_blamed_is_a_rule() -> None:
    herd = herd_of()
    known = herd.rulebook.common.values
    assert {
        "visits.ahead",
        "visits.workdays",
        "visits.late",
        "visits.share_day",
        "minutes.day",
    } <= (known.keys())
