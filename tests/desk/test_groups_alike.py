"""Two copies of a book may each write a group that is the same one: Hill and hill."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.desk.desk import Desk
from readiness.export.icar.animals import sets
from readiness.system.errors import NotFound
from tests.book.builders import ask
from tests.build import TAG, booked, group, join
from tests.desk.two_copies import SAID, Copies, board, by_bull

HEIFERS = group("2026-12-05", "Hill", on="2026-11-20", **{"class": "heifers"})
COWS = group("2026-12-05", "hill ", on="2026-11-21", females=30)


@pytest.fixture
def copies(tmp_path: Path) -> Copies:
    """Not safe with heifers: in ``a`` there is a group of heifers, in ``b`` he joins it."""
    made = Copies(tmp_path, [booked(on="2026-10-01", born="2022-03-01"), *SAID[3:]])
    made.a.add([booked(on="2026-10-02", heifer_safe=False)])
    made.b.merge(made.a.book.path)
    made.a.add([HEIFERS])
    made.b.add([COWS, join(name="hill", on="2026-11-22")])
    return made


def test_a_group_that_two_copies_spell_otherwise_is_two_and_its_heifers_are_forgotten(
    copies: Copies,
) -> None:
    assert board(copies.b)[TAG].status == "GO"
    bull = copies.together()[TAG]
    assert (bull.status, bull.outlook, bull.group) == ("HOLD", "wrong-group", "Hill")
    for desk in (copies.a, copies.b):
        (one,) = desk.board().groups
        assert (one.group, one.bulls, one.females) == ("Hill", 1, 30)
        assert [(each.name, each.category) for each in desk.groups().values()] == [
            ("Hill", "heifers")
        ]
        shown = 'SELECT "group", farm, females, "class" FROM groups'
        assert ask(desk.book.path, shown) == [("Hill", None, 30, "heifers")]
        (herd,) = sets(desk.reading())
        assert len(herd["member"]) == 1


@pytest.mark.parametrize("name", ["hill", "Hill"])
def test_by_one_of_its_spellings_the_group_is_empty_or_unknown(copies: Copies, name: str) -> None:
    copies.together()
    desk = copies.a
    assert [bull.bull for bull in desk.board(group=name).bulls] == [TAG]
    assert [bull.bull for bull in desk.reading().turnout(name).stays] == [TAG]
    assert [each.group for each in desk.reading().cover(group=name).groups] == ["Hill"]
    with pytest.raises(NotFound):
        desk.board(group="Hills")


def test_two_turnouts_of_a_group_are_told_of_none_where_its_name_is_spelt_otherwise(
    copies: Copies,
) -> None:
    copies.b.add([{**COWS, "turnout": "2026-12-12"}])
    told = copies.a.merge(copies.b.book.path, check=True).disagreements
    assert "Hill: turnout, here Sat 5 Dec 2026, there Sat 12 Dec 2026" in [e.text for e in told]


def test_what_is_said_of_it_after_that_goes_to_a_second_group(copies: Copies) -> None:
    copies.together()
    copies.a.add([{**COWS, "group": "hill", "on": "2026-11-29", "weeks": 5}])
    (hill,) = copies.a.groups().values()
    assert (hill.name, hill.weeks) == ("Hill", 5)


def test_a_bull_who_worked_in_it_is_said_to_have_worked_in_another(copies: Copies) -> None:
    """Where he was out, and what is over, is looked for by the same name."""
    desk: Desk = copies.b
    desk.add([{"kind": "moved", "on": "2026-11-23", "bull": TAG, "act": "out"}])
    copies.together()
    (state,) = desk.reading().herd.states
    assert (state.group, [outing.group for outing in state.outings]) == ("Hill", ["Hill"])
    assert by_bull(desk) == board(desk)


def test_a_bull_is_in_no_group_once_its_other_spelling_was_taken_back(copies: Copies) -> None:
    copies.together()
    (cows,) = [e.id for e in copies.b.standing() if e.kind == "group" and e.body["group"] == "hill"]
    copies.b.strike(cows, "there is one already")
    assert board(copies.b)[TAG].outlook == "wrong-group"
