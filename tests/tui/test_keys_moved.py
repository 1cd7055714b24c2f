"""Keys and colours as a person's settings want them, on the screens."""

from __future__ import annotations

from functools import partial
from itertools import count
from pathlib import Path

import pytest

from readiness.settings.settings import Settings
from readiness.tui.app import ReadinessApp, keymaps
from readiness.tui.shared.looks import PALETTES
from tests.tui.driver import make_app, press, screen_lines, screen_text, settled
from tests.tui.estate import desk_at, estate
from tests.tui.test_tui_looks import colours

ROOM = (80, 24)


@pytest.fixture
def book(tmp_path: Path) -> Path:
    desk_at(tmp_path / "bulls.duckdb", estate())
    return tmp_path / "bulls.duckdb"


def moved(book: Path, **keys: dict[str, str]) -> ReadinessApp:
    settings = Settings(book.with_name("readiness.toml"), keys=keys)
    return make_app(desk_at(book), keymaps=keymaps(settings))


def at(app: ReadinessApp) -> str:
    return type(app.screen).__name__


async def test_another_key_does_it_and_the_old_one_says_where_it_went(book: Path) -> None:
    app = moved(book, board={"c": "f2", "d": "c"})
    async with app.run_test(size=ROOM) as pilot:
        await settled(pilot)
        assert screen_lines(app)[-1].split()[2:6] == ["F2", "crush", "c", "diary"]
        await press(pilot, "d")
        assert at(app) == "BoardScreen"
        assert any("by your settings it is c." in told.message for told in app._notifications)
        await press(pilot, "c")
        assert at(app) == "DiaryScreen"
        await press(pilot, "escape", "f2")
        assert at(app) == "CrushScreen"


async def test_what_is_typed_is_never_a_key_that_was_moved(book: Path) -> None:
    app = moved(book, board={"c": "r", "r": "f5"})
    async with app.run_test(size=ROOM) as pilot:
        await settled(pilot)
        await press(pilot, "slash", "r", "o", "w")
        assert at(app) == "BoardScreen" and "Rowan" in screen_text(app)
        await press(pilot, "escape", "r")
        assert at(app) == "CrushScreen"


async def test_a_key_of_every_screen_is_moved_on_every_screen(book: Path) -> None:
    app = moved(book, every={"?": "f1"})
    async with app.run_test(size=ROOM) as pilot:
        await settled(pilot)
        for way in ("enter", "d", "v"):
            await press(pilot, way)
            assert "F1 help" in screen_lines(app)[-1]
            await press(pilot, "f1")
            assert at(app) == "Help"
            await press(pilot, "escape", "escape")
            assert at(app) == "BoardScreen"


async def test_f1_helps_though_the_question_mark_was_moved(book: Path) -> None:
    app = moved(book, board={"?": "h"})
    async with app.run_test(size=ROOM) as pilot:
        await settled(pilot)
        for key in ("f1", "h"):
            await press(pilot, key)
            assert at(app) == "Help"
            await press(pilot, "escape")
        await press(pilot, "question_mark")
        assert [told.message for told in app._notifications] == [
            "? is moved: by your settings it is h."
        ]


async def test_the_way_back_can_be_another_key_and_esc_says_which(book: Path) -> None:
    app = moved(book, diary={"Esc": "z", "Enter": "F2"})
    async with app.run_test(size=ROOM) as pilot:
        await settled(pilot)
        await press(pilot, "d", "escape")
        assert at(app) == "DiaryScreen"
        assert [told.message for told in app._notifications] == [
            "Esc is moved: by your settings it is z."
        ]
        await press(pilot, "f2")
        assert at(app) == "BullScreen"
        await press(pilot, "escape", "d", "z")
        assert at(app) == "BoardScreen"


async def test_in_the_crush_the_old_key_stays_since_it_may_be_an_answer(book: Path) -> None:
    app = moved(book, crush={"n": "f3"})
    app.ticks = partial(next, count(step=10.0))  # twice at once, a key counts once
    async with app.run_test(size=ROOM) as pilot:
        await settled(pilot)
        await press(pilot, "c")
        first = screen_lines(app)[1:4]
        await press(pilot, "f3")
        second = screen_lines(app)[1:4]
        assert second != first
        await press(pilot, "n")
        assert screen_lines(app)[1:4] not in (first, second)


async def test_the_help_and_the_actions_by_name_show_the_key_that_does_it(book: Path) -> None:
    app = moved(book, board={"c": "f2"})
    async with app.run_test(size=(120, 60)) as pilot:
        await settled(pilot)
        actions = {each.title: each.help for each in app.get_system_commands(app.screen)}
        assert actions["Work through the bulls in the crush"] == "key F2"
        await press(pilot, "question_mark")
        (line,) = [line for line in screen_lines(app) if "work through the bulls" in line]
        assert "F2" in line.split()


async def test_on_a_light_ground_no_colour_of_the_dark_one_is_left(book: Path) -> None:
    app = make_app(desk_at(book), theme="light")
    dark = {
        getattr(PALETTES["dark"], name) for name in ("text", "quiet", "yellow", "sky", "orange")
    }
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        for keys in ((), ("enter",), ("escape", "d"), ("escape", "v"), ("escape", "c"),
                     ("question_mark",)):  # fmt: skip
            await press(pilot, *keys)
            seen = {colour.lower() for colour in colours(app)}
            assert PALETTES["light"].text in seen
            assert not seen & dark, keys
