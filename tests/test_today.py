"""Today, where nobody names a day: it comes from the machine's clock, and midnight passes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from freezegun import freeze_time

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.system.clock import SystemClock
from tests.build import standing
from tests.cli.conftest import Run, book, run
from tests.tui.driver import board_of, make_app, screen_text, settled, until
from tests.tui.estate import desk_at, estate

__all__ = ["book", "run"]

BEFORE_MIDNIGHT = "2026-04-03 23:59:59"
TEXTUAL = ["textual"]  # its timers go on


def test_a_board_without_a_day_is_of_the_clocks_day(run: Run, book: Path) -> None:
    with freeze_time(BEFORE_MIDNIGHT) as clock:
        today = run("board", "--json").json()
        clock.tick(2)
        tomorrow = run("board", "--json").json()
    assert (today["on"], tomorrow["on"]) == ("2026-04-03", "2026-04-04")
    for board in (today, tomorrow):
        assert board["bulls"] == run("board", "--json", "--on", board["on"]).json()["bulls"]
    assert today["bulls"] != tomorrow["bulls"]


def test_what_is_written_without_a_day_is_of_the_clocks_day(run: Run, book: Path) -> None:
    with freeze_time(BEFORE_MIDNIGHT) as clock:
        assert run("log", "288", "kg 900").code == 0
        clock.tick(2)
        assert run("log", "288", "kg 901").code == 0
    days = {e.body.get("kg"): e.body["on"] for e in standing(Book(book, SystemClock()))}
    assert (days[900], days[901]) == ("2026-04-03", "2026-04-04")


async def test_a_board_left_open_over_midnight_shows_the_new_day(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    desk_at(path, estate())
    with freeze_time(BEFORE_MIDNIGHT, ignore=TEXTUAL, real_asyncio=True) as clock:
        desk = Desk(Book(path, SystemClock(), device="desk-one"), None, SystemClock())
        app = make_app(desk, poll=0.02)
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            assert "Fri 3 Apr 2026" in screen_text(app)
            clock.tick(2)
            await until(pilot, lambda: "Sat 4 Apr 2026" in screen_text(app))
            await settled(pilot)
            board = board_of(app).board
            assert board is not None
            assert board.on == date(2026, 4, 4).toordinal()
