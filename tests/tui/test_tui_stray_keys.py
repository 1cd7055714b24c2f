"""On screens for looking no key writes: neither a stray one nor one that is held down."""

from __future__ import annotations

import string
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from readiness.tui.bull.screen import BullScreen
from tests.tui.crush_driver import crush_app, ids, quickly, to_crush
from tests.tui.driver import press, settled
from tests.tui.estate import desk_at, estate
from tests.volume import sampled

NAMED = ("enter", "space", "tab", "backspace", "delete", "insert", "home", "end", "pageup",
         "pagedown", "up", "down", "left", "right", "slash", "question_mark", "comma", "full_stop",
         "semicolon", "plus", "minus", "f1", "f5", "ctrl+z", "ctrl+s", "ctrl+d")  # fmt: skip
# q ends the program, c goes to the crush: there keys do write.
WRITING = ("u", "e", "w")  # these lead to where one writes: seen to the end before the next
STRAY = [key for key in (*string.ascii_letters, *string.digits, *NAMED) if key not in ("q", "c")]


def batched(keys: Sequence[str], size: int) -> Iterator[Sequence[str]]:
    for start in range(0, len(keys), size):
        yield keys[start : start + size]


@sampled("bull", [False, True], ids=["board", "bull"])
@pytest.mark.long
async def test_no_single_key_writes_and_none_held_down_does(tmp_path: Path, bull: bool) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.add([{"kind": "weight", "on": "2026-04-03", "bull": "00288", "kg": 900}])
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        for keys in batched(STRAY, 12):
            for key in keys:
                if bull and not isinstance(app.screen, BullScreen):
                    await press(pilot, "enter")
                screens = len(app.screen_stack)
                await quickly(pilot, key, key, key)
                if key in WRITING or len(app.screen_stack) > screens:
                    await press(pilot, "escape")
                while len(app.screen_stack) > screens:
                    await press(pilot, "escape")
            await settled(pilot)
            assert ids(desk) == before, keys


@sampled("way", ["", "d", "d 4", "v", "enter", "f", "t enter"])
async def test_a_key_that_does_nothing_says_so_once_in_a_breath(tmp_path: Path, way: str) -> None:
    """On the board, the diary, the cover and the others nothing told that it was not taken."""
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, *way.split())
        app.clear_notifications()
        at = app.ticks()
        app.ticks = lambda: at
        await quickly(pilot, "Z", "Z", "Z", "f5")
        told = [each.message for each in app._notifications]
        assert told == ["Z means nothing here: ? shows the keys."]
        app.ticks = lambda: at + 10
        await quickly(pilot, "Y")
        told = [each.message for each in app._notifications]
        assert told == ["Y means nothing here: ? shows the keys."], "several hide what the keys are"


async def test_a_key_held_down_in_the_crush_saves_no_second_bull(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "s")
        await quickly(pilot, *["enter"] * 30)
        assert len(ids(desk) - before) == 1
