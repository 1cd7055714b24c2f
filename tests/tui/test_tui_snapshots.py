"""How the screens are laid out, on a fixed day, at two sizes each."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from tests.tui.driver import make_app, press, settled
from tests.tui.estate import desk_at, estate
from tests.volume import sampled

SCREENS = {
    "board": (),
    "board-found": ("slash", "r", "o", "w"),
    "bull-blocked": ("down", "down", "down", "enter"),
    "bull-feet": ("down", "down", "down", "enter", "4"),
    "bull-go": ("3", "enter"),
    "bull-mend": ("slash", *"brock", "enter", "enter", "asterisk", "down", "plus"),
    "sources": ("down", "down", "down", "enter", "s"),
    "help": ("question_mark",),
    "groups": ("g",),
    "crush": ("c",),
    "crush-severity": ("c", "1", "o", "w", "l", "f", "2"),
    "crush-finding": ("c", "1", "o", "s", "u", "4", "2", "p", "b"),
    "crush-asking": ("c", "n", "s"),
    "crush-saved": ("c", *"1osu42pdbsw21", "enter"),
    "crush-list": ("c", "w", "2", "1", "enter", "s", "escape", "tab"),
    "crush-line": ("c", "l", "a", "l", "l", "space", "o"),
    "crush-trouble": ("c", "a", "9", "1", "1"),
    "crush-part": ("c", "a", "9", "1", "1", "1", "a", "6", "1"),
    "crush-vet": ("c", "v", "1"),
    "crush-other": ("c", "v"),
    "diary": ("d",),
    "diary-look": ("d", "down", "down", "l", "h"),
    "diary-week": ("d", "2"),
    "diary-season": ("d", "3"),
    "diary-visits": ("d", "4"),
    "diary-moved": ("d", "4", "right"),
    "cover": ("v",),
    "cover-what-if": ("v", "down", "plus", "plus", "right"),
    "turnout": ("t", "1"),
    "turnout-why": ("t", "1", "down", "down", "enter"),
    "diary-dropped": ("d", "4", "down", "x"),
}
SIZES = [(80, 24), (120, 40)]
Compare = Callable[..., bool]


@sampled("size", SIZES, ids=["80x24", "120x40"])
@pytest.mark.parametrize("keys", SCREENS.values(), ids=SCREENS)
def test_layout(
    snap_compare: Compare, tmp_path: Path, keys: tuple[str, ...], size: tuple[int, int]
) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    app.ticks = count(step=10.0).__next__

    async def there(pilot: Pilot[Any]) -> None:
        await settled(pilot)
        await press(pilot, *keys)

    assert snap_compare(app, terminal_size=size, run_before=there)


@sampled("size", SIZES, ids=["80x24", "120x40"])
@pytest.mark.parametrize("key", ["", "3"], ids=["welcome", "first-bull"])
def test_layout_of_the_first_run(
    snap_compare: Compare,
    key: str,
    size: tuple[int, int],
) -> None:
    app = make_app(desk_at(Path("/no/such/place/bulls.duckdb")), poll=3600)

    async def there(pilot: Pilot[Any]) -> None:
        await settled(pilot)
        await press(pilot, *key)

    assert snap_compare(app, terminal_size=size, run_before=there)
