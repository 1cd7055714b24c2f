"""Driving the screen in tests: wait until it has settled, and read what stands on it."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Callable

from textual.app import App
from textual.pilot import Pilot
from textual.widget import Widget

from readiness.tui.app import ReadinessApp
from readiness.tui.board.screen import BoardScreen
from readiness.tui.board.table import BullTable

PATIENCE = 20.0
MORE_PAUSES = 25


async def settled(pilot: Pilot[None]) -> None:
    """Every reading and writing is done, whether it went well or not, and painted."""
    for _ in range(3):
        await until(pilot, lambda: all(worker.is_finished for worker in pilot.app.workers))
        await pilot.pause()
    for _ in range(MORE_PAUSES):
        if not _to_paint(pilot.app):
            break
        await pilot.pause()


def _to_paint(app: App[None]) -> bool:
    """Whether something waits to be done or painted. A pause ends when the process uses little of
    the processor, which on a loaded machine it also does while it is kept from working."""
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
