"""The faults themselves: a shim that does nothing, or a judge that sees nothing, would pass all."""

from __future__ import annotations

import json
import random
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from signal import SIGKILL

import pytest

from tests.faults.ground import Found
from tests.faults.power import Disk, Event, applied
from tests.faults.server import Ran, Server, serving
from tests.faults.shim import EVERY, FAULTS, Fault, How, Kind
from tests.faults.trials import CASES, NOT_ASKED, Expected, judged


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    with serving(tmp_path_factory.mktemp("server")) as running:
        yield running


def scribble(path: str) -> int:
    """Two writings, each synced, and a renaming."""
    import os

    handle = os.open(path, os.O_WRONLY | os.O_CREAT, 0o600)
    for piece in (b"first ", b"second"):
        os.write(handle, piece)
        os.fsync(handle)
    os.close(handle)
    os.rename(path, f"{path}.done")
    print("done", flush=True)
    return 0


WORDS = "tests.faults.test_faults_harness.scribble"


def left(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text() for path in folder.iterdir()}


@pytest.mark.parametrize(
    ("fault", "at", "found"),
    [
        (Fault("", How.KILL, Kind.GROWS), 1, {}),
        (Fault("", How.KILL, Kind.GROWS), 2, {"a": ""}),
        (Fault("", How.TEAR, Kind.GROWS), 2, {"a": "fir"}),
        (Fault("", How.KILL, Kind.NAMES), 1, {"a": "first second"}),
        (Fault("", How.KILL, Kind.SYNCS), 2, {"a": "first second"}),
    ],
)
def test_the_shim_kills_at_the_call_it_is_told(
    server: Server, tmp_path: Path, fault: Fault, at: int, found: dict[str, str]
) -> None:
    (ran,) = server.run((WORDS, tmp_path / "a"), folder=tmp_path, fault=fault, at=at)
    assert (ran.code, ran.out) == (-SIGKILL, "")
    assert left(tmp_path) == found


def test_the_shim_fails_a_call_and_lets_others_be(server: Server, tmp_path: Path) -> None:
    (ran,) = server.run((WORDS, tmp_path / "a"), folder=tmp_path, fault=FAULTS[2], at=2)
    assert ran.code != 0 and "No space left" in ran.err
    assert left(tmp_path) == {"a": ""}
    counting = Fault("", How.COUNT, EVERY)
    (ran,) = server.run((WORDS, tmp_path / "b"), folder=tmp_path, fault=counting)
    assert (ran.code, ran.calls) == (0, 7)


def event(what: str, fd: int = 3, offset: int = 0, one: bytes = b"", two: bytes = b"") -> Event:
    return Event(what, fd, 0, offset, one, two)


def test_a_power_cut_drops_what_was_not_synced_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"old")
    disk = Disk(tmp_path)
    for each in (
        event("O", one=bytes(tmp_path / "a")),
        event("W", offset=0, one=b"new"),
        event("S"),
        event("W", offset=3, one=b" more"),
        event("R", one=bytes(tmp_path / "a"), two=bytes(tmp_path / "b")),
    ):
        disk.do(each)
    disk.cut("dropped", random.Random(1), tmp_path)
    assert (tmp_path / "a").read_bytes() == b"new"
    assert not (tmp_path / "b").exists()
    disk.do(event("O", fd=4, one=bytes(tmp_path)))
    disk.do(event("S", fd=4))
    disk.cut("dropped", random.Random(1), tmp_path)
    assert (tmp_path / "b").read_bytes() == b"new"
    assert applied(b"abc", [(5, b"x"), (1, None)]) == b"a"


JOURNAL_FULL = "The journal b.journal/2026-11.jsonl cannot be written: Input/output error."
BEFORE, AFTER = ["1", "2"], ["1", "2", "3", "4"]


def found(contents: list[str], board: str = "") -> Found:
    said = Ran(0, json.dumps(contents), "")
    return Found(said, Ran(0, json.dumps(board or f"of {contents}"), ""), NOT_ASKED)


def verdict(code: int, contents: list[str], words: str = "", board: str = "") -> str:
    expected = Expected(found(BEFORE), found(AFTER), None, "", frozenset(), None)
    ran = Ran(code, "", f"readiness: {words}" if code > 0 else words)
    return judged(CASES[0], expected, ran, found(contents, board), None).what


@pytest.mark.parametrize(
    ("code", "contents", "words", "what"),
    [
        (0, AFTER, "", "harmless"),
        (0, BEFORE, "", "lost"),
        (-SIGKILL, BEFORE, "", "harmless"),
        (-SIGKILL, AFTER, "", "harmless"),
        (-SIGKILL, ["1", "2", "3"], "", "wrong"),
        (-SIGKILL, ["1"], "", "lost"),
        (73, BEFORE, "Nothing was written.", "told"),
        (65, AFTER, f"It is taken back, and that is in the book. {JOURNAL_FULL}", "told"),
        (65, AFTER, f"It may be damaged. {JOURNAL_FULL}", "wrong"),
        (73, AFTER, "Nothing was written.", "wrong"),
        (73, [*AFTER, "4"], "Nothing was written.", "wrong"),
        (70, BEFORE, "A fault of this program.", "wrong"),
        (-11, AFTER, "", "wrong"),
        (65, BEFORE, "Traceback (most recent call last):", "wrong"),
    ],
)
def test_the_judge_sees_what_is_lost_halved_doubled_and_untrue(
    code: int, contents: list[str], words: str, what: str
) -> None:
    assert verdict(code, contents, words) == what


def test_the_judge_sees_another_board() -> None:
    assert verdict(0, AFTER, board="another") == "wrong"
    assert Counter(AFTER) - Counter(BEFORE) == Counter("34")
