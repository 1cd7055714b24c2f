"""What another copy of a book holds: a book or a backup, an export, or a journal."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from readiness.book.admission import admit
from readiness.book.held_against import hold_against
from readiness.book.journal import (
    TakenIn,
    Unreadable,
    files_in,
    is_one_of,
    last_counts,
    lines,
)
from readiness.book.read import all_entries, counts
from readiness.book.rows import Receipt, receipt_of
from readiness.book.session import session
from readiness.entries.entry import NewEntry
from readiness.entries.ids import canonical
from readiness.entries.problem import Problem
from readiness.system.errors import DataError, NotFound
from readiness.system.files import bytes_of
from readiness.system.limits import ENTRIES_MOST
from readiness.system.locations import journal_beside
from readiness.system.plain import plain

ENTRIES = "entries.jsonl"
"""The file of an export that holds its entries."""
NOT_A_COPY = "Nothing was written: it is no whole copy of a book."


class Copy(NamedTuple):
    """``contents``: id → content; ``receipts``: of these. ``clashing``: ids that stand for another
    content besides. ``remarks``: what could not be read of it. ``own``: it is the book's own
    journal; then ``taken_in`` is what that says came in or was put out again."""

    contents: dict[str, Mapping[str, Any]]
    receipts: list[Receipt]
    clashing: dict[str, Mapping[str, Any]]
    taken_in: list[TakenIn]
    remarks: list[str]
    own: bool = False


def read_copy(other: Path, book: Path, patience: float) -> Copy:
    """All that ``other`` shows, to be taken into ``book``. What it took in itself and put out again
    is none of it, save where it is the book's own journal.

    Raises NotFound where it is not there, DataError where it is the book itself, cannot be read or
    is no copy of a book, and what reading a book raises.
    """
    if not os.path.lexists(other):
        raise NotFound(f"{other}: there is no such file or folder. Give the right path.")
    if book.exists() and os.path.samefile(other, book):
        raise DataError(f"{other} is the book itself. Give another copy of it.")
    if other.is_dir():
        if (other / ENTRIES).is_file():
            return _of_export(other / ENTRIES)
        if files := files_in(other):
            return _of_journal(files, own=is_own(other, book))
        raise DataError(
            f"{other} is a folder, but neither an export nor the journal of a book. Give the "
            "folder that `readiness export` wrote, a journal, a book or a backup."
        )
    if other.suffix.lower() == ".jsonl":
        if is_one_of(other):
            return _of_journal([other], own=is_own(other.parent, book))
        return _of_export(other)
    return _of_book(other, patience)


def is_own(folder: Path, book: Path) -> bool:
    """Whether a folder is the journal beside the book."""
    beside = journal_beside(book)
    return beside.exists() and os.path.samefile(folder, beside)


def _of_book(path: Path, patience: float) -> Copy:
    known = last_counts(path)
    with session(path, patience) as con:
        hold_against(con, path, known, counts(con))
        contents = {entry.id: entry.body for entry in all_entries(con, str(path))}
        rows = con.execute(f"SELECT {', '.join(Receipt._fields)} FROM receipt").fetchall()
    receipts = [Receipt(*row) for row in rows if row[0] in contents]
    return Copy(contents, receipts, {}, [], [])


def _of_export(path: Path) -> Copy:
    from readiness.entries.jsonl import read_jsonl

    reading = read_jsonl(bytes_of(path, ENTRIES_MOST), path.name)
    text = "has none: this line comes out of no book; `readiness import` takes such a file in"
    problems = [
        Problem(entry.line, "recorded", text) for entry in reading.entries if entry.recorded is None
    ]
    admit([*reading.problems, *problems], str(path), NOT_A_COPY)
    receipts = [receipt for receipt in map(receipt_of, reading.entries) if receipt is not None]
    return Copy({e.id: e.content for e in reading.entries}, receipts, {}, [], [])


def _of_journal(files: Iterable[Path], *, own: bool) -> Copy:
    contents: dict[str, Mapping[str, Any]] = {}
    bodies: dict[str, str] = {}
    copy = Copy(contents, [], {}, [], [], own)
    for line in lines(files):
        if isinstance(line, Unreadable):
            copy.remarks.append(
                f"Line {line.number} of {line.file.name} is damaged, and was left out."
            )
        elif isinstance(line, TakenIn):
            copy.taken_in.append(line)
        elif bodies.setdefault(line.id, line.body) == line.body:
            if line.id not in contents:
                contents[line.id] = json.loads(line.body)
            copy.receipts.append(Receipt(line.id, *line.receipt[1:], line.who))
        else:
            copy.clashing[line.id] = json.loads(line.body)
    if own:
        return copy
    last = {row.id: row.here for row in copy.taken_in}
    for id_ in (id_ for id_, here in last.items() if not here):
        contents.pop(id_, None)
    shown = [receipt for receipt in copy.receipts if receipt.id in contents]
    return copy._replace(receipts=shown, taken_in=[])


# ---- nothing out of another file is trusted: it is checked as a line of entries is -------------


def checked(new: Iterable[str], copy: Copy, receipts: Iterable[Receipt]) -> Iterator[Problem]:
    """What is wrong with the entries of these ids, and with these receipts."""
    from readiness.entries.validate import RECEIPT_KEYS, validate_whole

    ids = set(new)
    for receipt in receipts:
        content = copy.contents[receipt.id]
        if receipt.id not in ids and _plain(receipt):
            continue  # its content is what the book holds
        said = {key: value for key, value in receipt._asdict().items() if value != ""}
        whole, problems = validate_whole({**content, **said})
        ids.discard(receipt.id)
        if whole is None:
            yield from (
                problem._replace(text=f"of {receipt.id}: {problem.text}") for problem in problems
            )
        elif canonical({k: whole[k] for k in whole if k not in RECEIPT_KEYS}) != canonical(content):
            yield Problem(None, "", f"{receipt.id} is not written as this program writes it")
    yield from (Problem(None, "recorded", f"{id_} has no receipt") for id_ in sorted(ids))


_MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z")


def _plain(receipt: Receipt) -> bool:
    texts = (receipt.batch, receipt.device, receipt.who)
    return (
        bool(_MOMENT.fullmatch(receipt.recorded))
        and receipt.position >= 0
        and all(plain(text) == text for text in texts)
    )


def as_new(id_: str, copy: Copy, receipt: Receipt) -> NewEntry:
    return NewEntry(id_, copy.contents[id_], 0, *receipt[1:])
