"""The terminal program. Only what is under here imports textual, and only once it is started."""

from __future__ import annotations

import os
import sys
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.system.errors import UsageError

if TYPE_CHECKING:
    from readiness.desk.desk import Desk


def run(
    book_path: Path,
    rules_path: Path | None,
    on: date | None,
    who: str,
    readonly: bool = False,
    *,
    no_color: bool = False,
) -> int:
    """Open the screen on a book and stay until it is left; 0.

    ``on``: the day shown, None for today; ``no_color``: as if ``NO_COLOR`` were set. Raises
    ``UsageError`` where there is no terminal.
    """
    _needs_terminal()
    if no_color:
        os.environ["NO_COLOR"] = "1"
    from readiness.tui.shared import early
    from readiness.tui.shared.reading import BoardSheet, Seen, read_board, stamp_of

    open_desk = partial(_desk, book_path, rules_path, on, who, readonly=readonly)

    def read() -> Seen[BoardSheet]:
        desk = open_desk()
        return Seen(stamp_of(desk), read_board(desk))

    coming = early.start(read)
    from readiness.tui.app import ReadinessApp
    from readiness.tui.shared.looks import glyphs_for

    # The screen is written to stderr, so that is the encoding that counts.
    encoding = getattr(sys.__stderr__, "encoding", None)
    demo = partial(_demo_desk, on, who)
    app = ReadinessApp(open_desk, demo=demo, glyphs=glyphs_for(encoding), early=coming)
    app.run()
    return app.return_code or 0


def _needs_terminal() -> None:
    if not (sys.stdin.isatty() and sys.stdout.isatty()) or os.environ.get("TERM") == "dumb":
        raise UsageError(
            "The screen needs a terminal, and this is none that can show it. "
            "`readiness board` prints the board as text."
        )


def _desk(
    book_path: Path, rules_path: Path | None, on: date | None, who: str, *, readonly: bool
) -> Desk:
    from readiness.book import Book
    from readiness.desk.desk import Desk
    from readiness.system.clock import SystemClock

    clock = SystemClock()
    book = Book(book_path, clock)
    return Desk(book, rules_path, clock, on=on, who=who, readonly=readonly)


def _demo_desk(on: date | None, who: str) -> Desk:
    """The demo book with its own rules beside it, built in a throw-away place."""
    import tempfile

    from readiness.desk.demo import build_demo

    path = Path(tempfile.mkdtemp(prefix="readiness-demo-")) / "demo.duckdb"
    desk = _desk(path, path.with_suffix(".toml"), on, who, readonly=False)
    build_demo(path, desk.on)
    return desk
