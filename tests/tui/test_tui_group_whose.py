"""A group said on the Crush screen: it goes on, and a second one of its name is asked about.

Groups are per farm; said again, what is not said stays. The estate has Heifers and Hill cows at
Sallow Fell.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from readiness.crush.by_form import open_form
from readiness.desk.desk import Desk
from readiness.tui.app import ReadinessApp
from tests.tui.crush_driver import bodies, crush_app, ids, to_crush
from tests.tui.driver import press, screen_text, settled
from tests.tui.estate import desk_at, estate

TURNOUT = "2026-05-20"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


async def say(pilot: Pilot[None], **typed: str) -> None:
    """Open the form of a group in the crush, fill it in, save it."""
    screen = await to_crush(pilot)
    screen.step(lambda session: open_form(session, "group"))
    await settled(pilot)
    for key, text in {"turnout": TURNOUT, **typed}.items():
        pilot.app.screen.query_one(f"#field-{key}", Input).value = text
    pilot.app.screen.query_one("#field-note", Input).focus()
    await press(pilot, "enter")


async def said(desk: Desk, *keys: str, **typed: str) -> tuple[list[dict[str, Any]], str]:
    """What the book holds of it after these keys, and the screen before them."""
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await say(pilot, **typed)
        text = " ".join(screen_text(app).split())
        await press(pilot, *keys)
    return bodies(desk, before), text


async def test_said_again_it_goes_on_under_its_own_name(desk: Desk) -> None:
    wanted = {"kind": "group", "group": "Heifers", "turnout": TURNOUT, "farm": "Sallow Fell"}
    assert (await said(desk, group="heifers"))[0] == [wanted]  # the farm is that of the bull
    assert desk.groups()["Sallow Fell", "Heifers"].females == 40


async def test_a_new_one_is_of_heifers_where_its_name_says_so(desk: Desk) -> None:
    (found,), _ = await said(desk, group="Hill heifers")
    assert (found["farm"], found["class"]) == ("Sallow Fell", "heifers")


@pytest.mark.long
async def test_one_of_a_name_that_another_farm_has_is_asked_about(desk: Desk) -> None:
    wanted = {"kind": "group", "group": "Heifers", "turnout": TURNOUT}
    found, text = await said(desk, "escape", group="Heifers", farm="Low")
    assert found == [] and "Sallow Fell has a Heifers." in text
    assert "1 Heifers at Sallow Fell" in text and "2 a second Heifers, at Low" in text
    found, _ = await said(desk, "1", group="Heifers", farm="Low")
    assert found == [{**wanted, "farm": "Sallow Fell"}]
    found, _ = await said(desk, "2", group="Heifers", farm="Low")
    assert found == [{**wanted, "farm": "Low", "class": "heifers"}]
    found, text = await said(desk, "3", group="Heifers", farm="")
    assert found == [{**wanted, "class": "heifers"}]
    assert "Low and Sallow Fell have a Heifers." in text


async def test_a_new_name_is_not_asked_about(desk: Desk) -> None:
    found, text = await said(desk, group="Late", farm="")
    assert found == [{"kind": "group", "group": "Late", "turnout": TURNOUT}]
    assert "saved Late" in text


def boxed(app: ReadinessApp) -> str:
    """What the screen says, without the lines round it."""
    return " ".join(screen_text(app).replace("│", " ").split())


@pytest.mark.parametrize(
    ("name", "read"),
    [
        ("Hfrs", "Hfrs: by its name a new one is of heifers."),
        (
            "Cows (ex heifers)",
            "a new one is of cows, though its name speaks of heifers; say which.",
        ),
        ("Late", "Late: a new one is of cows."),
    ],
)
async def test_the_form_says_which_class_a_name_is_read_as(
    desk: Desk, name: str, read: str
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        screen.step(lambda session: open_form(session, "group"))
        await settled(pilot)
        app.screen.query_one("#field-group", Input).value = name
        await settled(pilot)
        assert read in boxed(app)
        app.screen.query_one("#field-class", Input).focus()
        await settled(pilot)
        assert read in boxed(app)
        app.screen.query_one("#field-class", Input).value = "cows"
        await settled(pilot)
        assert read not in boxed(app)
