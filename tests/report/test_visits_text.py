"""The plan in words: fits its width whatever the names are, and says the same without colour."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from readiness.herd.changes import changes
from readiness.report.look import Look
from readiness.report.rows import short_tags
from readiness.report.visits_text import (
    headline,
    missed_lines,
    proof_words,
    visits_text,
    what_if_text,
)
from readiness.system.width import cells
from readiness.visits.asked import Wishes
from readiness.visits.plan import VisitPlan, days_of_visits, without_visits
from tests.build import FEET, said
from tests.visits.herds import (
    SECONDS,
    TODAY,
    block,
    bull,
    found,
    grouped,
    herd_of,
    keep,
    lame,
    plan_of,
)

COLOUR = re.compile(r"\x1b\[[\d;]*m")
FARM = "The farm of the long name that goes on by the river and over the hill to the sea"
NAMES = {
    "B 1": "[bold]Rust[/bold] [link=x]",
    "B 2": "Esc\x1b[31mred\x07\x00 \u202eflipped\u2066 new\nline\ttab\x9b1m",
    "B 3": "Éabhall of the very long name " * 4,
    "B 4": "牛 " * 30,
    "B 5": "=1+1",
    "UK 700914 500306": "Quote ' and \" and ; and ,",
}
PEN = "north yard by the old sheep race behind the long barn"


@cache
def hostile() -> VisitPlan:
    """All lame today, dangerous and never lifted, in long days and short ones; two have no day."""
    herd = herd_of(
        *(
            bull(tag, lame(tag, TODAY), name=name, pen=PEN, temper="dangerous", farm=FARM)
            for tag, name in NAMES.items()
        ),
        grouped("B 7", "2026-05-08", found("B 7", "2026-03-04"), block("B 7", "2026-03-14"),
                farm=FARM, name="[/]", temper="watch"),
    )  # fmt: skip
    plan = plan_of(herd, Wishes(minutes=25, days=20))
    assert plan.unplaced and len(plan.visits) > 2
    return plan


def what_if(look: Look) -> str:
    """The same with its first and last visit dropped."""
    plan = hostile()
    days = days_of_visits(plan)[FARM]
    after = without_visits(plan, [(FARM, days[0]), (FARM, days[-1])], SECONDS)
    moved = changes(plan.then, after.then)
    missed = missed_lines(after, plan)
    assert moved and missed
    what = f"Without the visits of Fri 3 Apr 2026 and Mon 20 Apr 2026 at {FARM}, and none instead:"
    return what_if_text(what, missed, moved, plan.board.on, look)


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("marks", [True, False])
def test_no_line_is_wider_than_the_terminal(width: int, marks: bool) -> None:
    for line in visits_text(hostile(), Look(width, marks=marks)).splitlines():
        assert cells(line) <= width, line


@pytest.mark.parametrize("width", [60, 80, 120])
def test_no_line_of_what_changes_is_wider_than_the_terminal(width: int) -> None:
    for line in what_if(Look(width)).splitlines():
        assert cells(line) <= width, line


def test_a_stream_of_ascii_shows_every_mark() -> None:
    """The names are as they are; nothing that we add is beyond ASCII."""
    plan = of_ulcer()
    after = without_visits(plan, [("", plan.visits[1].on)], SECONDS)
    look = Look(80, marks=False)
    shown = what_if_text(
        "Without it:",
        missed_lines(after, plan),
        changes(plan.then, after.then),
        plan.board.on,
        look,
    )
    assert visits_text(plan, look).isascii()
    assert shown.isascii() and "->" in shown


@pytest.mark.parametrize("look", [Look(60), Look(80), Look(80, marks=False)])
def test_no_name_reaches_the_terminal_s_controls(look: Look) -> None:
    text = visits_text(hostile(), look) + what_if(look)
    controls = [c for c in text if c != "\n" and (c < " " or "\x7f" <= c < "\xa0")]
    assert controls == []
    assert not set("\u202e\u2066\u2069\u202c") & set(text)
    said = " ".join(text.split())
    assert "[bold]Rust[/bold] [link=x]" in said
    assert "Esc[31mred flipped new line tab1m" in said
    assert "00306 Quote ' and \" and ; and ," in said


def test_colour_changes_nothing_but_colour() -> None:
    for draw in (lambda look: visits_text(hostile(), look), what_if):
        plain, coloured = draw(Look(80)), draw(Look(80, colour=True))
        assert coloured != plain
        assert COLOUR.sub("", coloured) == plain


def test_every_bull_of_a_visit_stands_in_it_in_the_order_to_take_them() -> None:
    names = short_tags(bull.bull for bull in hostile().board.bulls)
    tag = re.compile(rf" {{4}}({'|'.join(names.values())}) ")
    told_of = [tag.match(line) for line in visits_text(hostile(), Look(120)).splitlines()]
    assert [found_tag[1] for found_tag in told_of if found_tag] == [
        names[stop.bull.bull] for visit in hostile().visits for stop in visit.stops
    ]


def test_a_dangerous_bull_is_said_to_be_and_where_he_stands() -> None:
    said = " ".join(visits_text(hostile(), Look(80)).split())
    assert said.count(f"(pen {PEN}, DANGEROUS)") == sum(
        stop.bull.temper == "dangerous" for visit in hostile().visits for stop in visit.stops
    )
    assert "(watch him)" in said


def test_what_has_no_day_is_told_bull_by_bull_with_why() -> None:
    text = visits_text(hostile(), Look(120))
    tail = text[text.index("! Without a day") :]
    for each in hostile().unplaced:
        assert each.why in " ".join(tail.split())
        assert f"({each.rule})" in tail


def test_it_says_whose_word_counts() -> None:
    said = " ".join(visits_text(hostile(), Look(80)).split())
    for words in (
        "what is used is decided at the foot",
        "Days to come hold only if every check before them passes",
        "the vet decides on all that is the vet's",
        "Never work a bull alone",
        "last those with DD, ID or IP, which may spread on a knife",
        "(project choice)",
    ):
        assert words in said


# ---- how good the plan is ------------------------------------------------------------------------


def of_ulcer(**changed: Any) -> VisitPlan:
    """Two visits: a look by 8 Apr, and a block that may come off from the 11th."""
    told_of = grouped("B 1", "2026-05-08", found("B 1", "2026-03-04"), block("B 1", "2026-03-14"))
    plan = plan_of(herd_of(told_of))
    assert len(plan.visits) == 2
    return replace(plan, **changed)


def test_the_headline_says_how_many_and_that_no_fewer_can_do() -> None:
    assert headline(of_ulcer()) == "2 visits, Fri 3 Apr 2026 to Thu 2 Jul 2026: no fewer can do."


def test_an_answer_that_is_not_proven_says_how_far_off_it_may_be() -> None:
    assert proof_words(of_ulcer(exact=False, bound=1)) == (
        "the best found in the time there was; 1 at least, so at most 1 too many"
    )
    assert proof_words(of_ulcer(exact=False, bound=2)) == (
        "no fewer can do, their days may not be the best"
    )


def test_checks_that_another_plan_might_place_are_counted() -> None:
    plan = hostile()
    count = len(plan.unplaced)
    assert proof_words(replace(plan, exact=False, bound=1, least_unplaced=count - 1)) == (
        f"the best found in the time there was; {count} checks have no day, at least {count - 1} "
        "have none in any plan"
    )


def test_promises_are_counted_beside_the_proof() -> None:
    lifted = said("feet", "2026-02-10", "B 1", lifted=FEET)
    kept = (keep("2026-04-07"), keep("2026-04-21"))
    plan = plan_of(herd_of(bull("B 1", lifted, farm="Low Farm")), Wishes(kept=kept))
    assert proof_words(plan) == "no fewer can do, 2 of them promised"
    text = visits_text(plan, Look(80))
    assert "Tue 7 Apr 2026, in 4 days, promised: Low Farm\n  nothing is due that day.\n" in text


def test_nothing_to_do_is_said_as_that() -> None:
    plan = plan_of(herd_of(bull("B 1", said("feet", "2026-02-10", "B 1", lifted=FEET))))
    text = visits_text(plan, Look(80))
    assert " ".join(text.split()).startswith("No visit is needed: nothing of the trimmer's is")
    assert "Bulls stand" not in text and "Without a day" not in text
    assert "Never work a bull alone" in text


def test_a_farm_without_a_name_has_words() -> None:
    text = visits_text(of_ulcer(), Look(80))
    assert "Fri 3 Apr 2026, today: the farm without a name" in text


def test_a_visit_of_another_year_says_its_year() -> None:
    plan = plan_of(herd_of(bull("B 1", found("B 1", "2026-03-04"))), Wishes(date(2027, 1, 4)))
    assert "Mon 4 Jan 2027, in 276 days" in visits_text(plan, Look(80))


# ---- what is missed ------------------------------------------------------------------------------


def test_only_what_was_better_off_before_is_missed() -> None:
    """B 2's lift is overdue and late anyway, by 12 days today and 20 on the 11th; B 1's look is
    three days late there; the block and what waits for it are as they were."""
    told_of = grouped("B 1", "2026-05-08", found("B 1", "2026-03-04"), block("B 1", "2026-03-14"))
    lifted = said("feet", "2026-02-10", "B 2", lifted=FEET)
    plan = plan_of(herd_of(told_of, bull("B 2", lifted, lame("B 2", "2026-03-20"), name="Rust")))
    assert missed_lines(plan, plan) == []
    after = without_visits(plan, [("", plan.visits[0].on)], SECONDS)
    assert sorted(missed_lines(after, plan)) == [
        "B 1: look at sole ulcer LH outer, 3 days late on 11 Apr",
        "B 2 Rust: lift LF, 20 days late on 11 Apr",
    ]


def test_a_check_that_has_no_day_any_more_is_missed_with_its_reason() -> None:
    plan = of_ulcer()
    after = without_visits(plan, [("", visit.on) for visit in plan.visits], SECONDS)
    missed = missed_lines(after, plan)
    assert len(missed) == 4
    assert missed[0].startswith("B 1: look at sole ulcer LH outer: ")
    assert missed_lines(after, after) == []


def test_nothing_missed_and_nobody_changed_are_said() -> None:
    text = what_if_text("Without it:", [], (), hostile().board.on, Look(80))
    assert text == "Without it:\n  nothing is missed\n\nNo bull changes."
