"""Starting the screen: what it imports and when, the early board, and a whole run in a terminal."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time
from pathlib import Path

import pytest

from readiness.cli.context import Context, demo_of
from readiness.system.throwaway import throw_away
from tests.tui.estate import DAY, desk_at, estate

ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 30.0
EARLY = """
import sys
from datetime import date
from pathlib import Path
from readiness.cli.context import Context
from readiness.tui.shared.reading import start_early

context = Context(Path(sys.argv[1]), None, date(2026, 4, 3), "", readonly=False)
coming = start_early(context.desk)
import readiness.tui.app
assert "duckdb" not in sys.modules, "the screen itself waits for no database"
seen = coming()
print([bull.key for bull in seen.what.board.bulls] if seen else seen)
"""


def python(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, text=True, capture_output=True, timeout=PATIENCE,
        check=True,
    )  # fmt: skip


def test_importing_the_package_alone_imports_no_screen_and_no_database() -> None:
    said = python(
        "-c",
        "import sys, readiness.tui, readiness.tui.shared.reading;"
        "print([name for name in ('textual', 'duckdb', 'pydantic') if name in sys.modules])",
    )
    assert said.stdout.strip() == "[]"


def test_the_early_board_is_the_board(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    said = python("-c", EARLY, str(tmp_path / "bulls.duckdb"))
    assert said.stdout.strip() == str([bull.key for bull in desk.board().bulls])
    assert said.stderr == ""


def test_a_book_that_cannot_be_read_gives_no_early_board_and_no_noise(tmp_path: Path) -> None:
    said = python("-c", EARLY, str(tmp_path / "none.duckdb"))
    assert said.stdout.strip() == "None"
    assert said.stderr == ""


def test_the_welcome_s_demo_is_the_demo_in_a_place_of_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    here = Context(tmp_path / "bulls.duckdb", None, DAY, "somebody", readonly=True)
    with throw_away() as place:
        desk = demo_of(here, place() / "demo.duckdb").desk()
        assert desk.book.path.is_relative_to(tmp_path)
        assert desk.rules_path is not None
        assert desk.rules_path.exists()
        board = desk.board()
    assert len(board.bulls) == 36
    assert list(tmp_path.iterdir()) == []
    assert {bull.status for bull in board.bulls} == {"GO", "HOLD"}


def test_a_whole_run_in_a_terminal(tmp_path: Path) -> None:
    desk_at(tmp_path / "bulls.duckdb", estate())
    screen, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    book = str(tmp_path / "bulls.duckdb")
    command = [sys.executable, "-m", "readiness", "--book", book, "--on", DAY.isoformat()]
    environment = {**os.environ, "TERM": "xterm-256color", "PYTHONIOENCODING": "utf-8"}
    with subprocess.Popen(
        command, cwd=ROOT, env=environment, stdin=theirs, stdout=theirs, stderr=theirs
    ) as running:
        os.close(theirs)
        shown = b""
        end = time.monotonic() + PATIENCE
        while b"Rowan" not in shown:
            assert time.monotonic() < end and select.select([screen], [], [], PATIENCE)[0], shown
            shown += os.read(screen, 65536)
        assert b"Corran" in shown
        os.write(screen, b"q")
        while select.select([screen], [], [], PATIENCE)[0]:
            try:
                shown += os.read(screen, 65536)
            except OSError:  # the terminal's other end is closed
                break
        assert running.wait(PATIENCE) == 0
    os.close(screen)
    assert b"Traceback" not in shown
