"""Driving the screen in tests: wait until it has settled, and read what stands on it."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Callable
from typing import Any, cast

from textual.app import App
from textual.pilot import Pilot
from textual.widget import Widget

from readiness.desk.desk import Desk
from readiness.tui.app import ReadinessApp
from readiness.tui.board.screen import BoardScreen
from readiness.tui.board.table import BullTable
from readiness.tui.diary.screen import DiaryScreen

PATIENCE = 20.0
TURN = 0.001
"""Seconds that a thread is given before it is asked again whether it is done."""


def make_app(desk: Desk, **how: Any) -> ReadinessApp:
    """The program over a desk that is open; ``how``: as ``Program`` takes it."""
    return ReadinessApp(lambda: desk, **how)


async def nothing_to_run(*_: float) -> None:
    """Until no task of this loop could run: each waits for a thread, a moment or a key."""
    ready = cast(Any, asyncio.get_running_loop())._ready
    await asyncio.sleep(0)
    while ready:
        await asyncio.sleep(0)


async def settled(pilot: Pilot[None]) -> None:
    """Every reading and writing is done, whether it went well or not, and painted."""
    async with asyncio.timeout(PATIENCE):
        while True:
            await until(pilot, lambda: not _at_work(pilot.app))
            await pilot.pause()
            await nothing_to_run()
            if not (_at_work(pilot.app) or _to_paint(pilot.app)):
                break


def _at_work(app: App[None]) -> bool:
    return not all(worker.is_finished for worker in app.workers)


def _to_paint(app: App[None]) -> bool:
    """Whether something waits to be done or painted."""
    return any(
        node.message_queue_size or node._layout_required or node._repaint_required
        for node in (app.screen, *app.screen.walk_children(Widget))
    )


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after the other, each settled before the next."""
    for key in keys:
        await pilot.press(key)
        await settled(pilot)


async def until(pilot: Pilot[None], seen: Callable[[], bool]) -> None:
    """Wait for something that happens by itself; an error after ``PATIENCE`` seconds."""
    async with asyncio.timeout(PATIENCE):
        while not seen():
            await pilot.pause()
            await asyncio.sleep(TURN)


async def resized(pilot: Pilot[None], width: int, height: int) -> None:
    """The terminal of another size: its screens learn of that a moment later."""
    await pilot.resize_terminal(width, height)
    await until(pilot, lambda: pilot.app._resize_event is None)
    await settled(pilot)


def screen_lines(app: ReadinessApp) -> list[str]:
    """The lines of the screen as a person sees them."""
    strips = app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip).rstrip() for strip in strips]


def squeezed(app: ReadinessApp) -> str:
    """What stands on the screen without any blanks and frames: for words that may be wrapped."""
    return re.sub(r"[\s│]+", "", screen_text(app))


def screen_text(app: ReadinessApp) -> str:
    return "\n".join(screen_lines(app))


def board_of(app: ReadinessApp) -> BoardScreen:
    return app.board_screen


def keys_shown(app: ReadinessApp) -> list[str]:
    """The look-up keys of the bulls in the table, from the top."""
    table = board_of(app).query_one(BullTable)
    return [str(row.key.value) for row in table.ordered_rows]


def under_cursor(app: ReadinessApp) -> str | None:
    row = board_of(app).query_one(BullTable).bull
    return row.key if row else None


async def to_diary(pilot: Pilot[Any], *keys: str) -> DiaryScreen:
    await settled(pilot)
    await press(pilot, "d", *keys)
    screen = pilot.app.screen
    assert isinstance(screen, DiaryScreen)
    return screen
