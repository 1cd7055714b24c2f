"""Several at one book at once, files whose times are whole seconds, and an older file that is put
beneath an open desk, as programs do that sync folders."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.book import Book, Cache
from readiness.desk.desk import Desk
from readiness.system.clock import FixedClock
from readiness.system.errors import DataError
from tests.faults.ground import BOOK, OLDER, clone, lines
from tests.faults.processes import WRITE, pipe, start
from tests.faults.trials import Tally, Verdict

if TYPE_CHECKING:
    from tests.faults.trials import Trials

CLOCK = FixedClock(datetime(2026, 4, 3, 7, 30, tzinfo=UTC))


def writers(how_many: int) -> Callable[[Callable[[int], Trials], int, Tally], None]:
    def row(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
        for number in range(count):
            trials = ground(1)
            clone(trials.ground, trials.place)
            tally.add(_written(trials.place / BOOK, how_many), f"{how_many} writers, {number}")

    return row


def _written(path: Path, how_many: int) -> Verdict:
    before = {entry.id for entry in Book(path, CLOCK, "the test").snapshot().entries}
    running = [start(WRITE, path, f"writer-{n}", 4) for n in range(how_many)]
    said = [id_ for process in running for id_ in pipe(process.stdout).read().split()]
    codes = [_end(process) for process in running]
    book = Book(path, CLOCK, "the test")
    ids = [entry.id for entry in book.snapshot().entries]
    if codes != [0] * how_many or len(said) != 12 * how_many:
        return Verdict("wrong", f"they ended with {codes}, and wrote {len(said)}")
    if lost := (before | set(said)) - set(ids):
        return Verdict("lost", f"{len(lost)} of what was acknowledged")
    if len(ids) != len(before) + len(said):
        return Verdict("wrong", "an entry is there twice")
    report = book.verify()
    return Verdict("harmless") if report.ok else Verdict("wrong", str(report.problems))


def _end(process: subprocess.Popen[str]) -> int:
    process.communicate()
    return process.returncode


def whole_seconds(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    """Two windows write within one second, whose file system knows no parts of it."""
    from readiness.entries.entry import NewEntry

    for number in range(count):
        trials = ground(1)
        clone(trials.ground, trials.place)
        path, moment = trials.place / BOOK, 1_775_201_400 * 10**9
        chance = random.Random(number)
        seen = Cache(Book(path, CLOCK, "one"))
        other = Book(path, CLOCK, "other")
        verdict = Verdict("harmless")
        for line in lines(number + 500, 8):
            id_ = line.pop("id")
            os.utime(path, ns=(moment, moment))
            if chance.random() < 0.7:
                seen.held()
            other.append([NewEntry(id_, line)], "other")
            os.utime(path, ns=(moment, moment))
            if id_ not in {entry.id for entry in seen.held().shelf.everything}:
                verdict = Verdict("wrong", "what another window wrote is not seen")
        tally.add(verdict, f"whole seconds, {number}")


def put_beneath(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    """An older file takes the book's name while a desk is open on it, by a renaming or in its
    place, with the times that the newer one had."""
    for number in range(count):
        trials = ground(1)
        clone(trials.ground, trials.place)
        tally.add(_beneath(trials.place, number), f"an older file beneath, {number}")


def _beneath(folder: Path, number: int) -> Verdict:
    path = folder / BOOK
    desk = Desk(Book(path, CLOCK, "the test"), None, CLOCK, who="sam")
    desk.board()
    kept = os.stat(path)
    if number % 2:
        os.replace(folder / OLDER, path)
    else:
        shutil.copyfile(folder / OLDER, path)
    if number % 3:
        os.utime(path, ns=(kept.st_atime_ns, kept.st_mtime_ns))
    asks: list[Callable[[], object]] = [partial(desk.log, "501", "kg 950"), desk.board, desk.undo]
    for turn, asked in enumerate(asks[number % 3 :] + asks[: number % 3]):
        try:
            asked()
        except DataError:
            continue
        return Verdict("wrong", f"it went on over an older file ({turn})")
    return Verdict("told")


ROWS = {
    "two writers": writers(2),
    "five writers": writers(5),
    "whole-second file times": whole_seconds,
    "an older file beneath": put_beneath,
}
