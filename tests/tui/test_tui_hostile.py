"""Names and notes are hostile until shown: markup, escapes, direction overrides, length."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from rich.cells import cell_len

from tests.tui.driver import board_of, make_app, press, screen_lines, screen_text, settled
from tests.tui.estate import ago, bull, desk_at, done, of
from tests.volume import sampled

NAMES = {
    "markup": "[red]Bo[/red][@click=app.quit]x[/]",
    "broken markup": "[/nothing] [[ ] \\[bold",
    "escape": "Bo\x1b[2J\x1b]0;owned\x07b",
    "direction": "Bo\u202eevil\u2066b",
    "long": "Bartholomew" * 10,
    "wide": "牛牛牛牛牛牛牛牛牛牛牛牛牛牛牛牛牛牛牛牛",
    "emoji": "🐂👨‍👩‍👧‍👦🐄e\u0301 Bo",
    "right to left": "שור גדול",
    "breaks": "Bo\nb\r\tx",
    "braces": "{0} %s $TEXT {name}",
}
UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def hostile(name: str) -> list[dict[str, Any]]:
    """One bull with this name, on a farm and in a group of this name, with a note of it."""
    farm = {"farm": name}
    return [
        {"kind": "group", "on": ago(200), "group": name, "turnout": ago(-6), **farm},
        *bull("00417", name, None, **farm, breed=name),
        of("00417", "join", 190, group=name),
        *done("00417"),
        of("00417", "feet", 3, lifted=["LF"], note=name, by=name,
           findings=[{"foot": "LF", "claw": "outer", "code": "XX", "severity": 2}]),
        of("00417", "check", 2, check="dung-sample", result="fail", note=name),
    ]  # fmt: skip


@sampled(
    ("name", "size"),
    [(name, (80, 24)) for name in NAMES]
    + [(name, size) for name in ("long", "wide", "emoji") for size in ((60, 20), (120, 40))],
    of=[(name, (80, 24)) for name in ("escape", "broken markup", "emoji", "direction")],
    most=9,
)
async def test_hostile_text_stays_text_on_every_screen(
    tmp_path: Path, name: str, size: tuple[int, int]
) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", hostile(NAMES[name])))
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        for keys in (("g",), ("escape", "slash", *"[red]"), ("escape", "enter"), ("8",), ("s",),
                     ("escape", "question_mark"), ("escape", "p")):  # fmt: skip
            await press(pilot, *keys)
            for line in screen_lines(app):
                assert not UNSEEN.search(line)
                assert cell_len(line) <= size[0]


async def test_markup_is_shown_as_it_was_written(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", hostile("[red]Bo[/red]")))
    async with app.run_test(size=(120, 60)) as pilot:
        await settled(pilot)
        assert screen_text(app).count("[red]Bo[/red]") >= 3  # group, bull, the bull in full
        await press(pilot, "enter")
        text = screen_text(app)
        assert "[ R E D ] B O [ / R E D ]" in text
        assert "[red]Bo[/red]," in text


async def test_a_click_hidden_in_a_name_does_nothing(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", hostile(NAMES["markup"])))
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        lines = screen_lines(app)
        row = next(at for at, line in enumerate(lines) if "00417" in line and "■" in line)
        await pilot.click(offset=(20, row))
        await settled(pilot)
        assert app.is_running
        assert board_of(app).board is not None
