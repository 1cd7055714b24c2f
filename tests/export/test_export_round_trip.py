"""``entries.jsonl`` makes an equal book: what it says, what it said on any day, and its export."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from readiness.book import Book, Shelf
from readiness.entries.entry import NewEntry
from readiness.system.clock import FixedClock
from tests.book.builders import book_at
from tests.build import standing
from tests.cli.small_book import Line, write
from tests.export.conftest import Made, Run
from tests.export.farm import DAY, entries

LATER = FixedClock(datetime(2030, 1, 1, tzinfo=UTC))


def taken_in(run: Run, folder: Path, place: Path) -> Book:
    """A new book out of an export."""
    ran = run("import", folder / "entries.jsonl", "--book", place)
    assert ran.code == 0, ran.err
    return Book(place, LATER)


def whole(book: Book) -> list[tuple[object, ...]]:
    return [tuple(entry) for entry in book.snapshot().entries]


def assert_equal(first: Book, second: Book) -> None:
    assert whole(first) == whole(second)
    assert standing(first) == standing(second)
    assert second.verify().ok


def files(folder: Path) -> dict[str, bytes]:
    """All that a folder holds, by path."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_a_new_book_is_equal_and_exports_the_same_bytes(
    run: Run, made: Made, tmp_path: Path
) -> None:
    copy = taken_in(run, made.folder, tmp_path / "copy.duckdb")
    assert_equal(Book(made.book, LATER), copy)
    assert any(entry.kind == "strike" for entry in copy.snapshot().entries)
    again = tmp_path / "again"
    assert run("export", again, "--on", DAY, "--book", copy.path).code == 0
    assert files(again) == files(made.folder)


def test_what_was_struck_may_have_booked_or_grouped(run: Run, tmp_path: Path) -> None:
    """The booking of a bull with nothing else standing, and a group that a bull is still in."""
    said: list[Line] = [
        {"kind": "group", "on": "2026-01-10", "group": "Gone", "turnout": "2026-05-01"},
        {"kind": "bull", "on": "2026-01-10", "bull": "1"},
        {"kind": "join", "on": "2026-01-11", "bull": "1", "group": "Gone"},
        {"kind": "bull", "on": "2026-01-10", "bull": "2"},
        {"kind": "weight", "on": "2026-01-11", "bull": "2", "kg": 900},
    ]
    group, _, _, booked, weight = run(
        "import", write(tmp_path / "said.jsonl", said), "--json"
    ).json()["written"]
    for entry in (weight, booked, group):
        assert run("strike", entry).code == 0
    assert run("export", tmp_path / "out").code == 0
    copy = taken_in(run, tmp_path / "out", tmp_path / "copy.duckdb")
    assert_equal(Book(tmp_path / "bulls.duckdb", LATER), copy)


def test_a_book_of_strikes_alone_comes_back(run: Run, tmp_path: Path) -> None:
    """Everything struck: nothing stands, and the tables are empty but for the strikes."""
    said = [{"kind": "bull", "on": "2026-01-10", "bull": tag} for tag in ("1", "2")]
    written = run("import", write(tmp_path / "said.jsonl", said), "--json").json()["written"]
    for entry in written:
        assert run("strike", entry).code == 0
    assert run("export", tmp_path / "out").code == 0
    copy = taken_in(run, tmp_path / "out", tmp_path / "copy.duckdb")
    assert_equal(Book(tmp_path / "bulls.duckdb", LATER), copy)
    assert standing(copy) == []
    head, *rows = (tmp_path / "out" / "csv" / "bookings.csv").read_text("utf-8").splitlines()
    assert head.startswith("entry,on,bull,") and rows == []
    strikes = (tmp_path / "out" / "csv" / "strikes.csv").read_text("utf-8").splitlines()
    assert len(strikes) == 1 + 2


def test_the_earliest_receipt_of_several_copies_is_exported(run: Run, tmp_path: Path) -> None:
    early = "2026-01-01T08:00:00.000000Z"
    content = {"kind": "bull", "on": "2026-01-01", "bull": "1"}
    id_ = "0195f2a0-0000-7000-8000-000000000001"
    book = book_at(tmp_path / "bulls.duckdb")
    book.append([NewEntry(id_, content)], "")
    book.append([NewEntry(id_, content, 0, early, 4, "other-batch", "other-device")], "")
    assert run("export", tmp_path / "out").code == 0
    (line,) = entries(tmp_path / "out")
    receipt = {"recorded": early, "position": 4, "batch": "other-batch", "device": "other-device"}
    assert line == {**content, "id": id_, **receipt}
    copy = taken_in(run, tmp_path / "out", tmp_path / "copy.duckdb")
    assert_equal(book, copy)


def test_known_exports_the_book_as_it_was_then(run: Run, made: Made, tmp_path: Path) -> None:
    """Before the strike was recorded, what it withdrew stands."""
    everything = Book(made.book, LATER).snapshot().entries
    last = max(entry.recorded for entry in everything)
    before = max(entry.recorded for entry in everything if entry.recorded < last)
    then = tmp_path / "then"
    ran = run("export", then, "--on", DAY, "--known", before, "--book", made.book)
    assert ran.code == 0, ran.err
    assert len(entries(then)) == len(entries(made.folder)) - 1
    copy = taken_in(run, then, tmp_path / "copy.duckdb")
    assert standing(copy) == Shelf(everything).as_known(before).standing
    assert not any(entry.kind == "strike" for entry in copy.snapshot().entries)


def test_an_empty_book_comes_out_empty(run: Run, tmp_path: Path) -> None:
    """Nothing in it: every file is there, and nobody can import nothing by mistake."""
    book_at(tmp_path / "bulls.duckdb")
    ran = run("export", tmp_path / "out")
    assert ran.code == 0, ran.err
    assert (tmp_path / "out" / "entries.jsonl").read_bytes() == b""
    assert run("import", tmp_path / "out" / "entries.jsonl").code == 65


def test_entries_keep_their_order_of_recording(made: Made) -> None:
    order = [(line["recorded"], line["position"], line["id"]) for line in entries(made.folder)]
    assert order == sorted(order)
