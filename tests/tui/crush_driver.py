"""Driving the Crush screen in tests: into it, keys one by one, and what the book then holds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import count
from typing import Any

from textual.events import Key
from textual.pilot import Pilot

from readiness.desk.desk import Desk
from readiness.tui.app import ReadinessApp
from readiness.tui.crush.screen import CrushScreen
from tests.build import standing
from tests.tui.driver import make_app, press, settled

_NAMES = {
    " ": "space", ";": "semicolon", "@": "at", "/": "slash", ".": "full_stop", ":": "colon",
    ",": "comma", "-": "minus", "+": "plus", "=": "equals_sign", "*": "asterisk",
    "[": "left_square_bracket", "]": "right_square_bracket",
}  # fmt: skip
COMMON = ("kind", "on", "bull", "by")


def crush_app(desk: Desk, poll: float = 3600, **how: Any) -> ReadinessApp:
    """The program, with a clock of its own for keys: each comes long after the one before."""
    app = make_app(desk, poll=poll, **how)
    seconds = count(step=10)
    app.ticks, app.breath = lambda: float(next(seconds)), 0.0
    return app


async def to_crush(pilot: Pilot[None], *keys: str) -> CrushScreen:
    """From the Board to the crush; ``keys`` are pressed there."""
    await settled(pilot)
    await press(pilot, "c")
    await press(pilot, *keys)
    return crush_of(pilot)


def crush_of(pilot: Pilot[None]) -> CrushScreen:
    screen = next(s for s in reversed(pilot.app.screen_stack) if isinstance(s, CrushScreen))
    return screen


async def quickly(pilot: Pilot[None], *keys: str) -> None:
    """Press keys as fast as a terminal sends them, and let it settle once at the end."""
    characters = {name: character for character, name in _NAMES.items()}
    for key in keys:
        pilot.app.post_message(Key(key, characters.get(key, key if len(key) == 1 else None)))
    await settled(pilot)


async def at_pace(pilot: Pilot[None], keys: str, pause: float) -> Callable[[float], None]:
    """Keys as they are typed: so many seconds apart, or (0) in one go; then the clock stands, and
    what is returned takes it on by so many seconds."""
    app = pilot.app
    assert isinstance(app, ReadinessApp)
    seconds = app.ticks()

    def wait(pause: float) -> None:
        nonlocal seconds
        seconds += pause

    app.ticks = lambda: seconds
    for some in keys.split() if pause else [keys]:
        await quickly(pilot, *some.split())
        wait(pause)
    return wait


async def type_in(pilot: Pilot[None], text: str) -> None:
    """Type a text into the line that is open."""
    names = {
        " ": "space",
        ";": "semicolon",
        "@": "at",
        "/": "slash",
        ".": "full_stop",
        ":": "colon",
    }
    await press(pilot, *(names.get(character, character) for character in text))


def line_of(screen: CrushScreen) -> str:
    """What is said of the bull in the crush, as shorthand."""
    assert screen.session.pad is not None
    return screen.session.line


def bodies(desk: Desk, since: Iterable[str] = ()) -> list[dict[str, Any]]:
    """What stands in the book but for the entries of these ids, without day, bull and person."""
    before = set(since)
    return [bare(entry.body) for entry in standing(desk.book) if entry.id not in before]


def bare(body: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in body.items() if key not in COMMON[1:]}


def ids(desk: Desk) -> set[str]:
    return {entry.id for entry in desk.book.snapshot().entries}
