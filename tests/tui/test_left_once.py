"""Two keys that both leave, the second on its way before the first has done it: on a slow machine
it took the screen below along, and at the last one the program."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest

from readiness.desk.desk import Desk
from readiness.tui.bull.screen import BullScreen
from readiness.tui.crush.screen import CrushScreen
from readiness.tui.shared.dialogs import Dialog
from readiness.tui.shared.live import LiveScreen
from tests.tui.crush_driver import crush_app
from tests.tui.driver import press, screen_text, settled
from tests.tui.estate import desk_at, estate


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


@pytest.mark.parametrize("keys", [("question_mark",), ("c", "tab"), ("c", "g"), ("enter", "t")])
async def test_a_dialog_left_twice_leaves_what_is_below_it(
    desk: Desk, keys: tuple[str, ...]
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *keys)
        dialog, below = app.screen, app.screen_stack[-2]
        assert isinstance(dialog, Dialog)
        dialog.dismiss(None)
        dialog.dismiss(None)
        await settled(pilot)
        assert app.screen is below


@pytest.mark.parametrize("key", ["v", "i", "d", "c", "enter"])
async def test_a_screen_left_twice_leaves_the_board(desk: Desk, key: str) -> None:
    """Cover, figures and diary; crush and bull, who say which bull they come from."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        board = app.screen
        await press(pilot, key)
        screen = app.screen
        assert isinstance(screen, LiveScreen) and screen is not board
        of_a_bull = isinstance(screen, CrushScreen | BullScreen)
        leave = partial(app.back_to_board, "00417") if of_a_bull else screen.action_leave
        leave()
        leave()
        await settled(pilot)
        assert app.screen is board


@pytest.mark.parametrize(
    "keys",
    [
        ("slash", *"rowan", "enter", "enter", "asterisk", "3", "f", "4"),  # mended on the feet
        ("enter", "e", "enter", "x"),  # a line corrected
        ("slash", *"sorrel", "enter", "enter", "l", "1", "plus", "4"),  # a look answered
    ],
)
async def test_no_dialog_drops_what_was_said_at_one_esc(desk: Desk, keys: tuple[str, ...]) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *keys)
        dialog = app.screen
        assert isinstance(dialog, Dialog) and dialog.would_lose()
        await press(pilot, "escape")
        assert app.screen is dialog and "Not saved yet" in screen_text(app)
        await press(pilot, "escape")
        assert app.screen is not dialog
