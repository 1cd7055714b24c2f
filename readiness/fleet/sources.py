"""What farms a folder holds: books, exports or partitions, one a farm, and never two kinds at
once."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from urllib.parse import quote, unquote

from readiness.book.other_copy import ENTRIES
from readiness.system.errors import DataError, NotFound
from readiness.system.files import reason
from readiness.system.plain import plain

BOOK, EXPORT, PARTITION = "book", "export", "partition"
_BOOK_SUFFIX = ".duckdb"
FARM = "farm="
_SAFE = " -_.,()'&+"
_CALLED = {
    BOOK: f"books (*{_BOOK_SUFFIX})",
    EXPORT: f"exports (folders with {ENTRIES})",
    PARTITION: f"partitions (folders {FARM}NAME with *.parquet)",
}


class Source(NamedTuple):
    """What one farm's entries are read of. ``sort``: a book, an export or a partition."""

    farm: str
    path: Path
    sort: str


def farm_folder(farm: str) -> str:
    """The folder's name of a farm: whatever he is called, one plain name that leads nowhere else,
    as Hive writes it (``farm=Low%2FHigh``), so that any reader of partitions has the name again."""
    letters = (
        each if each.isalnum() or each in _SAFE else quote(each, "", errors="surrogateescape")
        for each in farm
    )
    return f"{FARM}{''.join(letters)}"


def sources(folder: Path) -> list[Source]:
    """The farms of a folder, by their names.

    Raises NotFound where there is no such folder or nothing in it, DataError where it holds several
    sorts or two of one farm.
    """
    try:
        there = [path for path in sorted(folder.iterdir()) if not path.name.startswith(".")]
    except OSError as problem:
        raise NotFound(
            f"{folder} cannot be looked into: {reason(problem)}. Give the folder of the farms' "
            "books, exports or partitions."
        ) from problem
    found = [source for path in there for source in _source(path)]
    if not found:
        raise NotFound(
            f"{folder} holds no farm: no {', no '.join(_CALLED.values())}. Give the folder in "
            "which they stand."
        )
    firsts = {source.sort: source for source in reversed(found)}
    if len(firsts) > 1:
        told = " and ".join(f"{_CALLED[s]}, as {firsts[s].path.name}" for s in sorted(firsts))
        raise DataError(f"{folder} holds {told}: put each kind into a folder of its own.")
    _refuse_twice(found)
    return found


def _source(path: Path) -> Iterator[Source]:
    name = path.name
    if path.suffix.lower() == _BOOK_SUFFIX:
        yield Source(path.stem, path, BOOK)
    elif name.startswith(FARM) and path.is_dir():
        yield Source(unquote(name.removeprefix(FARM), errors="surrogateescape"), path, PARTITION)
    elif (path / ENTRIES).is_file():
        yield Source(name, path, EXPORT)


def same_name(farm: str) -> str:
    """A farm's name as it is compared: on some disks no two of these can stand side by side."""
    told = plain(farm) if farm.isprintable() else repr(farm)
    return unicodedata.normalize("NFKC", told).casefold().strip()


def _refuse_twice(found: list[Source]) -> None:
    known: dict[str, Source] = {}
    for source in found:
        first = known.setdefault(same_name(source.farm), source)
        if first is not source:
            raise DataError(
                f"{first.path.name} and {source.path.name} are two of one farm, "
                f"{plain(source.farm)}: leave one, or `readiness merge` the one into the other."
            )
        if not same_name(source.farm):
            raise DataError(f"{source.path} names no farm: give it the name of its farm.")
