"""The README's pictures, made of the demo on its own day: screens as SVG, pages as PNG.

    .venv/bin/python -m tests.guide.pictures

makes them anew (chromium draws the pages). ``pages.json`` holds of each page the digest of what was
drawn, so that a test can tell whether it is the page of today.
"""

from __future__ import annotations

import asyncio
import json
import re
from collections.abc import Iterable
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

from readiness import guide
from readiness.book import Book
from readiness.cli.main import run
from readiness.desk.demo import WRITTEN_ON, build_demo
from readiness.desk.desk import Desk
from readiness.system.clock import FixedClock
from tests.pages.looker import Looker
from tests.tui.driver import make_app, press, settled

FOLDER = Path(guide.__file__).parent / "pictures"
DIGESTS = FOLDER / "pages.json"
CLOCK = FixedClock(datetime(WRITTEN_ON.year, WRITTEN_ON.month, WRITTEN_ON.day, 9, 30, tzinfo=UTC))

SCREENS: dict[str, tuple[tuple[int, int], Iterable[str]]] = {
    "board": ((100, 24), ("g", "4")),
    "crush": ((112, 44), ("c", "1", *"1osu42pdb")),
    "bull": ((100, 40), ("slash", *"martlet", "enter", "enter", "4")),
}
"""Picture → the size of the terminal, and the keys that lead there."""

PAGES = {
    "wall": ("board", "--group", "Heifers"),
    "sheet": ("sheet", "--on", "2026-03-04"),
}
"""Picture → the command whose page it shows the head of."""

WIDE, HIGH = 860, 780


def demo(folder: Path) -> Path:
    """The demo's book, in this folder."""
    book = folder / "demo.duckdb"
    build_demo(book, WRITTEN_ON)
    return book


async def screen(book: Path, name: str) -> str:
    """A screen of the demo, drawn."""
    (width, height), keys = SCREENS[name]
    desk = Desk(Book(book, CLOCK, device="demo"), book.with_suffix(".toml"), CLOCK, who="Isla")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(width, height)) as pilot:
        await settled(pilot)
        await press(pilot, *keys)
        drawn = app.export_screenshot(title=f"readiness: {name}")
    # The letters that it would ask the network for: every reader has some of an even width.
    drawn = re.sub(r"@font-face \{.*?\}\s*", "", drawn, flags=re.DOTALL)
    return re.sub(r"font-family: Fira Code,", "font-family:", drawn)


def page(book: Path, name: str) -> Path:
    """A page of the demo, beside its book."""
    path = book.with_name(f"{name}.html")
    command = [*PAGES[name], "--html", str(path), "--book", str(book)]
    on = [] if "--on" in command else ["--on", WRITTEN_ON.isoformat()]
    assert run([*command, *on]) == 0
    return path


def digest(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    looker = Looker()
    try:
        with TemporaryDirectory() as folder:
            book = demo(Path(folder))
            for name in SCREENS:
                drawn = asyncio.run(screen(book, name))
                (FOLDER / f"{name}.svg").write_text(drawn, encoding="utf-8")
            drawn_of = {}
            for name in PAGES:
                path = page(book, name)
                looker.picture(path, FOLDER / f"{name}.png", width=WIDE, height=HIGH)
                drawn_of[name] = digest(path)
    finally:
        looker.close()
    DIGESTS.write_text(json.dumps(drawn_of, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
