"""Copies of a book put together: in whatever order, once or twice, out of whatever kind of file,
they hold the same entries and receipts, and the board is the same."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from readiness.book.shelf import untouched
from readiness.export.folder import entry_pieces
from readiness.report.as_json import board_json
from readiness.system.errors import DataError, NotFound
from readiness.system.locations import journal_beside
from tests.book.builders import bull, ids_of, said, walk
from tests.book.copies import at, copy_of, desk, rows, shown
from tests.volume import examples

_NUMBERS = count(1)
FEW = settings(
    max_examples=examples(60), deadline=None, suppress_health_check=[HealthCheck.too_slow]
)


pytestmark = pytest.mark.at_length


class Deed(NamedTuple):
    """What a device does to its copy: ``what``, of the bull of this number, on a day of April."""

    what: str
    bull: int
    day: int


deeds = st.builds(
    Deed,
    st.sampled_from(("walk", "lame", "lift", "heal", "group", "book", "strike", "undo")),
    st.integers(1, 2),
    st.integers(1, 3),
)
copies = st.lists(st.lists(deeds, max_size=3), min_size=3, max_size=3)


def _do(path: Path, device: str, number: int, deed: Deed) -> None:
    book = at(path, hours=number / 7, device=device)
    on, tag, id_ = f"2026-04-0{deed.day}", f"0{deed.bull}", 1000 * ord(device) + number
    feet = {"kind": "feet", "on": on, "bull": tag, "lifted": ["LF"]}
    spot = {"foot": "LF", "claw": "outer", "code": "SU"}
    said_of = {
        "walk": walk(id_, 0, on, tag),
        "lame": walk(id_, 3, on, tag),
        "lift": said(id_, {**feet, "findings": [{**spot, "severity": 2}]}),
        "heal": said(id_, {**feet, "healed": [spot]}),
        "group": said(
            id_, {"kind": "group", "on": on, "group": "Top", "turnout": f"2026-05-0{id_ % 9 + 1}"}
        ),
        "book": bull(id_, tag, on),
    }
    try:
        if deed.what == "undo":
            book.undo("")
        elif deed.what == "strike":
            left = untouched(book.snapshot().entries)
            target = left[(deed.day * 7 + deed.bull) % len(left)]
            content = {"kind": "strike", "on": on, "entry": target.id}
            book.append([said(id_, content)], "")
        else:
            book.append([said_of[deed.what]], device)
    except (DataError, NotFound):  # as a person is refused, too: his booking, nothing to undo
        pass


def _made(folder: Path, of_each: Sequence[Sequence[Deed]]) -> list[Path]:
    first = folder / "first.duckdb"
    at(first).append([bull(1, "01"), bull(2, "02"), walk(3, tag="01")], "")
    made = [copy_of(first, device) for device in "abc"]
    for path, device, done in zip(made, "abc", of_each, strict=True):
        for number, deed in enumerate(done, start=1):
            _do(path, device, number, deed)
    return made


def _merged(path: Path, *others: Path) -> Path:
    """A copy of the book with these taken in, one after the other."""
    target = copy_of(path, f"merged{next(_NUMBERS)}")
    for other in others:
        at(target, 9).merge(other, "")
    return target


@FEW
@given(copies)
def test_in_whatever_order_and_grouping_copies_hold_the_same_and_show_the_same(
    of_each: list[list[Deed]],
) -> None:
    with TemporaryDirectory() as folder:
        a, b, c = _made(Path(folder), of_each)
        there, back = _merged(a, b), _merged(b, a)
        assert rows(there) == rows(back)
        assert board_json(desk(there).board()) == board_json(desk(back).board())
        together = _merged(there, c)
        assert rows(together) == rows(_merged(a, _merged(b, c))) == rows(_merged(c, back))
        shown(together)
        before = rows(together), at(together).counts()
        for other in (a, b, c, there, back):
            assert at(together, 10).merge(other, "")[0].entries == []
        assert (rows(together), at(together).counts()) == before
        assert at(together).verify().problems == []


@FEW
@given(copies)
def test_out_of_a_book_a_backup_an_export_or_a_journal_the_same_comes_in(
    of_each: list[list[Deed]],
) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        a, b, _ = _made(folder, of_each)
        backup = at(b).backup(folder / "backup.duckdb")
        lines = folder / "lines.jsonl"
        lines.write_bytes(b"".join(entry_pieces(at(b).snapshot().entries)))
        books = [_merged(a, kind) for kind in (b, backup, lines, journal_beside(b))]
        assert all(rows(book) == rows(books[0]) for book in books)
        boards = [board_json(desk(book).board()) for book in books]
        assert all(board == boards[0] for board in boards)


@FEW
@given(copies)
def test_a_merge_taken_back_leaves_the_board_as_it_was_and_comes_again(
    of_each: list[list[Deed]],
) -> None:
    with TemporaryDirectory() as folder:
        a, b, _ = _made(Path(folder), of_each)
        before = shown(a)
        coming, _ = at(a, 9, "z").merge(b, "")
        after = shown(a)
        if not coming.entries:
            return
        assert set(ids_of(at(a, 10, "z").undo(""))) == {entry.id for entry in coming.entries}
        assert shown(a) == before
        again, _ = at(a, 11, "z").merge(b, "")
        assert [e.id for e in again.entries] == [e.id for e in coming.entries]
        assert shown(a) == after
        assert at(a).verify().problems == []
