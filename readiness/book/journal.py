"""The journal beside a book: all that is written into it once more, as lines of text.

A book is one file that DuckDB rewrites in places, and one torn or flipped byte can cost all of it.
The journal only grows at its end, each batch in one piece and on the disk before it is
acknowledged, so that a book can be made anew from it, and each can be held against the other.

A line is a JSON object that begins with a CRC-32 (8 hex digits) of what follows it: an entry with
one receipt (an entry of two receipts is two lines), or, at the end of a batch, how much the book
held then. A file a month; the newest is the one that grows, be the clock set back or not.
"""

from __future__ import annotations

import json
import os
import re
import stat
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import datetime
from errno import EINVAL, ELOOP
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple
from zlib import crc32

from readiness.book.read import Counts
from readiness.system.errors import CannotWrite
from readiness.system.files import open_own, sync_folder
from readiness.system.leftovers import OWN_FOLDER
from readiness.system.locations import journal_beside

_NAME = re.compile(r"\d{4}-\d{2}\.jsonl")
_BEGIN = '{"crc":"'
_BODY = len(_BEGIN) + 8 + len('",')  # where what the CRC is of begins
_TAIL = 4096  # bytes; a line of counts is some hundred
_LINE_MOST = 4 << 20  # bytes; an entry has at most a million
_AT_ONCE = 1 << 20  # bytes
_text = json.encoder.encode_basestring  # as JSON writes a text, in letters of every script


class Line(NamedTuple):
    """An entry and one receipt of it. ``body``: the canonical content, as the book has it."""

    id: str
    body: str
    recorded: str
    position: int
    batch: str
    device: str
    who: str

    @property
    def receipt(self) -> tuple[str, str, int, str, str]:
        """What makes it one receipt and no other; ``who`` does not travel with an export."""
        return (self.id, self.recorded, self.position, self.batch, self.device)


class TakenIn(NamedTuple):
    """A row of the table of what came in out of another copy of the book (``here``), or was put out
    again. ``receipts``: how many the book held then."""

    id: str
    batch: str
    recorded: str
    device: str
    who: str
    source: str
    here: bool
    receipts: int


class Unreadable(NamedTuple):
    """A line that is not what was written: its file and number."""

    file: Path
    number: int


def entry_line(line: Line) -> bytes:
    """An entry with one receipt, as the journal writes it."""
    return _checked(
        f'"id":{_text(line.id)},"recorded":{_text(line.recorded)},"position":{line.position},'
        f'"batch":{_text(line.batch)},"device":{_text(line.device)},"who":{_text(line.who)},'
        f'"content":{line.body}}}'
    )


def taken_in_line(row: TakenIn) -> bytes:
    """That an entry came in, or was put out again, as the journal writes it."""
    return _checked(json.dumps(row._asdict(), separators=(",", ":"), ensure_ascii=False)[1:])


def counts_line(counts: Counts) -> bytes:
    """How much the book holds after a batch: the end of it."""
    return _checked(json.dumps({"counts": list(counts)}, separators=(",", ":"))[1:])


def _checked(rest: str) -> bytes:
    said = rest.encode("utf-8")
    return b'%s%08x",%s\n' % (_BEGIN.encode(), crc32(said), said)


def files(book: Path) -> list[Path]:
    """The files of the journal beside a book, the one that grows last."""
    return files_in(journal_beside(book))


def files_in(folder: Path) -> list[Path]:
    """The files of a journal, the one that grows last; none where it is no journal."""
    try:
        names = sorted(name for name in os.listdir(folder) if _NAME.fullmatch(name))
    except OSError:
        return []
    if folder.is_symlink():  # planted, or moved by hand: no journal of ours is behind a link
        return []
    return [folder / name for name in names]


def is_one_of(file: Path) -> bool:
    """Whether a file is one of a journal, by how it begins or, where that is damaged, its name."""
    try:
        with _opened(file) as handle:
            begins = handle.read(len(_BEGIN)) == _BEGIN.encode()
    except OSError:
        return False
    return begins or bool(_NAME.fullmatch(file.name))


def last_counts(book: Path) -> Counts | None:
    """How much the book held when the journal was last written; None where its end does not say."""
    there = files(book)
    return counts_at_end(there[-1]) if there else None


def counts_at_end(journal: Path) -> Counts | None:
    """The same of one file of a journal."""
    try:
        with _opened(journal) as file:
            file.seek(max(0, os.fstat(file.fileno()).st_size - _TAIL))
            end = file.read()
    except OSError:
        return None
    if not end.endswith(b"\n"):
        return None
    said = _said(end[:-1].rsplit(b"\n", 1)[-1])
    return Counts(*said["counts"]) if said and "counts" in said else None


def lines(there: Iterable[Path]) -> Iterator[Line | TakenIn | Unreadable]:
    """Every entry with its receipt, in the order in which they were written, and what cannot be
    read. A file that cannot be opened is one unreadable line, its number 0."""
    for file in there:
        try:
            with _opened(file) as handle:
                pieces = iter(lambda: handle.readline(_LINE_MOST), b"")
                for number, whole in enumerate(pieces, start=1):
                    raw = whole.rstrip(b"\n")
                    said = _said(raw) if raw else {}
                    if said is None:
                        yield Unreadable(file, number)
                    elif "content" in said:
                        yield _line(said, raw)
                    elif "here" in said:
                        yield TakenIn(*(said[name] for name in TakenIn._fields))
        except OSError:
            yield Unreadable(file, 0)


def _opened(file: Path) -> BinaryIO:
    """A file of the journal to be read; OSError where it is no ordinary one: of a pipe that stands
    in its place nobody may wait for the other end."""
    handle = open_own(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise OSError(EINVAL, "is no ordinary file")
    return os.fdopen(handle, "rb")


def _line(said: dict[str, Any], raw: bytes) -> Line:
    # No text before it holds these bytes: a quote in it is written with a stroke before it.
    body = raw.split(b',"content":', 1)[1][:-1].decode("utf-8")
    receipt = (said[name] for name in ("recorded", "position", "batch", "device", "who"))
    return Line(said["id"], body, *receipt)


def _said(raw: bytes) -> dict[str, Any] | None:
    """What a line says; None where it is not what was written."""
    rest = raw[_BODY:]
    if raw[: len(_BEGIN)] != _BEGIN.encode() or raw[len(_BEGIN) : _BODY] != b'%08x",' % crc32(rest):
        return None
    said: dict[str, Any] = json.loads(b"{" + rest)
    return said


def append(book: Path, now: datetime, batch: Iterable[bytes]) -> None:
    """A batch's lines to the end of the journal, and onto the disk. Raises CannotWrite; then what
    stands there is whole, and the next batch brings what is missing."""
    folder = journal_beside(book)
    there = files(book)
    file = max([*there[-1:], folder / f"{now:%Y-%m}.jsonl"])
    try:
        if not there:
            with suppress(FileExistsError):
                os.mkdir(folder, OWN_FOLDER)
        if folder.is_symlink():
            raise OSError(ELOOP, "its folder is a link")
        handle = open_own(file, os.O_RDWR | os.O_APPEND | os.O_CREAT)
        try:
            if os.lseek(handle, 0, os.SEEK_END):
                os.lseek(handle, -1, os.SEEK_END)
                if os.read(handle, 1) != b"\n":  # a line that broke off
                    _write(handle, b"\n")
            for piece in _pieces(batch):
                _write(handle, piece)
            os.fsync(handle)
        finally:
            os.close(handle)
        if file not in there:
            sync_folder(folder)
            sync_folder(folder.parent)
    except OSError as problem:
        raise CannotWrite(
            f"The journal {file} cannot be written: {problem.strerror or problem}."
        ) from problem


def _pieces(batch: Iterable[bytes]) -> Iterator[bytes]:
    """Whole lines, put together into few writings."""
    held: list[bytes] = []
    size = 0
    for line in batch:
        held.append(line)
        size += len(line)
        if size >= _AT_ONCE:
            yield b"".join(held)
            held, size = [], 0
    yield b"".join(held)


def _write(handle: int, data: bytes) -> None:
    while data:
        data = data[os.write(handle, data) :]
