"""The demo is thrown away when it was only shown, and writes over nothing."""

from __future__ import annotations

import os
import pty
import signal
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import DAY
from tests.cli.test_process import PROGRAM, environment

MINE = b"# my own rules\n"


@pytest.mark.parametrize("rules", ["mine.toml", "mine.duckdb.toml"])
@pytest.mark.parametrize("how", ["a file", "a link", "a link to nowhere"])
def test_the_demo_writes_over_nobodys_rules(run: Run, tmp_path: Path, rules: str, how: str) -> None:
    place, kept = tmp_path / rules, tmp_path / "kept"
    if how == "a file":
        place.write_bytes(MINE)
    else:
        place.symlink_to(kept)
        if how == "a link":
            kept.write_bytes(MINE)
    before = sorted(tmp_path.iterdir())
    ran = run("demo", "--book", tmp_path / "mine.duckdb", "--json")
    assert (ran.code, ran.out) == (73, "") and str(place) in ran.err
    assert sorted(tmp_path.iterdir()) == before
    assert how == "a link to nowhere" or place.read_bytes() == MINE


def test_a_demo_book_whose_name_is_that_of_rules_keeps_both(run: Run, tmp_path: Path) -> None:
    ran = run("demo", "--book", tmp_path / "mine.toml", "--json")
    assert ran.code == 0, ran.err
    assert ran.json()["rules"] == str(tmp_path / "mine.toml.toml")
    assert len(run("board", "--json", "--book", tmp_path / "mine.toml").json()["bulls"]) == 36


def test_a_refused_demo_leaves_no_rules(run: Run, tmp_path: Path) -> None:
    (tmp_path / "mine.duckdb").write_bytes(b"mine")
    assert run("demo", "--book", tmp_path / "mine.duckdb").code == 73
    assert not (tmp_path / "mine.toml").exists()


def test_a_demo_that_is_only_shown_leaves_nothing(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = tmp_path / "room"
    room.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(room))
    ran = run("demo", "--on", DAY)
    assert ran.code == 0 and "until this ends" in ran.out
    assert list(room.iterdir()) == []


def test_a_demo_that_programs_asked_for_stays(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    told = run("demo", "--json").json()
    assert run("demo").code == 0  # which clears what others left
    assert Path(told["book"]).is_file()


@contextmanager
def demo_on_a_screen(room: Path) -> Iterator[subprocess.Popen[bytes]]:
    """The demo open on a terminal, its book in ``room``."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [*PROGRAM, "demo"], env=environment(TERM="xterm", TMPDIR=str(room), COLUMNS="80"),
        stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True,
    ) as child:  # fmt: skip
        os.close(theirs)
        seen = b""
        while b"\x1b[?1049h" not in seen:  # the screen is up
            seen += os.read(ours, 65536)
        assert list(room.glob("readiness-demo-*/demo.duckdb"))
        try:
            yield child
        finally:  # else a test that fails would wait for its end, for ever
            child.kill()
    os.close(ours)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_demo_ended_by_a_signal_leaves_nothing(tmp_path: Path, number: int) -> None:
    if signal.getsignal(number) is signal.SIG_IGN:
        pytest.skip(
            "whoever started the tests has it ignored, as nohup does, and the demo with them"
        )
    with demo_on_a_screen(tmp_path) as child:
        child.send_signal(number)
        assert child.wait(timeout=30) == -number
    assert list(tmp_path.iterdir()) == []


def test_what_a_hard_kill_left_goes_with_the_next_demo_and_nothing_else_does(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    theirs = tmp_path / "readiness-demo-0123456789abcdef"
    with demo_on_a_screen(tmp_path) as child:
        living = list(tmp_path.glob("readiness-demo-*"))
        monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
        assert run("demo").code == 0
        assert list(tmp_path.iterdir()) == living  # its owner lives
        child.kill()
        child.wait(timeout=30)
    theirs.symlink_to(tmp_path)
    (tmp_path / "readiness-demo-of-mine").mkdir()
    assert run("demo").code == 0
    assert sorted(tmp_path.iterdir()) == [theirs, tmp_path / "readiness-demo-of-mine"]
