"""Another tag given on the Bull screen."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from readiness.desk.desk import Desk
from readiness.tui.app import ReadinessApp
from readiness.tui.bull.screen import BullScreen
from tests.tui.crush_driver import crush_app, ids, type_in
from tests.tui.driver import press, screen_text, settled, squeezed
from tests.tui.estate import desk_at, estate


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def flat(app: ReadinessApp) -> str:
    return " ".join(screen_text(app).replace("│", " ").split())


async def to_rowan(pilot: Pilot[None]) -> BullScreen:
    await settled(pilot)
    await press(pilot, "slash", *"rowan", "enter", "enter")
    screen = pilot.app.screen
    assert isinstance(screen, BullScreen)
    return screen


async def test_he_has_the_new_tag_at_once_and_one_undo_gives_the_old_one_back(desk: Desk) -> None:
    before, app = desk.card("288"), crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        screen = await to_rowan(pilot)
        await press(pilot, "t")
        assert "Another tag for 00288" in screen_text(app)
        await type_in(pilot, "00289")
        await press(pilot, "enter")
        assert "he is 00289 from now on" in screen_text(app)
        await press(pilot, "y")
        assert screen.key == "00289"
        assert "00288 is 00289 now" in flat(app)
        after = desk.card("00289")
        was = before.assessment._replace(key=after.assessment.key, bull=after.assessment.bull)
        assert after.assessment == was
        await press(pilot, "u", "y")
    assert desk.card("00288").assessment == before.assessment


async def test_a_tag_of_another_bull_is_asked_about_and_where_they_are_two_nothing_is_written(
    desk: Desk,
) -> None:
    before, app = ids(desk), crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await press(pilot, "t")
        await type_in(pilot, "00417")
        await press(pilot, "enter", "y")
        assert "00417 Corran is in the book already, last spoken of on 2026-" in flat(app)
        await press(pilot, "enter")
        assert "Another tag for 00288" in screen_text(app)
        assert "00417" in squeezed(app)
        await press(pilot, "escape")
        assert ids(desk) == before
        await press(pilot, "t")
        await press(pilot, "enter")
        assert "Type the whole tag" in screen_text(app)
        await press(pilot, "escape")
    assert ids(desk) == before


async def test_a_note_typed_where_t_asks_for_a_tag_makes_it_nobodys_tag(desk: Desk) -> None:
    """ "tall one lame" typed on his page, and Enter twice, was his tag from then on."""
    before, app = ids(desk), crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_rowan(pilot)
        await type_in(pilot, "tall one lame")
        await press(pilot, "enter", "enter")
    assert ids(desk) == before


async def test_opened_to_be_read_only_no_tag_is_asked_for(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.readonly = True
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await press(pilot, "t")
        assert "read only" in flat(app)
        assert "Another tag" not in screen_text(app)
