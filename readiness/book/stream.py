"""A big book read bull by bull, without the whole of it in memory."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.anew import Anew
from readiness.book.faults import altered
from readiness.book.held_against import hold_against
from readiness.book.journal import last_counts
from readiness.book.read import (
    BY_BULL,
    IN_PART,
    Counts,
    as_entries,
    counts,
    entries_of,
    entries_of_bulls,
    withheld,
)
from readiness.book.schema import check_version
from readiness.book.session import attach, connection, in_own_words, look, quoted
from readiness.book.shelf import aims_of, standing
from readiness.entries.entry import AtOdds, Entry, in_question
from readiness.system.limits import MEGABYTE

SORTED_IN = 256 * MEGABYTE
"""Memory in which the database puts entries in order; what has no room there goes to the disk."""
_ROWS = 10_000
_BULL = itemgetter(5)


class Stream(NamedTuple):
    """``groups``: the entries of groups that stand; ``bulls``: of each bull those that stand.
    ``counts``: how much the book holds. It has to be read to its end: only then is it known that
    each entry was there."""

    groups: list[Entry]
    bulls: Iterator[list[Entry]]
    counts: Counts


@contextmanager
def streamed(path: Path, patience: float, part: int = 0, parts: int = 1) -> Iterator[Stream]:
    """The book at ``path``, held open meanwhile; ``part`` of so many ``parts`` of its bulls.

    Raises what reading a book raises, ``Damaged`` while or once it is read.
    """
    known = last_counts(path)  # before the book, which is never behind it
    look(path)
    with (
        TemporaryDirectory(prefix="readiness-sort-") as room,
        in_own_words(path, writing=False),
        connection() as con,
    ):
        con.execute(f"SET temp_directory = {quoted(Path(room))}")
        con.execute(f"SET memory_limit = '{SORTED_IN} B'")
        attach(con, path, "book", patience=patience)
        con.execute("USE book")
        con.execute("BEGIN")
        check_version(con, str(path))
        now = counts(con)
        hold_against(con, path, known, now)
        whose = {"part": part, "parts": parts}
        read = _each(con, whose, str(path), withheld(con))
        of_none = next(read)
        strikes = [each for each in of_none if each.kind == "strike"]
        struck, asked = aims_of(strikes), in_question(strikes)
        odds = _at_odds(con, str(path), strikes, asked) if asked else {}
        anew = _anew(con, str(path), strikes, struck) if struck else None
        groups = [e for e in standing(of_none, struck, odds, anew) if e.kind == "group"]
        each = (standing(own, struck, odds, anew) for own in read)
        yield Stream(groups, filter(None, each), now)


def _at_odds(con: DuckDBPyConnection, name: str, strikes: list[Entry], asked: set[str]) -> AtOdds:
    """What is against the bulls in question, of whom alone more is read for it."""
    from readiness.book.at_odds import at_odds, bulls_of

    with _beside(con, name) as beside:
        bulls = bulls_of(asked, entries_of(beside, name, asked), strikes)
        return at_odds(entries_of_bulls(beside, name, bulls), strikes, asked)


def _anew(con: DuckDBPyConnection, name: str, strikes: list[Entry], struck: set[str]) -> Anew:
    """What is said anew, it may be of another bull than what that was said of first."""
    with _beside(con, name) as beside:
        return Anew(strikes, entries_of(beside, name, struck))


@contextmanager
def _beside(con: DuckDBPyConnection, name: str) -> Iterator[DuckDBPyConnection]:
    """To read something else while what is read bull by bull goes on."""
    with con.cursor() as beside:
        beside.execute("USE book")
        check_version(beside, name)
        yield beside


def _each(
    con: DuckDBPyConnection, whose: dict[str, int], name: str, out: set[str]
) -> Iterator[list[Entry]]:
    """The entries of no bull, then those of each bull; ``out``: the ids that are not shown."""
    found = con.execute(BY_BULL, whose)
    rows = (row for many in iter(lambda: found.fetchmany(_ROWS), []) for row in many)
    read, none_yet = 0, True
    for bull, his in groupby(rows, _BULL):
        entries = as_entries(list(his), name)
        read += len(entries)
        if none_yet and bull:
            yield []
        none_yet = False
        yield [entry for entry in entries if entry.id not in out] if out else entries
    if none_yet:
        yield []
    held = con.execute(f"SELECT count(*) FROM entry WHERE {IN_PART}", whose).fetchone()
    if held != (read,) or (whose["part"] == 0 and not _paired(con)):
        raise altered(name, "not each of its entries has its receipt")


def _paired(con: DuckDBPyConnection) -> bool:
    """Whether there are no receipts but of entries that are there."""
    row = con.execute("SELECT count(*), (SELECT count(DISTINCT id) FROM receipt) FROM entry")
    entries, receipts = row.fetchone() or (0, 0)
    return bool(entries == receipts)
