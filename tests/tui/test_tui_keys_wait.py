"""Keys typed while a screen is still being read: they wait, in their order, or are refused aloud.

Reading is held up as long as a test wants: on a slow disk it is."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from textual.pilot import Pilot

from readiness.crush.keys import BY_ITSELF
from readiness.desk.desk import Desk
from readiness.system.breath import UNHEARD
from readiness.system.errors import DataError
from readiness.tui.board.screen import BoardScreen
from readiness.tui.bull.correct import CorrectLine
from readiness.tui.bull.screen import BullScreen
from readiness.tui.cover.screen import CoverScreen
from readiness.tui.crush.screen import CrushScreen
from readiness.tui.diary.screen import DiaryScreen
from readiness.tui.shared.dialogs import Choose
from readiness.tui.shared.held import NOT_TAKEN
from readiness.tui.shared.live import LiveScreen
from readiness.tui.turnout.screen import TurnoutScreen
from tests.tui.crush_driver import (
    bodies,
    crush_app,
    crush_of,
    ids,
    line_of,
    quickly,
    to_crush,
)
from tests.tui.driver import press, screen_text, settled, until
from tests.tui.estate import desk_at, estate
from tests.volume import sampled


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


@contextmanager
def slow(monkeypatch: pytest.MonkeyPatch, screen: type[LiveScreen[Any]]) -> Iterator[Event]:
    """Screens of this kind are read only once the event is set."""
    go, read = Event(), screen.read

    def waits(self: LiveScreen[Any]) -> object:
        go.wait(30)
        return read(self)

    monkeypatch.setattr(screen, "read", waits)
    try:
        yield go
    finally:
        go.set()


async def opened(pilot: Pilot[None], screen: type[Any]) -> None:
    await until(pilot, lambda: isinstance(pilot.app.screen, screen))
    await pilot.pause()


async def test_a_key_pressed_before_the_first_board_is_there_is_not_lost(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = crush_app(desk)
    with slow(monkeypatch, BoardScreen) as go:
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("c", "s", "w", "0")
            assert isinstance(app.screen, BoardScreen)
            go.set()
            await settled(pilot)
            assert line_of(crush_of(pilot)) == "all ok; walk 0"


async def test_enter_pressed_before_the_race_stood_there_saves_nobody(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody has seen of whom it would be."""
    app, before = crush_app(desk), ids(desk)
    with slow(monkeypatch, CrushScreen) as go:
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            await pilot.press("c", "s", "enter")
            go.set()
            await settled(pilot)
            assert "typed before anybody could see him" in screen_text(app)
            assert bodies(desk, before) == []
            await press(pilot, "enter")
            assert len(bodies(desk, before)) == 1


async def test_an_entry_is_corrected_of_the_bull_that_will_be_shown(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of the one before, whose page stood there still, it would be a correction nobody meant."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "enter")
        assert isinstance(app.screen, BullScreen)
        first = app.screen.key
        with slow(monkeypatch, BullScreen) as go:
            await pilot.press("n", "e", "enter")
            assert isinstance(app.screen, BullScreen)
            following = app.screen.key
            go.set()
            await settled(pilot)
            assert isinstance(app.screen, CorrectLine)
            assert following != first
            tag = desk.card(following).assessment.bull
            assert f"Correct what was said of {tag}" in screen_text(app)


@sampled(
    ("key", "screen", "pressed", "seen"),
    [("d", DiaryScreen, "3", "Turnout"), ("v", CoverScreen, "question_mark", "Help")],
)
async def test_a_view_or_help_asked_for_too_soon_comes_when_the_screen_does(
    desk: Desk,
    monkeypatch: pytest.MonkeyPatch,
    key: str,
    screen: type[LiveScreen[Any]],
    pressed: str,
    seen: str,
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        with slow(monkeypatch, screen) as go:
            await pilot.press(key)
            await opened(pilot, screen)
            await pilot.press(pressed)
            assert app.screen.unread  # type: ignore[attr-defined]
            go.set()
            await settled(pilot)
            assert seen in screen_text(app) or app.screen.view == "season"  # type: ignore[attr-defined]


async def test_nobody_of_the_group_looked_at_before_is_let_out(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "t")
        if not isinstance(app.screen, TurnoutScreen):
            await press(pilot, "1")
        assert isinstance(app.screen, TurnoutScreen)
        await press(pilot, "g")
        with slow(monkeypatch, TurnoutScreen) as go:
            await pilot.press("2", "l")
            assert isinstance(app.screen, TurnoutScreen)
            assert app.screen.seen is None
            go.set()
            await settled(pilot)
        assert not isinstance(app.screen, Choose)
        assert any("Nobody who is GO" in told.message for told in app._notifications)


async def test_what_has_to_be_seen_first_is_not_answered_by_a_key_typed_before(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk.add([{"kind": "weight", "on": "2026-04-03", "bull": "00288", "kg": 900}])
    before = ids(desk)
    app = crush_app(desk)
    go, last_said = Event(), desk.last_said

    def waits() -> object:
        go.wait(30)
        return last_said()

    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        monkeypatch.setattr(desk, "last_said", waits)
        await pilot.press("u", "enter")
        go.set()
        await settled(pilot)
        assert "Last written on this device" in screen_text(app)
        assert [told.message for told in app._notifications] == [NOT_TAKEN]
        assert ids(desk) == before


async def test_keys_typed_for_a_screen_that_could_not_be_read_are_refused_aloud(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        go = Event()

        def fails(_: object) -> object:
            go.wait(30)
            raise DataError("The rules cannot be read.")

        monkeypatch.setattr(BullScreen, "read", fails)
        await pilot.press("enter")
        await opened(pilot, BullScreen)
        await pilot.press("c", "e")
        go.set()
        await settled(pilot)
        assert isinstance(app.screen, BullScreen)
        assert "The rules cannot be read" in screen_text(app)
        assert [told.message for told in app._notifications] == [NOT_TAKEN]


@pytest.mark.long
async def test_esc_leaves_a_screen_that_is_slow_and_what_waited_goes_with_it(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        with slow(monkeypatch, BullScreen):
            await pilot.press("enter")
            await opened(pilot, BullScreen)
            await pilot.press("c", "escape")
            await opened(pilot, BoardScreen)
        await settled(pilot)
        assert isinstance(app.screen, BoardScreen)


async def test_keys_sent_in_one_go_are_for_the_screen_that_the_first_of_them_opens(
    desk: Desk,
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await quickly(pilot, "c", "n", "s", "w", "1")
        screen = crush_of(pilot)
        assert (screen.session.key, line_of(screen)) == ("UK123456700002", "all ok")


async def test_a_tag_typed_where_a_choice_is_asked_chooses_nothing(desk: Desk) -> None:
    """Its first digit, three keys on, was the farm; the rest were feet of whoever stood there."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "c", "g")
        assert isinstance(app.screen, Choose)
        at = app.ticks()
        app.ticks = lambda: at
        await quickly(pilot, "slash", "1", "7", "enter", "s")
        assert isinstance(app.screen, Choose)
        assert ["/ means nothing here" in told.message for told in app._notifications] == [True]
        app.ticks = lambda: at + 1
        await press(pilot, "1")
        assert "bulls new in the race" in crush_of(pilot).session.message


async def test_a_word_typed_where_no_note_is_open_takes_nobody_back(desk: Desk) -> None:
    """ "under weight": its first letter took back the bull saved before, the second let him go."""
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter")
        here, at, app.breath = screen.session.key, app.ticks(), 3600.0
        app.ticks = lambda: at
        await quickly(pilot, *"under", "space", *"weight")
        assert (screen.session.key, line_of(screen)) == (here, "")
        assert f"{BY_ITSELF} {UNHEARD}" in " ".join(screen_text(app).split())
        app.ticks = lambda: at + 10
        await quickly(pilot, "u")
        assert len(bodies(desk, before)) == 1, "it waits whether a word is meant"
        await quickly(pilot, "backspace")
        assert bodies(desk, before) == [], "no character follows: it is done at once"
        assert screen.session.key == "00417"


async def test_a_word_typed_while_a_bull_is_saved_takes_nobody_back(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        app.ticks = lambda: 1000.0
        await quickly(pilot, "enter", *"under", "space", *"weight")
        assert screen.session.key == "UK123456700002"
        assert len(bodies(desk, before)) == 1
        assert BY_ITSELF in " ".join(screen_text(app).split())


async def test_a_day_typed_ahead_while_the_race_is_read_is_said_of_the_bull_it_names(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The tag behind a choice was refused there, and what followed it said of whoever stood in
    front: that he has left, say."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        with slow(monkeypatch, CrushScreen) as go:
            await pilot.press("c")
            await opened(pilot, CrushScreen)
            await pilot.press("g", "1", "slash", *"310", "enter", "v", "5")
            go.set()
            await settled(pilot)
        assert "Out, in or left: 00310 Fenwick" in screen_text(app)
        assert not app._notifications
