"""After the season: who is out still, who is due rest, feed or an examination; nobody is held."""

from __future__ import annotations

import pytest

from readiness.cover.after import AfterSeason, after_seasons
from readiness.herd.board import assess_herd, fold_book
from readiness.report.after_words import facts
from tests.build import RULES, Line, condition, day, entries_of, exam, iso, join, lift, said, walk
from tests.cover.farms import TURNOUT, bull, cover, cows

OVER, AFTER = "2026-07-03", "2026-07-06"  # nine weeks after turnout, and the Monday then
SEASON = [cows(70, weeks=9), *bull("B 1")]


def moved(act: str, on: str, tag: str = "B 1", **more: str) -> Line:
    return said("moved", on, tag, act=act, **more)


WORKED = [*SEASON, moved("out", TURNOUT), moved("in", OVER)]
PASSED = exam("2026-07-05")


def after(*lines: Line, on: str = AFTER) -> AfterSeason | None:
    found = cover(*lines, on=on).after
    assert len(found) <= 1
    return found[0] if found else None


def told(*lines: Line, on: str = AFTER) -> dict[str, str]:
    return dict(facts(cover(*lines, on=on)))


def test_nobody_is_told_of_before_the_last_day_is_past() -> None:
    assert after(*WORKED, on=OVER) is None
    found = after(*WORKED, on="2026-07-04")
    assert found is not None
    assert (found.group, iso(found.last_day), iso(found.out), iso(found.back)) == (
        "Hill", OVER, TURNOUT, OVER,
    )  # fmt: skip


def test_when_the_calves_are_due_is_still_told_when_the_season_is_over_until_the_last() -> None:
    """283 days from his first day out, and from the last."""
    due = "Hill 8 Feb 2027 to 12 Apr 2027"
    assert "calves due" not in told(*WORKED, on=OVER)  # said of the group, whose season it is
    assert told(*WORKED)["calves due"] == due
    assert told(*WORKED, cows(70, turnout="2027-05-01"))["calves due"] == due
    assert "calves due" not in told(*SEASON, moved("out", TURNOUT, reason="hired"))
    assert "calves due" not in told(*WORKED, on="2027-04-13")


def test_one_who_came_in_and_is_in_another_group_has_his_season_behind_him() -> None:
    early = [*SEASON, moved("out", TURNOUT), moved("in", "2026-06-01")]
    assert after(*early, on="2026-06-02") is None  # brought in, and may go back out
    gone = after(*early, join("B 1", None, on="2026-06-02"), on="2026-06-02")
    assert gone is not None and iso(gone.back) == "2026-06-01"


def test_of_one_who_never_worked_or_was_out_on_hire_nothing_is_said() -> None:
    assert after(*SEASON) is None
    hired = [*SEASON, moved("out", TURNOUT, reason="hired")]
    assert after(*hired) is None
    assert cover(*hired, on=AFTER).strays == ()


def test_one_who_was_out_with_no_group_has_it_behind_him_once_he_is_in() -> None:
    out = [*bull("B 1", None), moved("out", TURNOUT)]
    assert [each.bull for each in cover(*out).strays] == []  # not yet
    assert [each.bull for each in cover(*out, on=AFTER).strays] == ["B 1"]
    found = after(*out, moved("in", OVER), LAME)
    assert found is not None
    assert (found.group, found.last_day, found.troubles[0].what) == (None, None, "lame")


def test_one_who_is_put_in_next_years_group_while_out_worked_with_the_old_one() -> None:
    shore = [cows(30, "Shore", "2027-05-01"), join("B 1", "Shore", on="2026-06-20")]
    found = cover(*SEASON, moved("out", TURNOUT), *shore, on=AFTER)
    assert [each.bull for each in found.strays] == ["B 1"]
    assert [(each.group, each.back) for each in found.after] == [("Hill", None)]


def test_one_who_is_out_on_hire_is_not_at_work_here() -> None:
    hired = [*SEASON, moved("out", TURNOUT, reason="hired")]
    assert cover(*hired, on="2026-05-05").seasons == ()


def test_one_who_is_out_after_the_last_day_is_said_first() -> None:
    out = [*WORKED, *bull("B 2"), moved("out", TURNOUT, "B 2")]
    found = cover(*out, on=AFTER)
    assert [each.bull.bull for each in found.after] == ["B 2", "B 1"]
    assert [each.bull for each in found.strays] == ["B 2"]
    assert facts(found)[0] == ("still out", "B 2: the season was over on 3 Jul")


NEXT_YEAR = said("group", "2026-06-20", group="Hill", turnout="2027-05-01", weeks=9)


def test_next_years_turnout_makes_no_working_bull_of_one_who_was_never_brought_in() -> None:
    lines = [*SEASON, moved("out", TURNOUT), NEXT_YEAR]
    found = cover(*lines, on=AFTER)
    assert [each.bull for each in found.strays] == ["B 1"]
    assert (found.seasons, iso(found.after[0].last_day)) == ((), OVER)
    (group,) = found.groups
    assert iso(group.first_calf) == "2028-02-08"  # 283 days after the turnout to come
    (working,) = cover(*lines, on="2027-05-02").seasons  # out ever since
    assert [each.bull.bull for each in working.working] == ["B 1"]


def test_one_let_out_early_for_the_next_season_works_for_that_one() -> None:
    early = [*SEASON, NEXT_YEAR, moved("out", "2027-04-29")]
    found = cover(*early, on="2027-04-30")
    assert (found.strays, found.after, len(found.seasons)) == ((), (), 1)
    assert [iso(worker.out) for worker in found.groups[0].workers] == ["2027-04-29"]


def test_one_driven_on_to_a_group_under_way_works_there() -> None:
    lines = [*SEASON, moved("out", TURNOUT), cows(30, "Shore", "2026-06-20"),
             join("B 1", "Shore", on="2026-06-30")]  # fmt: skip
    found = cover(*lines, on=AFTER)
    assert (found.strays, found.after) == ((), ())
    assert [each.group.group for each in found.seasons] == ["Shore"]


# ---- rest ----------------------------------------------------------------------------------------


def again(turnout: str, **more: str) -> list[Line]:
    return [cows(30, "Shore", turnout), join("B 1", "Shore", on=OVER, **more)]


@pytest.mark.parametrize(
    ("turnout", "rests"), [("2026-07-12", True), ("2026-07-13", False), ("2026-07-04", True)]
)
def test_ten_days_of_rest_are_advised_between_groups(turnout: str, rests: bool) -> None:
    # Ohio State: at least 10 days between synchronised groups.
    found = after(*WORKED, PASSED, *again(turnout), on="2026-07-05")
    assert (found is not None and found.rest is not None) is rests
    if rests:
        assert found is not None and found.rest is not None
        assert iso(found.rest.until) == "2026-07-13"


def test_rest_is_said_with_its_days_and_kept_in_the_diary_of_the_next_group() -> None:
    lines = [*WORKED, PASSED, *again("2026-07-10")]
    assert told(*lines)["rest"] == (
        "B 1 came in 3 Jul, goes out 10 Jul: after synchronised females at least 10 days, to 13 Jul"
    )
    (event,) = [e for e in cover(*lines, on=AFTER).events if e.what.startswith("rest")]
    assert (event.group, iso(event.first), iso(event.last), event.text) == (
        "Shore", OVER, "2026-07-12", "rest between groups: B 1",
    )  # fmt: skip
    assert "rest" not in told(*lines, on="2026-07-13")


def test_one_in_reserve_or_in_no_group_needs_no_rest_before_anything() -> None:
    assert after(*WORKED, PASSED, *again("2026-07-10", role="reserve")) is None
    assert after(*WORKED, PASSED) is None


# ---- feed ----------------------------------------------------------------------------------------


def test_what_was_lost_at_work_and_not_regained_is_said_with_its_figures() -> None:
    lost = [
        said("weight", "2026-04-20", "B 1", kg=1000), said("weight", OVER, "B 1", kg=940),
        condition("2026-06-01", 2.5), condition("2026-07-04", 2.75),
    ]  # fmt: skip
    assert told(*WORKED, PASSED, *lost)["feed and rest"] == (
        "B 1 lost 0.5 of condition (3.25 on 28 Apr, 2.75 on 4 Jul) and 60 kg (1000 on 20 Apr, "
        "940 on 3 Jul): score and weigh him again"
    )


@pytest.mark.parametrize(
    "since",
    [
        [condition("2026-06-01", 2.5), condition("2026-07-05", 3.25)],  # regained
        [condition("2026-06-01", 3.25), condition("2026-07-04", 3.25), condition("2026-07-05", 3)],
        [condition("2026-07-04", 5, scale="nine")],  # another scale is never converted
        [],
    ],
    ids=["regained", "lost after work", "another scale", "not scored"],
)
def test_no_loss_is_said_where_none_is_known_of_his_work(since: list[Line]) -> None:
    assert after(*WORKED, PASSED, *since) is None


# ---- the vet -------------------------------------------------------------------------------------

LAME = walk("2026-05-20", 2, tag="B 1", limb="LF")


@pytest.mark.parametrize(
    ("trouble", "what"),
    [
        (LAME, "lame 20 May"),
        (said("incident", "2026-05-20", cause="fight"), "injured 20 May"),
        (said("incident", "2026-05-20", cause="illness"), "ill 20 May"),
        (said("vet-look", "2026-05-20", about="illness", outcome="unfit"), "ill 20 May"),
    ],
)
def test_trouble_at_work_asks_for_an_examination_until_one_is_passed(
    trouble: Line, what: str
) -> None:
    lines = [*WORKED, trouble]
    assert told(*lines)["examine"] == f"B 1, {what}, no examination passed since"
    assert told(*lines, exam("2026-07-05", "deferred"))["examine"].startswith("B 1")
    assert "examine" in told(*lines, exam("2026-05-20"))  # that very day says nothing of after
    assert "examine" not in told(*lines, exam("2026-05-21"))


@pytest.mark.parametrize("on", ["2026-04-30", "2026-07-04"])
def test_trouble_before_or_after_his_work_is_not_of_his_work(on: str) -> None:
    found = after(*WORKED, walk(on, 2, tag="B 1", limb="LF"), PASSED)
    assert found is None or found.troubles == ()


def test_a_bull_put_back_out_in_the_season_has_one_season_behind_him() -> None:
    lines = [*SEASON, moved("out", TURNOUT), LAME, moved("in", "2026-05-21"),
             moved("out", "2026-06-10"), moved("in", OVER)]  # fmt: skip
    found = after(*lines)
    assert found is not None
    assert (iso(found.out), [each.what for each in found.troubles]) == (TURNOUT, ["lame"])


def test_an_examination_too_old_for_his_next_season_is_said_with_its_day() -> None:
    # Passed within 60 days of turnout: one published source.
    oldest = RULES.common.limits.vet_oldest
    last = iso(day("2026-04-01") + oldest)
    assert last is not None
    short = [cows(70, weeks=4), *SEASON[1:], moved("out", TURNOUT), moved("in", "2026-05-20")]
    assert after(*short, on=last) is None
    overdue = iso(day(last) + 1)
    assert overdue is not None
    assert told(*short, on=overdue)["exam due"] == "B 1, last passed 1 Apr"
    far = [cows(30, "Shore", "2026-08-20"), join("B 1", "Shore", on="2026-05-30")]
    assert told(*short, *far, on=last)["exam due"] == "B 1, last passed 1 Apr"  # for 20 August
    assert told(*short, exam(overdue, "deferred"), on=overdue)["exam due"].startswith("B 1, def")


def test_no_examination_is_due_where_the_farm_asks_for_none() -> None:
    limits = RULES.common.limits._replace(vet_required=False)
    rules = RULES._replace(common=RULES.common._replace(limits=limits))
    for book, due in ((RULES, True), (rules, False)):
        herd = fold_book(entries_of(WORKED), book, day(AFTER))
        found = after_seasons(herd, assess_herd(herd).bulls)
        assert bool(found) is due


def test_nothing_of_it_holds_or_clears_him() -> None:
    was = cover(*WORKED, LAME, on=AFTER)
    bull_before = was.after[0].bull
    assert bull_before.status == "HOLD"
    done = [PASSED, walk(AFTER, 0), condition(AFTER, 3.25), lift(AFTER)]
    rested = cover(*WORKED, *done, *again("2026-07-10"), on=AFTER)
    (found,) = rested.after
    assert found.rest is not None and found.bull.status == "GO"
