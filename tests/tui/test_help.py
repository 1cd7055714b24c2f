"""The help: the keys of the screen in view, and beside them what the guide tells of it."""

from __future__ import annotations

from pathlib import Path
from typing import cast

from rich.table import Table
from textual.widgets import Input, Static

from readiness.guide import TOPICS, topic
from readiness.tui.shared.help import Help
from tests.tui.crush_driver import crush_app
from tests.tui.driver import press, screen_text, settled
from tests.tui.estate import desk_at, estate
from tests.volume import sampled

SCREENS = {
    "board": (),
    "bull": ("enter",),
    "crush": ("c",),
    "diary": ("d",),
    "figures": ("i",),
    "cover": ("v",),
    "turnout": ("t", "1"),
    "start": ("w",),
}


@sampled(("name", "keys"), SCREENS.items(), first=2, ids=SCREENS)
async def test_every_screen_opens_its_own_topic_beside_its_keys(
    tmp_path: Path, name: str, keys: tuple[str, ...]
) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    async with app.run_test(size=(120, 60)) as pilot:
        await settled(pilot)
        await press(pilot, *keys)
        below = app.screen
        await press(pilot, "question_mark")
        assert isinstance(app.screen, Help)
        title = next(line for line in screen_text(app).splitlines() if "for a reason" in line)
        assert topic(name).title.upper() in title
        await press(pilot, "escape")
        assert app.screen is below


async def test_a_question_on_a_screen_is_helped_with_by_that_screens_topic(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    async with app.run_test(size=(80, 60)) as pilot:
        await settled(pilot)
        await press(pilot, "g", "question_mark")
        assert topic("board").title.upper() in screen_text(app)


async def test_every_other_topic_can_be_read_from_there(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "question_mark", "g")
        for _ in range(TOPICS.index("shorthand")):
            await press(pilot, "down")
        await press(pilot, "enter")
        lines = screen_text(app).splitlines()
        assert "SHORTHAND" in lines[2]
        await press(pilot, "escape")
        assert app.screen is app.board_screen


async def test_in_ascii_the_guide_shows_only_what_the_terminal_can(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600, encoding="ascii")
    async with app.run_test(size=(80, 60)) as pilot:
        await settled(pilot)
        await press(pilot, "question_mark")
        assert screen_text(app).isascii()


@sampled("way", ["c m", "c l", "c v 3", "slash", "w 3", "w 2", "enter asterisk d"])
async def test_where_a_question_mark_is_typed_as_text_f1_helps(tmp_path: Path, way: str) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *way.split())
        below, box = app.screen, app.focused
        assert isinstance(box, Input), way
        if way != "slash":  # it stands in the line of the board's own keys
            assert "F1" in screen_text(app), screen_text(app)
        await press(pilot, "question_mark")
        typed = box.value
        assert app.screen is below and typed.endswith("?")
        await press(pilot, "f1")
        assert isinstance(app.screen, Help)
        table = cast(Table, app.screen.query_one("#left", Static).content)
        told = {key for cell in table.columns[0]._cells for key in str(cell).split(", ")}
        assert not {key for key in told if len(key) == 1}, "there they only type"
        assert {"F1", "Esc"} <= told
        await press(pilot, "f1")
        assert app.screen is below and box.value == typed
