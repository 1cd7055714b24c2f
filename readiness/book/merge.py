"""Another copy of the book taken in: its entries and its receipts, and no receipt of our own, so
that copies put together in whatever order, once or twice, hold the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from duckdb import DuckDBPyConnection

from readiness.book.admission import admit, all_that_bars, as_entry
from readiness.book.held_against import taken_in_of
from readiness.book.journal import TakenIn
from readiness.book.other_copy import NOT_A_COPY, Copy, as_new, checked
from readiness.book.read import Counts, all_entries, withheld
from readiness.book.rows import Receipt, earliest, journal_lines, not_here, put, row_of
from readiness.book.write import BatchMeta, Written, moment, noted
from readiness.entries.entry import Entry, NewEntry, entry_order
from readiness.entries.ids import canonical, digest
from readiness.shorthand import words
from readiness.system.errors import DataError
from readiness.system.plain import plain
from readiness.trade.words import plural


class Coming(NamedTuple):
    """What another copy has that this one has not. ``held``: what this copy shows now; ``entries``:
    what it will show besides, in ``entry_order``; ``theirs``: the ids that the other shows;
    ``receipts``: how many are new here; ``remarks``: what could not be read of it."""

    held: list[Entry]
    entries: list[Entry]
    theirs: frozenset[str]
    receipts: int
    remarks: list[str]


class _Lacking(NamedTuple):
    """``new``: entries that the file does not hold; ``back``: ids that it holds and does not show;
    ``receipts``, ``taken_in``: rows that it does not hold."""

    new: list[NewEntry]
    back: list[str]
    receipts: list[Receipt]
    taken_in: list[TakenIn]


def look_at(con: DuckDBPyConnection, name: str, copy: Copy, source: str) -> Coming:
    """What a merge would bring; DataError with all that bars it."""
    return _planned(con, name, copy, source)[0]


def take_in(
    con: DuckDBPyConnection, name: str, copy: Copy, meta: BatchMeta, now: Counts
) -> tuple[Coming, Written]:
    """Bring it into the book, that holds ``now``, all or nothing. Raises what ``look_at`` does."""
    coming, lacking = _planned(con, name, copy, meta.source)
    new = [row_of(entry) for entry in lacking.new]
    came = [] if copy.own else [*(row.id for row in new), *lacking.back]
    taken_in = [*lacking.taken_in, *noted(con, meta, moment(con, meta), came)]
    holds = now.after(put(con, new, lacking.receipts, taken_in))
    written = [entry.id for entry in coming.entries]
    done = Written(
        written=written,
        skipped=[],
        batch=meta.batch if taken_in else "",
        counts=holds,
        lines=journal_lines(lambda id_: canonical(copy.contents[id_]), lacking.receipts, taken_in),
    )
    return coming, done


def _planned(
    con: DuckDBPyConnection, name: str, copy: Copy, source: str
) -> tuple[Coming, _Lacking]:
    held = all_entries(con, name)
    digests: dict[str, str] = dict(con.execute("SELECT id, digest FROM entry").fetchall())
    _refuse_clashes(digests, copy, held, source)
    receipts = _not_here(con, copy)
    first = earliest(copy.receipts)
    out = withheld(con)
    fresh = [id_ for id_ in copy.contents if id_ not in digests]
    admit([*checked(fresh, copy, receipts)], source, NOT_A_COPY)
    new = sorted((as_new(id_, copy, first[id_]) for id_ in fresh), key=_place)
    back = [id_ for id_ in copy.contents if id_ in out and not copy.own]
    news = [*new, *(as_new(id_, copy, first[id_]) for id_ in back)]
    admit(all_that_bars(held, news), source, NOT_A_COPY)
    rows = taken_in_of(con)
    taken_in = [row for row in copy.taken_in if row not in rows]
    entries = sorted((as_entry(entry) for entry in news), key=entry_order)
    coming = Coming(held, entries, frozenset(copy.contents), len(receipts), copy.remarks)
    return coming, _Lacking(new, back, receipts, taken_in)


def _place(entry: NewEntry) -> tuple[str, int, str]:
    return entry.recorded or "", entry.position or 0, entry.id


def _not_here(con: DuckDBPyConnection, copy: Copy) -> list[Receipt]:
    """The copy's receipts that the book does not hold, as they were written down."""
    found = set(not_here(con, copy.receipts))
    return sorted(found, key=lambda each: (each.recorded, each.position, each))


def _refuse_clashes(
    digests: Mapping[str, str], copy: Copy, held: Sequence[Entry], source: str
) -> None:
    """Raise DataError with every id that stands for one thing here and for another there."""
    here = {entry.id: entry.body for entry in held}
    found = []
    for id_, content in (*copy.contents.items(), *copy.clashing.items()):
        same = digests.get(id_) in (None, digest(content)) and id_ not in copy.clashing
        if not same:
            mine = f"here {_called(here[id_])}, " if id_ in here else ""
            found.append(f"{id_} is {mine}there {_called(content)}")
    if found:
        raise DataError(
            f"{source} and this book use {plural(len(found), 'id', 'ids')} for different things, "
            f"as no two copies of a book do: {'; '.join(sorted(set(found)))}. Nothing was written. "
            "One of the two was changed by hand or is of another book: verify both."
        )


def _called(content: Mapping[str, Any]) -> str:
    whose = content.get("bull") or content.get("group") or content.get("entry", "")
    return plain(f"{content['kind']} {whose} {content['on']}: {words(content)}").rstrip(".")
