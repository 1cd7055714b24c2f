"""The program as a process of its own: streams, terminal, permissions, and what it imports."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import duckdb
import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import DAY, write

ROOT = Path(__file__).parents[2]
PROGRAM = (sys.executable, "-m", "readiness")
# Root reads everything; without these two capabilities it obeys the permission bits like anybody.
OBEDIENT: Sequence[str] = (
    ("setpriv", "--bounding-set=-dac_override,-dac_read_search", "--") if os.geteuid() == 0 else ()
)


def environment(**more: str) -> dict[str, str]:
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "USER") if name in os.environ}
    return {**kept, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", **more}


def process(
    *arguments: object, before: Sequence[str] = (), **more: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*before, *PROGRAM, *map(str, arguments)],
        env=environment(**more), stdin=subprocess.DEVNULL, capture_output=True, text=True,
        check=False, timeout=60,
    )  # fmt: skip


def on_a_terminal(*arguments: object, **more: str) -> str:
    """What the command writes where stdout is a terminal."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [*PROGRAM, *map(str, arguments)],
        env=environment(**more), stdin=theirs, stdout=theirs, stderr=subprocess.PIPE,
    ) as child:  # fmt: skip
        os.close(theirs)
        seen = b""
        while select.select([ours], [], [], 30)[0]:
            try:
                part = os.read(ours, 65536)
            except OSError:  # Linux: the other end is closed
                break
            if not part:
                break
            seen += part
        assert child.wait(timeout=30) == 0
    os.close(ours)
    return seen.decode()


def imported(*arguments: object) -> set[str]:
    """The modules that a run leaves imported."""
    code = (
        "import sys; from readiness.__main__ import main; code = main(sys.argv[1:]); "
        "sys.stderr.write(' '.join(sys.modules)); sys.exit(code)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)],
        env=environment(), capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    return set(ran.stderr.split())


def test_version_imports_nothing_heavy() -> None:
    modules = imported("--version")
    assert "readiness" in modules
    assert not modules & {"duckdb", "textual", "pydantic", "argparse", "readiness.cli"}


@pytest.mark.parametrize("form", ["--json", "--csv", "--no-color"])
def test_board_imports_neither_screen_nor_validators(book: Path, form: str) -> None:
    modules = imported("board", form, "--book", book, "--on", DAY)
    assert {"duckdb", "readiness.desk.desk"} <= modules
    heavy = {"textual", "rich", "pydantic", "holidays", "readiness.tui", "readiness.entries.models"}
    assert not modules & heavy


def test_only_the_chosen_command_is_imported(book: Path) -> None:
    modules = imported("diary", "--book", book)
    mine = {name for name in modules if name.startswith("readiness.cli.")}
    assert "readiness.cli.diary" in mine
    assert not mine & {"readiness.cli.board", "readiness.cli.log", "readiness.cli.import_files"}


@pytest.mark.parametrize("arguments", [(), ("--readonly",)])
def test_the_screen_needs_a_terminal(book: Path, arguments: tuple[str, ...]) -> None:
    ran = process(*arguments, "--book", book)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.count("\n") == 1 and "readiness board" in ran.stderr


def test_a_terminal_that_cannot_place_text_is_none(book: Path) -> None:
    ours, theirs = pty.openpty()
    ran = subprocess.run(
        [*PROGRAM, "--book", str(book)], env=environment(TERM="dumb"), stdin=theirs, stdout=theirs,
        stderr=subprocess.PIPE, text=True, check=False, timeout=60,
    )  # fmt: skip
    os.close(theirs)
    os.close(ours)
    assert ran.returncode == 2 and "terminal" in ran.stderr


def test_colour_on_a_terminal_and_never_alone(book: Path) -> None:
    arguments = ("board", "--book", book, "--on", DAY)
    coloured = on_a_terminal(*arguments, TERM="xterm-256color")
    assert "\x1b[38;5;166m■" in coloured
    for plain in (
        on_a_terminal(*arguments, TERM="xterm-256color", NO_COLOR="1"),
        on_a_terminal(*arguments, "--no-color", TERM="xterm-256color"),
        on_a_terminal(*arguments, TERM="dumb"),
        process(*arguments).stdout,
    ):
        assert "\x1b" not in plain
        assert "■" in plain and "HOLD" in plain


@pytest.mark.parametrize("columns", [60, 120])
def test_what_is_piped_is_as_wide_as_columns_says(book: Path, columns: int) -> None:
    ran = process("board", "--book", book, "--on", DAY, COLUMNS=str(columns))
    assert columns - 20 < max(map(len, ran.stdout.splitlines())) <= columns


def test_ascii_marks_where_the_stream_shows_no_others(book: Path) -> None:
    ran = process("board", "--book", book, "--on", DAY, PYTHONUTF8="0", PYTHONIOENCODING="ascii")
    assert ran.returncode == 0 and ran.stdout.isascii()
    assert "\n#  " in ran.stdout and "\n*  " in ran.stdout and "\no  " in ran.stdout


def test_a_name_that_the_stream_cannot_show_is_no_fault(run: Run, book: Path) -> None:
    named = {"kind": "bull", "on": "2026-01-10", "bull": "9", "name": "Éabhall 牛"}
    assert run("import", write(book.with_name("n.jsonl"), [named])).code == 0
    for command in (("board",), ("bull", "9"), ("diary",), ("board", "--json")):
        ran = process(
            *command, "--book", book, "--on", DAY, PYTHONUTF8="0", PYTHONIOENCODING="ascii"
        )
        assert ran.returncode == 0, ran.stderr


def test_a_reader_that_has_read_enough_is_no_fault(book: Path) -> None:
    with subprocess.Popen(
        [*PROGRAM, "rules", "--book", str(book)], env=environment(),
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as child:  # fmt: skip
        assert child.stdout is not None and child.stderr is not None
        child.stdout.close()
        assert child.stderr.read() == b""
        assert child.wait(timeout=60) == 0


def test_a_full_disk_under_stdout_is_said(book: Path) -> None:
    with open("/dev/full", "w", encoding="utf-8") as full:
        ran = subprocess.run(
            [*PROGRAM, "board", "--book", str(book)], env=environment(), stdout=full,
            stderr=subprocess.PIPE, text=True, check=False, timeout=60,
        )  # fmt: skip
    assert ran.returncode == 73 and ran.stderr.startswith("readiness: ")
    assert ran.stderr.count("\n") == 1


def test_what_was_written_is_not_called_undone_for_want_of_stdout(run: Run, book: Path) -> None:
    """Else it is given once more, and stands in the book twice."""
    with open("/dev/full", "w", encoding="utf-8") as full:
        ran = subprocess.run(
            [*PROGRAM, "log", "288", "kg 901", "--book", str(book), "--on", DAY],
            env=environment(), stdout=full, stderr=subprocess.PIPE, text=True, check=False,
            timeout=60,
        )  # fmt: skip
    assert ran.returncode == 73 and "has done so all the same" in ran.stderr
    assert ran.stderr.count("\n") == 1
    assert "Weight 901 kg" in run("bull", "288", "--on", DAY).out


@pytest.mark.parametrize("option", ["--version", "--help"])
def test_what_cannot_be_printed_is_said(option: str) -> None:
    with open("/dev/full", "w", encoding="utf-8") as full:
        ran = subprocess.run(
            [*PROGRAM, option], env=environment(), stdout=full, stderr=subprocess.PIPE, text=True,
            check=False, timeout=60,
        )  # fmt: skip
    assert ran.returncode == 73 and ran.stderr.startswith("readiness: The result cannot be")
    assert ran.stderr.count("\n") == 1


def closed(*arguments: object, streams: str) -> subprocess.CompletedProcess[str]:
    """A run with some of its streams closed from the beginning."""
    return subprocess.run(
        ["sh", "-c", f'exec "$@" {streams}', "sh", *PROGRAM, *map(str, arguments)],
        env=environment(), capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip


def test_streams_that_are_closed_never_become_the_book(run: Run, book: Path) -> None:
    """The next file opened takes a closed stream's number; a message to it would overwrite it."""
    ran = closed(
        "log", "288", "kg 902", "--book", book, "--on", "2027-01-01", streams="<&- >&- 2>&-"
    )
    assert ran.returncode == 0
    assert run("verify").code == 0
    assert "Weight 902 kg" in run("bull", "288", "--on", "2027-01-01").out


def test_an_error_keeps_its_code_where_nothing_can_be_said(book: Path) -> None:
    for streams in (">&-", "2>&-", "2>/dev/full", "<&-"):
        ran = closed("bull", "999", "--book", book, streams=streams)
        assert ran.returncode == 66 and ran.stdout == ""
        assert "Traceback" not in ran.stderr


def test_stopped_by_the_keyboard(book: Path) -> None:
    """Stopped while it waits for a book that another process holds: 130, and no traceback."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # ignored, where pytest runs behind
    with duckdb.connect(str(book)):
        command = subprocess.Popen(
            [*PROGRAM, "board", "--book", str(book)], env=environment(),
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip
        maps = Path(f"/proc/{command.pid}/maps")
        while "_duckdb" not in maps.read_text(encoding="utf-8"):
            assert command.poll() is None
        command.send_signal(signal.SIGINT)
        out, err = command.communicate(timeout=60)
    assert (command.returncode, out) == (130, "")
    assert err == "readiness: Stopped.\n"


@pytest.mark.parametrize(
    ("mode", "arguments", "code"),
    [
        (0o000, ("board",), 66),
        (0o444, ("log", "288", "all ok"), 73),
        (0o444, ("board",), 0),
    ],
)
def test_a_book_without_permission(
    book: Path, mode: int, arguments: tuple[str, ...], code: int
) -> None:
    book.chmod(mode)
    ran = process(*arguments, "--book", book, "--on", DAY, before=OBEDIENT)
    book.chmod(0o644)
    assert ran.returncode == code, ran.stderr
    if code:
        assert ran.stdout == "" and ran.stderr.count("\n") == 1 and "bulls.duckdb" in ran.stderr


def test_a_file_and_a_folder_without_permission(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm.jsonl")
    closed = tmp_path / "closed"
    closed.mkdir()
    closed.chmod(0o555)
    ran = process("import", farm, "--book", closed / "b.duckdb", before=OBEDIENT)
    assert ran.returncode == 73 and ran.stderr.count("\n") == 1
    assert list(closed.iterdir()) == []
    farm.chmod(0o000)
    ran = process("import", farm, "--book", tmp_path / "b.duckdb", before=OBEDIENT)
    assert ran.returncode == 66 and "farm.jsonl" in ran.stderr
    assert not (tmp_path / "b.duckdb").exists()
