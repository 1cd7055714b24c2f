"""One farm: its entries read, worked out as its own commands do, and written. This is what a worker
of the engine does; it knows nothing of the engine."""

from __future__ import annotations

import gc
import os
import sys
from dataclasses import replace
from datetime import date
from functools import partial
from hashlib import file_digest, sha256
from json import dumps
from pathlib import Path
from typing import NamedTuple

from readiness import __version__
from readiness.book import Book
from readiness.book.other_copy import ENTRIES, read_copy
from readiness.book.parquet import read_partition, write_parquet, write_partition
from readiness.book.read import Counts, Snapshot
from readiness.book.rows import as_read, row_of
from readiness.book.session import PATIENCE, bound
from readiness.desk.desk import Desk
from readiness.desk.reading import Reading
from readiness.entries.entry import NewEntry
from readiness.export.folder import Folder
from readiness.fleet.place import ASSESSED, Receipt, file_path, is_done, put
from readiness.fleet.sources import BOOK, EXPORT, FARM, PARTITION, Source, farm_folder
from readiness.fleet.tables import TABLES, types_of
from readiness.report.as_json import FORMAT, as_line, board_json
from readiness.rules.load import DEFAULT
from readiness.rules.model import RuleBook
from readiness.settings.settings import Settings
from readiness.system.clock import SystemClock
from readiness.system.errors import FAULT, DataError, NoMemory, ReadinessError
from readiness.system.files import bytes_of, reason
from readiness.system.limits import RULES_MOST
from readiness.system.locations import rules_beside
from readiness.system.plain import plain


class Job(NamedTuple):
    """One farm to be done. ``on``: None where its entries are only written as a partition.
    ``rules``: None for those beside what it is read of, as its own commands take them."""

    source: Source
    out: Path
    on: date | None
    rules: Path | None
    settings: Settings
    version: str = __version__


class Done(NamedTuple):
    """``skipped``: it was done already. ``worker``: the process; ``peak``: the most memory that it
    ever had, in bytes."""

    farm: str
    path: str
    entries: int
    bulls: int
    go: int
    skipped: bool
    worker: int = 0
    peak: int = 0


class Failed(NamedTuple):
    """Why a farm is not done; ``code``: what a command on it alone would exit with."""

    farm: str
    path: str
    why: str
    code: int


def do(job: Job, memory: int | None, spill: str) -> Done | Failed:
    """Do one farm, within so many bytes for the database. Whatever is wrong with it is told, and
    stops nobody."""
    if memory:
        bound(memory, Path(spill))
    gc.disable()  # nothing of a farm goes round in circles: to look for that takes a fifth of it
    try:
        done = _done(job)
    except ReadinessError as problem:
        return Failed(job.source.farm, str(job.source.path), str(problem), problem.exit_code)
    except OSError as problem:
        why = f"The system refused: {reason(problem)} ({problem.filename})."
        return Failed(job.source.farm, str(job.source.path), why, DataError.exit_code)
    except MemoryError:
        why = "There is not memory enough for it: give it a machine, or a worker, that has more."
        return Failed(job.source.farm, str(job.source.path), why, NoMemory.exit_code)
    except Exception as fault:
        why = _no_entry(job.source)
        code = DataError.exit_code if why else FAULT
        told = why or f"A fault of this program: {type(fault).__name__}: {fault}."
        return Failed(job.source.farm, str(job.source.path), told, code)
    finally:
        gc.enable()
    return done._replace(worker=os.getpid(), peak=_peak())


def _no_entry(source: Source) -> str:
    """What is wrong with the first of a partition's entries that is none, "" where all are. As
    those of a book they are checked when they are written; what others wrote is looked at once it
    fails."""
    from readiness.entries.validate import validate_whole

    if source.sort != PARTITION:
        return ""
    for entry in _Given(source).snapshot().entries:
        for problem in validate_whole(dict(entry.body))[1]:
            told = f"{source.path}: entry {entry.id}, {problem.field}: {problem.text}"
            return f"{plain(told)}. Write the partition anew."
    return ""


def _done(job: Job) -> Done:
    if job.version != __version__:
        raise DataError(
            f"This worker has version {__version__} of the program and {job.version} asks: install "
            "the same on all."
        )
    book = _book(job.source)
    digest = _digest(job, book)
    stands = is_done(job.out, job.source.farm, job.on, digest)
    made = stands or put(job.out, job.on, partial(_write, job, book, digest))
    path = str(job.source.path)
    return Done(made.farm, path, made.entries, made.bulls, made.go, stands is not None)


def _book(source: Source) -> Book:
    if source.sort == BOOK:
        return Book(source.path, SystemClock(), patience=PATIENCE)
    return _Given(source)


def _write(job: Job, book: Book, digest: str, folder: Folder) -> Receipt:
    farm, on = job.source.farm, job.on
    if on is None:
        entries = book.snapshot().entries
        path = f"{farm_folder(farm)}/entries.parquet"
        folder.took(path, write_partition(folder.room_for(path), entries))
        return Receipt(digest, farm, None, len(entries), 0, 0, "", {})
    reading = reading_of(job, book)
    for table in TABLES:
        path = file_path(table.name, farm, on)
        rows = table.rows(reading, farm=farm, on=on.isoformat())
        folder.took(path, write_parquet(folder.room_for(path), types_of(table), rows))
    board = reading.board
    go = sum(bull.status == "GO" for bull in board.bulls)
    told = {"format": FORMAT, **board_json(replace(board, bulls=()))}
    head = as_line(told).removesuffix(BOARD_END)
    count = len(reading.shelf.everything)
    return Receipt(digest, farm, on.isoformat(), count, len(board.bulls), go, head, {})


BOARD_END = "]}"


def reading_of(job: Job, book: Book) -> Reading:
    """The farm as its own commands read it on the day."""
    return _Desk(job, book).reading()


def _rules(job: Job) -> Path | None:
    """Those beside a partition are called as its farm is, as those of a book are."""
    path = job.source.path
    return job.rules or rules_beside(path.with_name(path.name.removeprefix(FARM)))


_RULES: dict[str, RuleBook] = {}
"""Read once in each worker: to read them takes as long as to assess a hundred bulls."""


class _Desk(Desk):
    def __init__(self, job: Job, book: Book) -> None:
        super().__init__(book, _rules(job), SystemClock(), on=job.on, settings=job.settings)
        self._read_from = dumps(_of_rules(job))

    def rules(self) -> RuleBook:
        if self._read_from not in _RULES:
            _RULES[self._read_from] = super().rules()
        return _RULES[self._read_from]


class _Given(Book):
    """A book that is there as an export or as a partition: it is only read."""

    def __init__(self, source: Source) -> None:
        super().__init__(source.path, SystemClock())
        self._source = source

    @property
    def files(self) -> list[Path]:
        if self._source.sort == EXPORT:
            return [self.path / ENTRIES]
        found = sorted(self.path.glob("*.parquet"))
        if not found:
            raise DataError(f"{self.path} holds no *.parquet. Write the partition anew.")
        return found

    def stamp(self) -> None:
        return None

    def snapshot(self) -> Snapshot:
        if self._source.sort != EXPORT:
            return Snapshot(read_partition(self.files, str(self.path)), Counts())
        copy = read_copy(self.path, self.path / "none", PATIENCE)
        new = (row_of(NewEntry(id_, content)) for id_, content in copy.contents.items())
        return Snapshot(as_read(new, copy.receipts), Counts())


def _digest(job: Job, book: Book) -> str:
    """Of all that the result hangs on: the program, the day, the rules, what is set, the
    entries."""
    told: list[object] = [__version__, ASSESSED, str(job.on), _of_entries(book)]
    if job.on is not None:
        told += [_of_rules(job), *([*types_of(table)] for table in TABLES)]
    return sha256(dumps(told).encode()).hexdigest()


def _of_rules(job: Job) -> list[str | None]:
    """Of all that the rules in force hang on; their file's name stands in the result."""
    rules = _rules(job)
    texts = [sha256(bytes_of(p, RULES_MOST, "rules")).hexdigest() for p in (DEFAULT, rules) if p]
    return [rules.stem if rules else None, repr(job.settings.mine), *texts]


def _of_entries(book: Book) -> object:
    """Of a book how many rows it holds and their marks: to open its file would drop its lock."""
    if not isinstance(book, _Given):
        return list(book.counts())
    digests = []
    for path in book.files:
        with path.open("rb") as handle:
            digests.append(file_digest(handle, "sha256").hexdigest())
    return digests


def _peak() -> int:
    if sys.platform == "win32":
        return 0
    import resource

    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most if sys.platform == "darwin" else most * 1024
