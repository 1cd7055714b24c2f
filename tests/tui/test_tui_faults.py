"""What goes wrong is said calmly, with what to do; the last board stays."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.system.errors import BookBusy
from readiness.tui.welcome.screen import Welcome
from tests.tui.driver import (
    board_of,
    keys_shown,
    make_app,
    press,
    screen_text,
    settled,
    squeezed,
    until,
)
from tests.tui.estate import desk_at, estate


def one_line(text: str) -> str:
    return " ".join(text.split())


async def test_a_damaged_book_keeps_the_last_board_and_says_so(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    app = make_app(desk_at(path, estate()), poll=0.02)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        before = keys_shown(app)
        path.write_bytes(b"this is no book" * 1000)
        await until(pilot, lambda: "r reads it again" in one_line(screen_text(app)))
        assert keys_shown(app) == before
        assert "bulls.duckdb" in squeezed(app)
        assert app.is_running


async def test_a_book_taken_away_keeps_the_last_board(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    app = make_app(desk_at(path, estate()), poll=0.02)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        kept = path.read_bytes()
        path.unlink()
        await until(pilot, lambda: "There is no book" in one_line(screen_text(app)))
        assert not isinstance(app.screen, Welcome)
        assert len(keys_shown(app)) == 9
        path.write_bytes(kept)
        await until(pilot, lambda: "There is no book" not in one_line(screen_text(app)))
        assert len(keys_shown(app)) == 9


async def test_a_busy_book_is_tried_again_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    read, tries = desk.board_and_cover, []

    def busy() -> object:
        tries.append(1)
        if len(tries) < 3:
            raise BookBusy("The book is held by process 4711.")
        return read()

    monkeypatch.setattr(desk, "board_and_cover", busy)
    app = make_app(desk, poll=0.02)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: board_of(app).board is not None)
        await settled(pilot)
        assert len(tries) == 3
        assert "4711" not in screen_text(app)
        assert len(keys_shown(app)) == 9


async def test_a_directory_or_a_text_in_place_of_a_book_is_said_at_the_start(
    tmp_path: Path,
) -> None:
    text = tmp_path / "notes.duckdb"
    text.write_text("these are notes", encoding="utf-8")
    for path in (text, tmp_path):
        app = make_app(desk_at(path))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            assert path.name in squeezed(app)
            assert app.is_running
    assert text.read_text(encoding="utf-8") == "these are notes"


async def test_wrong_rules_are_said(tmp_path: Path) -> None:
    rules = tmp_path / "rules.toml"
    rules.write_text("[rules]\nfeet.oldest = -3\n", encoding="utf-8")
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.rules_path = rules
    app = make_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert "rules.toml" in screen_text(app)


async def test_a_book_to_read_only_refuses_to_be_written(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    desk_at(path, estate())
    app = make_app(desk_at(path, readonly=True))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        assert "to read only" in screen_text(app)
        await press(pilot, "u")
        assert "Start without --readonly" in screen_text(app)


async def test_a_bull_withdrawn_elsewhere_is_said_on_his_screen(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    desk = desk_at(path, estate())
    desk.add([{"kind": "bull", "on": "2026-04-01", "bull": "00999", "name": "Gone"}])
    app = make_app(desk, poll=0.02)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"gone", "enter", "enter")
        assert "G O N E" in screen_text(app)
        desk.undo()
        await until(pilot, lambda: "There is no bull" in one_line(screen_text(app)))
        assert "G O N E" in screen_text(app)
