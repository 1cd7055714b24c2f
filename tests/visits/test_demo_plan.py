"""The demo's plan on 3 April 2026, checked by hand: it needs no more visits than anybody can find.

Each is a journey to one farm on one day, and the two farms do not share a day. No visit can serve
two of the checks in ``APART``: at one farm no two of their windows have a working day in common.
So there are as many visits as checks in ``APART`` at the least, and the plan has no more.

Read off ``board --json`` (first day; last day by its own clock or by turnout, the earlier one):

    Kestrel Rigg   Lapwing   lift LF, lame since 1 Apr        3 Apr     3 Apr
                   Ketter    block off LH inner              11 Apr    16 Apr
                   Ouzel     white line abscess RF healed?   22 Apr    23 Apr
    Low Sandwath   Inver     look at the sole ulcer RF       12 Apr    26 Apr
                   Holm      sole haemorrhage LH healed?      1 May     8 May

3 < 11-16 < 22-23 at the one farm, 12-26 Apr < 1-8 May at the other: five. The looks at Quern's
foul and at Birk's digital dermatitis after three days are the farmer's.
"""

from __future__ import annotations

import io
import json
from contextlib import redirect_stdout
from datetime import date, timedelta
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from readiness.__main__ import main
from readiness.desk.demo import build_demo

Json = dict[str, Any]

TODAY = date(2026, 4, 3)
SUNDAY = 6
APART = {
    ("Kestrel Rigg", "Lapwing", "lift"): ("2026-04-03", "2026-04-03"),
    ("Kestrel Rigg", "Ketter", "block-off:LH:inner"): ("2026-04-11", "2026-04-16"),
    ("Kestrel Rigg", "Ouzel", "clear:RF:inner:WLA"): ("2026-04-22", "2026-04-23"),
    ("Low Sandwath", "Inver", "look:RF:outer:SU"): ("2026-04-12", "2026-04-26"),
    ("Low Sandwath", "Holm", "clear:LH:outer:SH"): ("2026-05-01", "2026-05-08"),
}


def _printed(book: Path, *arguments: str) -> Json:
    out = io.StringIO()
    with redirect_stdout(out):
        code = main([*arguments, "--json", "--book", str(book), "--on", TODAY.isoformat()])
    assert code == 0
    said: Json = json.loads(out.getvalue())
    return said


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = tmp_path_factory.mktemp("demo") / "demo.duckdb"
    build_demo(book, TODAY)
    return book


@pytest.fixture(scope="module")
def plan(demo: Path) -> Json:
    return _printed(demo, "visits")


@pytest.fixture(scope="module")
def wanted(demo: Path) -> dict[tuple[str, str, str], Json]:
    """(farm, bull's name, check's id) → the check, of every one that the trimmer does."""
    return {
        (bull["farm"], bull["name"], check["id"]): {**check, "tag": bull["bull"]}
        for bull in _printed(demo, "board")["bulls"]
        for check in bull["outstanding"]
        if check["who"] == "trimmer"
    }


def _window(check: Json) -> tuple[str, str]:
    ends = [end for end in (check["due"], check["not_after"]) if end]
    return check["not_before"], min(ends)


def _working(first: str, last: str) -> set[date]:
    """Monday to Saturday, both ends among them."""
    start, end = date.fromisoformat(first), date.fromisoformat(last)
    days = (start + timedelta(days) for days in range((end - start).days + 1))
    return {day for day in days if day.weekday() != SUNDAY}


def _days(plan: Json) -> dict[tuple[str, str], date]:
    """(tag, check's id) → its day."""
    return {
        (check["bull"], check["id"]): date.fromisoformat(visit["on"])
        for visit in plan["visits"]
        for check in visit["checks"]
    }


def test_no_visit_can_serve_two_of_five_checks(wanted: dict[tuple[str, str, str], Json]) -> None:
    """The hand's argument against the board itself."""
    assert {key: _window(wanted[key]) for key in APART} == APART
    for (one, its), (other, theirs) in combinations(APART.items(), 2):
        assert _working(*its), one
        apart = not _working(*its) & _working(*theirs)
        assert one[0] != other[0] or apart, (one, other)


def test_the_plan_has_five_visits_and_no_more(plan: Json) -> None:
    assert len(APART) == 5
    assert [(visit["on"], visit["farm"]) for visit in plan["visits"]] == [
        ("2026-04-03", "Kestrel Rigg"),
        ("2026-04-11", "Kestrel Rigg"),
        ("2026-04-20", "Low Sandwath"),
        ("2026-04-22", "Kestrel Rigg"),
        ("2026-05-04", "Low Sandwath"),
    ]
    assert (plan["exact"], plan["bound"]) == (True, 5)


def test_every_check_of_the_trimmer_s_is_planned_once(
    plan: Json, wanted: dict[tuple[str, str, str], Json]
) -> None:
    planned = [(c["bull"], c["id"]) for visit in plan["visits"] for c in visit["checks"]]
    assert sorted(planned) == sorted((check["tag"], check["id"]) for check in wanted.values())
    assert len(planned) == len(set(planned)) == 24
    assert plan["unplaced"] == []


def test_in_its_window_or_late_as_said(
    plan: Json, wanted: dict[tuple[str, str, str], Json]
) -> None:
    """Two are late: Gorse's block, due on 14 Mar, and Yarrow's lift, asked for by 2 Apr. Both are
    done today."""
    late = {
        (check["bull"], check["id"]): check["late"]
        for visit in plan["visits"]
        for check in visit["checks"]
    }
    days = _days(plan)
    for check in wanted.values():
        first, last = _window(check)
        day = days[check["tag"], check["id"]]
        assert date.fromisoformat(first) <= day
        over = (day - date.fromisoformat(last)).days
        assert late[check["tag"], check["id"]] == max(0, over)
    said = {key: days[key] for key, by in late.items() if by}
    gorse, yarrow = "UK 700914 300388", "UK 700914 100344"
    assert said == {(gorse, "block-off:LH:inner"): TODAY, (yarrow, "lift"): TODAY}
    assert late[gorse, "block-off:LH:inner"] == (TODAY - date(2026, 3, 14)).days == 20
    assert late[yarrow, "lift"] == 1


def test_what_waits_comes_no_sooner_than_what_it_waits_for(
    plan: Json, wanted: dict[tuple[str, str, str], Json]
) -> None:
    """Eight waits: healed after the look for Ouzel, Ketter and Inver, for the last two after the
    block, too; under the block after it is off for Gorse, Ketter and Inver. And for Birk and Quern
    after a look that is the farmer's, which no visit has."""
    days, waits = _days(plan), 0
    for check in wanted.values():
        for other in check["after"]:
            if (check["tag"], other) not in days:
                assert other in ("look:LH:skin:DD", "look:RH:skin:IP")
                continue
            waits += 1
            assert days[check["tag"], other] <= days[check["tag"], check["id"]]
    assert waits == 8


def test_one_farm_a_day_never_a_sunday_and_the_day_is_long_enough(plan: Json) -> None:
    days = [date.fromisoformat(visit["on"]) for visit in plan["visits"]]
    assert len(set(days)) == len(days)
    assert all(day.weekday() != SUNDAY for day in days)
    assert all(visit["minutes"] <= 480 for visit in plan["visits"])


def test_the_first_visit_s_minutes_and_what_to_bring_by_hand(plan: Json) -> None:
    """Three lifts of 10; Drover's trim, 15; a look at Ouzel, Martlet and Wether's
    thin sole seen healed, Gorse's block off: 6 each; looking under Gorse's block as it comes off
    and where Martlet's was, whose foot is lifted anyhow, nothing: 30 + 15 + 4 x 6 = 69.

    Blocks: a foot each for Otter, Lapwing and Yarrow, and the claws of Ouzel, of Wether and of
    Martlet, whose block was lost: 6. Dressings: the feet of Ouzel and Wether, dressed last
    time: 2.
    """
    first = plan["visits"][0]
    assert first["minutes"] == 69
    assert first["bring"] == {"blocks": 6, "wraps": 0, "dressings": 2}


def test_a_day_later_is_not_planned_as_if_it_were_today(demo: Path) -> None:
    """From Monday the 6th on: nothing on the 3rd, every check still planned, more of them late."""
    out = io.StringIO()
    with redirect_stdout(out):
        code = main(
            ["visits", "--json", "--from", "2026-04-06", "--book", str(demo), "--on", "2026-04-03"]
        )
    assert code == 0
    later: Json = json.loads(out.getvalue())
    assert min(visit["on"] for visit in later["visits"]) == "2026-04-06"
    assert sum(len(visit["checks"]) for visit in later["visits"]) == 24
    assert later["unplaced"] == []


def test_the_same_plan_twice(demo: Path, plan: Json) -> None:
    assert _printed(demo, "visits") == plan
