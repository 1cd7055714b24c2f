"""One hostile input given to the program, and what must not come of it, whatever it says.

A ``Box`` is a folder with a book in it, beside others that nothing may touch. What runs in it runs
in this process: its streams caught, its clock running, every file told that Python opens to write.
"""

from __future__ import annotations

import io
import os
import re
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import duckdb

from readiness.__main__ import main
from readiness.system.errors import ReadinessError
from readiness.system.plain import plain
from tests.cli.small_book import write

SECONDS_MOST = 10
"""What takes longer hangs."""
SAID_MOST = 6_000
"""Letters of a refusal: one paragraph."""
EXITS = (0, 2, 65, 66, 73, 75, 78)
CANARY = "canary-of-another-folder"
_WRITES = {
    "os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.symlink", "os.link", "os.truncate",
    "shutil.rmtree", "shutil.move", "shutil.copyfile",
}  # fmt: skip
_NEVER = {"os.system", "os.exec", "subprocess.Popen", "socket.connect", "socket.getaddrinfo"}
# What a refusal tells to do begins with one of these, or is a question.
_TO_DO = re.compile(
    r"\b(write|give|save|name|take|leave|delete|correct|mend|open|copy|see|remove|shorten|keep|part"
    r"|known here|it has|needed|lists|put|move|say|close|choose|book|head|begin|try|type|look|call|spell|empty"
    r"|end|shows how)\b",
    re.I,
)


class Hang(BaseException):
    """It took longer than it may."""


@dataclass
class Ran:
    """What came of one input. ``wrong``: what must not have: (in which column of the table, words).

    ``refused``: whether it was refused; ``code`` is None where no command ran."""

    code: int | None = None
    out: str = ""
    err: str = ""
    seconds: float = 0.0
    refused: bool = False
    wrong: list[tuple[str, str]] = field(default_factory=list)


@dataclass
class Box:
    """``folder`` is the working folder; ``outside`` one beside it that holds the canary."""

    root: Path
    folder: Path
    outside: Path
    environment: dict[str, str]

    @property
    def book(self) -> Path:
        return self.folder / "bulls.duckdb"

    def run(self, *arguments: str, env: Mapping[str, str] | None = None) -> Ran:
        """A command line, as a shell would run it there."""
        said, ran = (io.TextIOWrapper(io.BytesIO(), "utf-8") for _ in "oe"), Ran()
        out, err = said
        streams = sys.stdout, sys.stderr
        sys.stdout, sys.stderr = out, err
        try:
            with self._watched(ran, {**self.environment, **(env or {})}):
                ran.code = main(list(arguments))
        finally:
            sys.stdout, sys.stderr = streams
        for stream in (out, err):
            stream.flush()
        ran.out, ran.err = (stream.buffer.getvalue().decode() for stream in (out, err))
        ran.refused = ran.code not in (0, None)
        self._judge_streams(ran)
        return ran

    def ask(self, read: Callable[[], Any]) -> Ran:
        """A reader by itself; what it gives is what would be shown."""
        ran = Ran()
        with self._watched(ran, self.environment):
            try:
                ran.out = str(read() or "")
            except ReadinessError as problem:
                ran.code, ran.refused = problem.exit_code, True
                ran.err = f"readiness: {plain(str(problem))}\n"
        self._judge_streams(ran)
        return ran

    @contextmanager
    def _watched(self, ran: Ran, environment: Mapping[str, str]) -> Iterator[None]:
        before, stamp, where = dict(os.environ), _stamp(self.book), os.getcwd()
        os.environ.clear()
        os.environ.update(environment)
        os.chdir(self.folder)
        touched = _Touched(self.root)
        start = time.perf_counter()
        signal.signal(signal.SIGALRM, _too_long)
        signal.setitimer(signal.ITIMER_REAL, SECONDS_MOST)
        try:
            with touched:
                yield
        except Hang:
            ran.wrong.append(("hang", f"longer than {SECONDS_MOST} s"))
        except BaseException:
            ran.wrong.append(("traceback", traceback.format_exc(limit=-3)))
        finally:
            signal.setitimer(signal.ITIMER_REAL, 0)
            ran.seconds = time.perf_counter() - start
            os.environ.clear()
            os.environ.update(before)
            os.chdir(where)
        ran.wrong += [("outside", what) for what in touched.beyond]
        if sorted(path.name for path in self.outside.iterdir()) != [CANARY]:
            ran.wrong.append(("outside", f"in {self.outside}"))
        if ran.refused or ran.code not in (0, None):
            self._unchanged(ran, stamp)

    def _unchanged(self, ran: Ran, stamp: object) -> None:
        if _stamp(self.book) != stamp:
            ran.wrong.append(("wrote", f"refused by {ran.code}, and the book is another"))

    def _judge_streams(self, ran: Ran) -> None:
        if "Traceback" in ran.err or "Traceback" in ran.out:
            ran.wrong.append(("traceback", ran.err[-2000:]))
        if ran.code == 70 or "A fault of this program" in ran.err:
            ran.wrong.append(("exit 70", ran.err[:2000]))
        elif ran.code is not None and ran.code not in EXITS:
            ran.wrong.append(("other", f"exit {ran.code}: {ran.err[:500]}"))
        for stream in (ran.out, ran.err):
            if odd := drives_a_terminal(stream):
                ran.wrong.append(("terminal", f"{odd!r} in {stream[:500]!r}"))
        if ran.refused and ran.code not in (70, None):
            self._judge_refusal(ran)

    def _judge_refusal(self, ran: Ran) -> None:
        """One paragraph that says what to do. A file's name is asked for where one was given."""
        said = [line for line in ran.err.splitlines() if line.startswith("readiness: ")]
        if len(said) != 1:
            ran.wrong.append(("words", f"{len(said)} paragraphs: {ran.err[:500]!r}"))
        elif len(said[0]) > SAID_MOST:
            ran.wrong.append(("words", f"{len(said[0])} letters: {said[0][:300]!r}"))
        elif not _TO_DO.search(said[0].partition(" ")[2]) and "?" not in said[0]:
            ran.wrong.append(("words", f"not what to do: {said[0][:500]!r}"))


def count(book: Path) -> int:
    """The entries of a book, asked of the file itself."""
    with duckdb.connect() as con:
        con.execute(f"ATTACH '{book}' AS book (READ_ONLY)")
        (row,) = con.execute("SELECT count(*) FROM book.entry").fetchall()
        return int(row[0])


def drives_a_terminal(text: str) -> list[str]:
    """What drives a terminal, turns what is read round, or cannot be seen."""
    odd = {mark for mark in re.sub(r"\r?\n", "", text) if plain(mark) != mark}
    return sorted(mark for mark in odd if not plain(mark).strip())


@contextmanager
def a_box() -> Iterator[Box]:
    """A box with the small farm's book."""
    root = Path(os.path.realpath(tempfile.mkdtemp(prefix="hostile-")))
    folder, outside = root / "work", root / "outside"
    for each in (folder, outside, root / "home"):
        each.mkdir()
    (outside / CANARY).write_text("not to be read\n", encoding="utf-8")
    environment = {
        "PATH": os.environ.get("PATH", ""), "HOME": str(root / "home"), "USER": "sam",
        "READINESS_BOOK": str(folder / "bulls.duckdb"), "LANG": "C.UTF-8",
        "XDG_DATA_HOME": str(root / "home/data"), "XDG_CONFIG_HOME": str(root / "home/config"),
    }  # fmt: skip
    box = Box(root, folder, outside, environment)
    try:
        made = box.run("import", str(write(folder / "farm.jsonl")))
        assert not made.wrong, made.wrong
        yield box
    finally:
        shutil.rmtree(root, ignore_errors=True)


def _stamp(path: Path) -> object:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_size, found.st_mtime_ns, found.st_ino


def _too_long(*_: object) -> None:
    raise Hang


class _Touched:
    """What Python is seen to write outside of a folder, start or call, or the canary read."""

    now: _Touched | None = None

    def __init__(self, inside: Path) -> None:
        self.inside = (f"{inside}{os.sep}", "/dev/")
        self.beyond: list[str] = []

    def __enter__(self) -> None:
        _Touched.now = self

    def __exit__(self, *_: object) -> None:
        _Touched.now = None

    def told(self, event: str, told: tuple[Any, ...]) -> None:
        if event in _NEVER:
            self.beyond.append(f"{event} {told[:2]!r}")
        elif event == "open" and isinstance(told[0], str | bytes | os.PathLike):
            place = os.path.abspath(os.fsdecode(told[0]))
            writes = (told[2] or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
            if place.endswith(CANARY) or (writes and self._is_beyond(place)):
                self.beyond.append(f"open {place}")
        elif event in _WRITES:
            for path in (each for each in told[:2] if isinstance(each, str | bytes | os.PathLike)):
                if self._is_beyond(os.path.abspath(os.fsdecode(path))):
                    self.beyond.append(f"{event} {path!r}")

    def _is_beyond(self, path: str) -> bool:
        mine = path.startswith(self.inside)
        return not mine and "__pycache__" not in path


def _audit(event: str, told: tuple[Any, ...]) -> None:
    if _Touched.now is not None:
        _Touched.now.told(event, told)


sys.addaudithook(_audit)
