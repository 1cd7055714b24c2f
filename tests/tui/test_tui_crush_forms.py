"""The other forms of the Crush screen: what is said in them joins the slip, or is saved."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.crush.by_form import OF_NO_BULL
from readiness.crush.session import NO_BULL
from readiness.desk.desk import Desk
from readiness.tui.crush.forms import OFFERED
from readiness.tui.shared.form import FormScreen
from tests.build import standing
from tests.tui.crush_driver import bodies, crush_app, ids, line_of, to_crush, type_in
from tests.tui.driver import press, screen_text
from tests.tui.estate import ago, desk_at, estate


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def digit(form: str) -> str:
    return str(OFFERED.index(form) + 1)


async def test_the_vets_form_in_full_and_a_test_join_the_slip_and_are_saved(desk: Desk) -> None:
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "v", digit("vet-exam"), "1", *["enter"] * 3, "1")
        await press(pilot, *["enter"] * 6, *"seen", "space", *"eyes", *["enter"] * 3)
        await press(pilot, *"J.", "space", *"Hart", "enter", "enter")
        assert line_of(screen) == "vet ok electro seen eyes by J. Hart"
        await press(pilot, "v", digit("check"), *"tb", "enter", "1", "enter", *"Sike", "enter")
        await press(pilot, "enter", *"2", "space", *"apr", "space", *"2027", "enter", "enter")
        assert line_of(screen).endswith("; done tb lab Sike until 2027-04-02")
        await press(pilot, "enter")
    exam, test = bodies(desk, before)
    assert exam["examined"] == [{"part": "eyes", "how": "seen"}]
    assert (exam["examiner"], test["valid_until"]) == ("J. Hart", "2027-04-02")


async def test_a_look_without_an_outcome_is_asked_for_it(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "v", digit("vet-look"), "2", *["enter"] * 8)
        assert "outcome: it is needed" in screen_text(app)
        await press(pilot, "3", "enter", "3", "space", *"may", *["enter"] * 6)
        assert line_of(screen).startswith("vetlook foot again 20")


async def test_a_season_taken_away_from_a_group_is_saved_and_read_back(desk: Desk) -> None:
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "v", digit("group"), *"new", "enter", "9", "space", *"may")
        await press(pilot, "enter", *"none", *["enter"] * 5)
    [group] = bodies(desk, before)
    assert group == {
        "kind": "group", "group": "new", "turnout": "2026-05-09", "farm": "Sallow Fell",
        "weeks": None,
    }  # fmt: skip


def test_the_digits_of_the_forms_stay_those_that_hands_know() -> None:
    known = ("vet-word", "vet-look", "treatment", "check", "moved", "join", "bull", "group")
    assert OFFERED[: len(known)] == known
    assert len(OFFERED) <= 9


async def test_a_digit_means_the_same_form_with_nobody_in_the_crush(desk: Desk) -> None:
    """1 was the vet's word beside a bull, and a group beside nobody."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, *"xxxxxxxx")
        assert screen.session.key is None
        for form in OFFERED:
            await press(pilot, "v", digit(form))
            if form in OF_NO_BULL:
                assert isinstance(app.screen, FormScreen)
                await press(pilot, "escape")
            else:
                assert app.screen is screen and NO_BULL in screen_text(app)


async def test_each_form_has_a_day_above_and_what_is_of_another_is_saved_at_once(
    desk: Desk,
) -> None:
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(60, 20)) as pilot:
        screen = await to_crush(pilot, "w", "0", "v", digit("moved"), "up")
        await type_in(pilot, "4 apr 2026")
        await press(pilot, "down")
        assert "still to come" in screen_text(app)
        await press(pilot, *["backspace"] * 10)
        await type_in(pilot, "1 apr")
        await press(pilot, "enter", "1", *["enter"] * 3)
        assert line_of(screen) == "walk 0"
    assert [(e.kind, e.body["on"]) for e in standing(desk.book) if e.id not in before] == [
        ("moved", "2026-04-01")
    ]


async def test_what_is_known_of_a_bull_is_said_anew_today_not_on_the_day_it_was_said_first(
    desk: Desk,
) -> None:
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "v", digit("bull"))
        await type_in(pilot, "s")
        await press(pilot, *["enter"] * 10)
        await press(pilot, "v", digit("bull"), *["enter"] * 10)  # nothing is changed
    [said] = [each.body for each in standing(desk.book) if each.id not in before]
    assert (said["name"], said["on"]) == ("Corrans", "2026-04-03")


async def test_a_birth_that_is_not_known_to_the_day_stays_so_when_more_is_said_of_him(
    tmp_path: Path,
) -> None:
    """The line stood filled in with the last day it can have been: his name said, he was as young
    as can be, and what the vet measured was enough for that age."""
    born = {"born": "2024-05-08", "born_from": "2023-05-09"}
    booked = {"kind": "bull", "on": ago(3), "bull": "999", **born}
    desk = desk_at(tmp_path / "bulls.duckdb", [booked])
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "/", *"999", "enter", "v", digit("bull"))
        assert "9 May 2023 to 8 May 2024" in screen_text(app)
        await type_in(pilot, "Pike")  # his name
        await press(pilot, *["enter"] * 11)
    said = [each.body for each in standing(desk.book) if each.kind == "bull"][-1]
    assert said.get("name") == "Pike"
    assert {key: said[key] for key in born} == born


@pytest.mark.parametrize("day", [[], [*"2", "space", *"apr"]], ids=["today", "yesterday"])
async def test_a_bull_that_has_left_makes_way_and_is_asked_for_nothing(
    desk: Desk, day: list[str]
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        first = screen.session.key
        await press(pilot, "v", digit("moved"), "3", "down", "3", "up", "up", *day, "up")
        await press(pilot, *["enter"] * (1 if day else 2))
        assert screen.session.key != first
        assert first not in screen.session.race.keys
        text = screen_text(app)
    assert "waits again" not in text
    assert "Left: died" in text or "He has left" in text
