"""Another copy of the book, taken in from the Board."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from textual.widgets import Input

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.tui.welcome.merging import Look, MergeFile
from tests.build import standing
from tests.tui.crush_driver import crush_app
from tests.tui.driver import press, screen_text, settled, squeezed
from tests.tui.estate import CLOCK, desk_at

WALK = {"kind": "mobility", "on": "2026-04-03", "bull": "1", "scale": "gb0-3", "score": 3}


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_what_would_come_in_is_shown_and_one_key_takes_it_in(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb")
    desk.add([{"kind": "bull", "on": "2026-01-01", "bull": "1", "name": "Alder"}])
    other = tmp_path / "ann.duckdb"
    shutil.copyfile(desk.book.path, other)
    Desk(Book(other, CLOCK, device="ann"), None, CLOCK).add([WALK])
    app = crush_app(desk)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, "m")
        app.screen.query_one("#path", Input).value = "nowhere"
        await press(pilot, "enter")
        assert "thereisnosuchfileorfolder" in squeezed(app)
        app.screen.query_one("#path", Input).value = str(other)
        await press(pilot, "enter")
        assert isinstance(app.screen, Look)
        assert "1Alder:1walk;Fri3Apr2026" in squeezed(app)
        await press(pilot, "escape")
        assert len(standing(desk.book)) == 1  # looked at, no more
        assert isinstance(app.screen, MergeFile)
        ticks, app.ticks = app.ticks, lambda: 1e6
        await press(pilot, "enter", "t", "escape")  # typed before it was seen
        assert len(standing(desk.book)) == 1
        app.ticks = ticks
        await press(pilot, "enter", "t")
        await settled(pilot)
        assert [entry.kind for entry in standing(desk.book)] == ["bull", "mobility"]
        assert "lame" in screen_text(app)
        await press(pilot, "u")
        assert "Lasttakeninoutofanothercopy,1entry:" in squeezed(app)
        await press(pilot, "y")
        await settled(pilot)
        assert [entry.kind for entry in standing(desk.book)] == ["bull"]
