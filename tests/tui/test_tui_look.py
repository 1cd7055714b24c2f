"""A look at what is open on a foot: by three keys from the Diary or the bull, or by a line."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from readiness.desk.desk import Desk
from readiness.engine.results import Check
from readiness.tui.shared.look import LookAt
from tests.build import standing
from tests.tui.crush_driver import bodies, crush_app, ids, quickly, type_in
from tests.tui.driver import press, screen_text, settled, squeezed
from tests.tui.estate import desk_at, estate
from tests.volume import sampled

SORREL = "UK123456700002"
EROSION = {"foot": "RF", "claw": "outer", "code": "WLF"}
FOUL = {"foot": "RF", "claw": "skin", "code": "IP"}
DERMATITIS = {"foot": "RF", "claw": "skin", "code": "DD"}


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def farmers(desk: Desk) -> set[str]:
    """The findings of Sorrel's that the farmer is to look at today."""
    today = desk.on.toordinal()
    return {e.code or "" for e in _checks(desk) if e.who == "farmer" and e.not_before <= today}


def _checks(desk: Desk) -> list[Check]:
    return [each for each in desk.card(SORREL).assessment.outstanding if each.check == "look"]


async def on_the_foul(pilot: Pilot[None]) -> None:
    """On the Diary's line of the look at it."""
    await settled(pilot)
    await press(pilot, "d", "down", "down")


@sampled(
    ("keys", "said"),
    [
        ("=", {"findings": [EROSION, FOUL]}),
        ("+", {"findings": [EROSION, {**FOUL, "severity": 3}]}),
        ("-", {"findings": [EROSION, {**FOUL, "severity": 1}]}),
        ("h", {"findings": [EROSION], "healed": [FOUL]}),
        ("f", {"findings": [EROSION], "healed": [{**FOUL, "stable": True}]}),
        ("h=", {"findings": [EROSION, FOUL]}),  # the last answer counts
    ],
)
async def test_three_keys_on_the_diarys_line_enter_the_look_and_take_it_off(
    desk: Desk, keys: str, said: dict[str, Any]
) -> None:
    before = ids(desk)
    assert farmers(desk) == {"IP", "DD"}
    app = crush_app(desk)
    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        await on_the_foul(pilot)
        await press(pilot, "l")
        assert "Interdigital phlegmon" in screen_text(app) and "and now?" in screen_text(app)
        await type_in_answers(pilot, keys)
        await press(pilot, "enter")
        assert bodies(desk, before) == [{"kind": "feet", "lifted": ["RF"], **said}]
        assert farmers(desk) == {"DD"}
        assert "look at interdigital" not in screen_text(app)


async def type_in_answers(pilot: Pilot[None], keys: str) -> None:
    names = {"=": "equals_sign", "+": "plus", "-": "minus"}
    await press(pilot, *(names.get(key, key) for key in keys))


async def test_from_his_screen_one_chooses_the_finding_and_the_day_and_undo_takes_it_back(
    desk: Desk,
) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"sorrel", "enter", "enter", "l", "1", "plus", "4", "d")
        await type_in(pilot, "1 apr")
        await press(pilot, "enter", "enter")
        [said] = [each.body for each in standing(desk.book) if each.id not in before]
        assert said["findings"] == [EROSION, {**DERMATITIS, "stage": "M4"}]
        assert (said["on"], said["by"]) == ("2026-04-01", "A. Trimmer")
        assert "Saved of UK 123456 700002" in " ".join(screen_text(app).split())
        await press(pilot, "u", "y")
    assert bodies(desk, before) == []


@pytest.mark.parametrize("pause", [0.0, 0.34])
async def test_a_note_typed_on_his_page_is_no_look(desk: Desk, pause: float) -> None:
    """ "l" asks for a look, and "h" of "hind" said of the foot that it was healed."""
    before, app, seconds = ids(desk), crush_app(desk), 1e6
    async with app.run_test(size=(80, 24)) as pilot:
        await on_the_foul(pilot)
        app.ticks = lambda: seconds
        for key in ("l", *"hame", "space", *"on", "space", *"hind", "enter", "enter"):
            await quickly(pilot, key)
            seconds += pause
        assert isinstance(app.screen, LookAt)
    assert ids(desk) == before


@pytest.mark.long
async def test_what_is_no_answer_is_refused_with_what_follows_it_and_nothing_is_saved(
    desk: Desk,
) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await on_the_foul(pilot)
        await press(pilot, "l", "enter")
        assert "Firstwhatbecameofit" in squeezed(app)
        app.ticks = lambda: 1e6
        await quickly(pilot, "s", "h")
        assert "s means nothing here" in screen_text(app)
        await press(pilot, "enter")
        assert isinstance(app.screen, LookAt)
        await press(pilot, "escape")
    assert ids(desk) == before


@pytest.mark.long
@sampled(("keys", "work"), [("=", []), ("=r", ["unwrap", "wrap"]), ("r=", ["unwrap", "wrap"])])
async def test_what_a_look_means_for_a_wrap_stands_before_it_is_saved(
    desk: Desk, keys: str, work: list[str]
) -> None:
    """A wrap is on until its foot is lifted on a later day, and a look is a lift."""
    wrap = {"work": [{"foot": "RF", "act": "wrap"}]}
    desk.add([{"kind": "feet", "bull": SORREL, "on": "2026-03-29", "lifted": ["RF"], **wrap}])
    before = ids(desk)
    app = crush_app(desk)

    def read() -> str:
        return str(app.screen.query_one("#read", Static).content)

    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        await on_the_foul(pilot)
        await press(pilot, "l")
        assert "The wrap on RF counts as off" in read()
        await type_in_answers(pilot, keys)
        assert ("RF is wrapped anew" in read()) == bool(work)
        await press(pilot, "enter")
    [said] = bodies(desk, before)
    assert [each["act"] for each in said.get("work", ())] == work
    assert bool(desk.card(SORREL).state.wraps) == bool(work)


async def test_on_a_line_that_asks_for_no_look_that_is_said(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "d", "l")
        assert "nothing is looked at" in " ".join(screen_text(app).split())
        await press(pilot, "escape", "slash", *"wren", "enter", "enter", "l")
        assert "Nothing is open on his feet" in " ".join(screen_text(app).split())
        desk.readonly = True
        await press(pilot, "l")
        assert "read only" in screen_text(app)


@pytest.mark.parametrize(
    ("line", "left"),
    [("rf s ip", {"DD"}), ("rf s ip/3", {"DD"}), ("rf s ip healed; rf s dd", set())],
)
def test_a_short_line_by_the_farmer_is_the_same_look(desk: Desk, line: str, left: set[str]) -> None:
    assert farmers(desk) == {"IP", "DD"}
    desk.log("UK 123456 700002", line)
    assert farmers(desk) == left
