"""Of a damaged book everything comes back that its journal has, and without that nothing but what
was written; what is lost is named. The file and its folder stay as they were."""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from readiness.book import journal
from readiness.book.salvage import damaged
from readiness.book.salvage.salvage import Salvaged, salvage
from readiness.book.session import session
from readiness.entries.ids import digest
from readiness.system.errors import BookBusy, CannotWrite, DataError, NotFound
from readiness.system.locations import backups_beside, journal_beside, log_beside
from tests.book.builders import ask, book_at, bull, ids, ids_of, later, strike, walk
from tests.volume import sampled

LONG_SECONDS = 20.0
BLOCK, HEADERS = 262_144, 12_288
LENGTH = 8  # entries

Damage = Callable[[Path, random.Random], None]
"""What befalls a book's file."""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with its journal, and a backup that lacks its last day."""
    path = tmp_path_factory.mktemp("made") / "bulls.duckdb"
    book = book_at(path)
    book.append([bull(1), bull(2, "00418"), walk(3)], "M. Oakes")
    book.append([walk(4, score=2, on="2026-04-03")], "Ada")
    book.append([strike(5, 3)], "Ada")
    book = book_at(path, later(days=1))
    book.append([walk(6, on="2026-04-04", tag="00418")], "M. Oakes")
    book.append([walk(7, on="2026-04-04"), walk(8, score=1, on="2026-04-04", tag="00418")], "Ada")
    return path


@pytest.fixture
def book(made: Path, tmp_path: Path) -> Path:
    """A copy of it, to be damaged."""
    folder = tmp_path / "farm"
    shutil.copytree(made.parent, folder)
    return folder / made.name


def alone(book: Path) -> Path:
    for beside in (journal_beside(book), backups_beside(book)):
        shutil.rmtree(beside)
    return book


def saved(book: Path) -> Salvaged:
    before = {path: path.read_bytes() for path in book.parent.rglob("*") if path.is_file()}
    target = book.parent.with_name("new") / "new.duckdb"
    shutil.rmtree(target.parent, ignore_errors=True)
    try:
        found = salvage(book, target, later(days=30))
    finally:
        assert before == {p: p.read_bytes() for p in book.parent.rglob("*") if p.is_file()}
    assert book_at(target).verify().ok
    assert journal.last_counts(target) == book_at(target).counts()
    return found


Rows = tuple[set[tuple[str, str]], set[tuple[object, ...]]]


def rows(path: Path) -> Rows:
    """(id, digest) of each entry, and each receipt."""
    with session(path, 0) as con:
        entries = con.execute("SELECT id, digest FROM entry").fetchall()
        receipts = con.execute("FROM receipt").fetchall()
    return set(entries), set(receipts)


# ---- the damages ---------------------------------------------------------------------------------


def flipped(path: Path, chance: random.Random) -> None:
    whole = bytearray(path.read_bytes())
    whole[chance.randrange(len(whole))] ^= 1 << chance.randrange(8)
    path.write_bytes(whole)


def flipped_in_the_first_pages(path: Path, chance: random.Random) -> None:
    whole = bytearray(path.read_bytes())
    whole[chance.randrange(HEADERS)] ^= 1 << chance.randrange(8)
    path.write_bytes(whole)


def cut(path: Path, chance: random.Random) -> None:
    os.truncate(path, chance.randrange(1, path.stat().st_size))


def emptied(path: Path, _: random.Random) -> None:
    os.truncate(path, 0)


def gone(path: Path, _: random.Random) -> None:
    path.unlink()


def swapped(path: Path, chance: random.Random) -> None:
    whole = path.read_bytes()
    blocks = [whole[at : at + BLOCK] for at in range(HEADERS, len(whole), BLOCK)]
    one, other = chance.sample(range(len(blocks)), 2)
    blocks[one], blocks[other] = blocks[other], blocks[one]
    path.write_bytes(whole[:HEADERS] + b"".join(blocks))


def torn_at_the_checkpoint(path: Path, chance: random.Random) -> None:
    """The end of a block that is rewritten in place, as it was before."""
    whole = bytearray(path.read_bytes())
    at = chance.randrange(HEADERS, HEADERS + 40_000)
    whole[at : HEADERS + BLOCK] = bytes(HEADERS + BLOCK - at)
    path.write_bytes(whole)


def zeroed(path: Path, chance: random.Random) -> None:
    whole = bytearray(path.read_bytes())
    at = chance.randrange(0, len(whole), 4096)
    whole[at : at + 4096] = bytes(4096)
    path.write_bytes(whole)


def another_program_s(path: Path, _: random.Random) -> None:
    path.write_text("tag,farm\n00417,Nether Skell\n" * 400)


def torn_log(path: Path, chance: random.Random) -> None:
    log_beside(path).write_bytes(chance.choice([b"\0", b"\0" * 4096, chance.randbytes(3000)]))


def foreign_log(path: Path, chance: random.Random) -> None:
    """The log that a killed DuckDB left of another state, or all of it but its end."""
    other = path.with_name("other.duckdb")
    script = (
        "import duckdb, os, sys; con = duckdb.connect(sys.argv[1]);"
        "con.execute('CREATE TABLE mine AS SELECT range FROM range(300)'); os._exit(9)"
    )
    subprocess.run([sys.executable, "-c", script, str(other)], check=False)
    log = log_beside(other).read_bytes()
    log_beside(path).write_bytes(log[: chance.choice([len(log), len(log) // 2])])
    for left in (other, log_beside(other)):
        left.unlink()


DAMAGES: tuple[Damage, ...] = (
    torn_at_the_checkpoint,
    swapped,
    flipped,
    gone,
    cut,
    foreign_log,
    emptied,
    flipped_in_the_first_pages,
    zeroed,
    another_program_s,
    torn_log,
)


def all_is_there(damaged_book: Path, truth: Rows) -> None:
    found = saved(damaged_book)
    assert rows(found.book) == truth
    assert found.all_there, found._asdict()


def only_what_was_written(damaged_book: Path, truth: Rows) -> None:
    """And what is missing is named, or said not to be known."""
    try:
        found = saved(damaged_book)
    except DataError as error:
        assert "Nothing can be read" in str(error)
        return
    except NotFound:
        assert not damaged_book.exists()
        return
    entries, receipts = rows(found.book)
    assert entries <= truth[0]
    assert {r for r in receipts if r[0] not in found.given} <= truth[1]
    missing = {id_ for id_, _ in truth[0] - entries}
    told = len(found.lost) + found.more
    assert told >= len(missing) or not found.sure
    assert {lost.id for lost in found.lost} - {""} <= missing
    assert found.all_there == (entries == truth[0] and receipts == truth[1]) or not found.sure


@sampled("damage", DAMAGES, 2, ids=lambda damage: damage.__name__)
def test_with_its_journal_every_entry_and_receipt_comes_back(
    made: Path, book: Path, damage: Damage
) -> None:
    damage(book, random.Random(damage.__name__))
    shutil.rmtree(backups_beside(book))
    all_is_there(book, rows(made))


@sampled("damage", DAMAGES[1:], ids=lambda damage: damage.__name__)
def test_alone_it_gives_nothing_but_what_was_written(
    made: Path, book: Path, damage: Damage
) -> None:
    alone(book)
    damage(book, random.Random(damage.__name__))
    only_what_was_written(book, rows(made))


@pytest.mark.at_length
def test_blocks_changed_against_each_other_put_no_id_to_another_s_text(tmp_path: Path) -> None:
    """So long that the ids take several blocks: each is whole, and read without a word."""
    path = tmp_path / "farm" / "bulls.duckdb"
    book = book_at(path)
    book.append([bull(1)], "")
    book.append([walk(10 + n, score=n % 3) for n in range(16_000)], "Ada")
    truth = rows(path)
    whole = alone(path).read_bytes()
    at = [
        n for n in range(HEADERS, len(whole), BLOCK) if ids(11)[0].encode() in whole[n : n + BLOCK]
    ]
    other = [n for n in range(HEADERS, len(whole), BLOCK) if n not in at]
    for one, two in [(one, two) for one in at for two in other][:4]:
        changed = bytearray(whole)
        changed[one : one + BLOCK], changed[two : two + BLOCK] = (
            whole[two : two + BLOCK],
            whole[one : one + BLOCK],
        )
        path.write_bytes(changed)
        only_what_was_written(path, truth)


@pytest.mark.at_length
@pytest.mark.parametrize("journaled", [True, False], ids=["with-journal", "alone"])
def test_damage_upon_damage(made: Path, tmp_path: Path, *, journaled: bool) -> None:
    truth, end = rows(made), time.monotonic() + LONG_SECONDS / 2
    seed = 0
    while time.monotonic() < end or seed < len(DAMAGES):
        folder = tmp_path / "farm"
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(made.parent, folder)
        book = folder / made.name
        shutil.rmtree(backups_beside(book))
        chance = random.Random(seed)
        DAMAGES[seed % len(DAMAGES)](book, chance)
        if journaled:
            all_is_there(book, truth)
        else:
            shutil.rmtree(journal_beside(book))
            only_what_was_written(book, truth)
        seed += 1


# ---- where from ----------------------------------------------------------------------------------


def test_a_torn_metadata_block_costs_without_journal_what_came_after_the_last_backup(
    book: Path,
) -> None:
    torn_at_the_checkpoint(book, random.Random(0))
    shutil.rmtree(journal_beside(book))
    found = saved(book)
    assert {id_ for id_, _ in rows(found.book)[0]} == set(ids(1, 2, 3, 4, 5))
    assert [(came.what, came.entries) for came in found.came][1] == ("backup", 5)
    assert not found.sure
    assert not found.all_there


@pytest.mark.at_length
def test_an_older_file_in_the_book_s_place_gets_what_was_written_after_it(
    made: Path, book: Path
) -> None:
    (backup,) = (file for file in backups_beside(book).iterdir() if "04-04" in file.name)
    shutil.copy(backup, book)
    found = saved(book)
    assert rows(found.book) == rows(made)
    assert found.all_there
    assert [(came.what, came.entries) for came in found.came][:2] == [("book", 5), ("journal", 3)]


def test_a_damaged_line_of_the_journal_is_named_and_its_entry_taken_from_the_backup(
    made: Path, book: Path
) -> None:
    gone(book, random.Random())
    file = journal.files(book)[0]
    file.write_bytes(file.read_bytes().replace(b'"score":2', b'"score":0', 1))
    found = saved(book)
    assert rows(found.book) == rows(made)
    assert found.all_there
    assert [(line.file.name, line.number) for line in found.damaged_lines] == [("2026-04.jsonl", 5)]


@pytest.mark.at_length
def test_where_only_the_journal_is_left_its_damaged_line_is_a_loss(book: Path) -> None:
    gone(book, random.Random())
    shutil.rmtree(backups_beside(book))
    file = journal.files(book)[0]
    file.write_bytes(file.read_bytes().replace(b'"score":2', b'"score":0', 1))
    found = saved(book)
    assert (found.entries, len(found.lost), found.more) == (7, 0, 1)
    assert not found.all_there
    file.write_bytes(file.read_bytes()[:-30])  # and now its end does not say how much there was
    found = saved(book)
    assert not found.sure
    assert not found.all_there


@pytest.mark.at_length
def test_a_journal_alone_is_enough_be_it_given_itself_or_as_one_of_its_files(
    made: Path, book: Path
) -> None:
    gone(book, random.Random())
    shutil.rmtree(backups_beside(book))
    for given in (journal_beside(book), journal.files(book)[0], book):
        found = saved(given)
        assert rows(found.book) == rows(made)
        assert found.all_there


@pytest.mark.at_length
def test_a_damaged_backup_is_read_as_far_as_it_goes(book: Path) -> None:
    gone(book, random.Random())
    shutil.rmtree(journal_beside(book))
    for backup in backups_beside(book).iterdir():
        whole = bytearray(backup.read_bytes())
        at = whole.find(b'"score":2')
        if at >= 0:  # the older one has it not yet
            whole[at + 8] = ord("0")
            backup.write_bytes(whole)
    found = saved(book)
    assert {id_ for id_, _ in rows(found.book)[0]} == set(ids(1, 2, 3, 5))
    assert [(lost.id, lost.day) for lost in found.lost] == [(*ids(4), "2026-04-03")]


def test_what_is_lost_is_named_by_bull_day_and_who_wrote_it_down(book: Path) -> None:
    whole = bytearray(alone(book).read_bytes())
    at = whole.index(b'"score":2')
    whole[at + 8] = ord("0")
    book.write_bytes(whole)
    found = saved(book)
    (lost,) = found.lost
    assert (lost.id, lost.bull, lost.day, lost.kind) == (*ids(4), "00417", "2026-04-03", "mobility")
    assert (lost.who, lost.recorded[:10]) == ("Ada", "2026-04-03")
    assert not found.all_there
    assert found.sure is False or found.more == 0


def test_an_entry_without_its_receipt_is_kept_and_no_undo_takes_it_back(book: Path) -> None:
    whole = bytearray(alone(book).read_bytes())
    at = whole.index(b"M. Oakes")
    whole[at] ^= 1
    book.write_bytes(whole)
    found = saved(book)
    assert found.entries == LENGTH
    assert set(found.given) == set(ids(*range(1, LENGTH + 1)))
    assert not found.all_there
    with pytest.raises(NotFound):
        book_at(found.book).undo("")


@pytest.mark.at_length
def test_an_id_that_stands_for_two_things_is_told_and_the_journal_s_is_taken(book: Path) -> None:
    other = digest({"kind": "mobility", "on": "2026-04-01", "bull": "00417", "score": 3})
    text = '{"bull":"00417","kind":"mobility","on":"2026-04-01","score":3}'
    drop = "DROP TRIGGER entry_no_update ON entry"
    change = f"UPDATE entry SET body = '{text}', digest = '{other}' WHERE id = '{ids(3)[0]}'"
    ask(book, drop, change)
    found = saved(book)
    assert found.clashing == ids(3)
    assert (ids(3)[0], other) not in rows(found.book)[0]
    assert not found.all_there


def test_what_was_put_out_again_of_another_copy_stays_out(book: Path, tmp_path: Path) -> None:
    other = book_at(tmp_path / "other.duckdb", device="barn")
    other.append([bull(20, "00777"), walk(21, tag="00777")], "Rab")
    mine = book_at(book, later(days=1))
    mine.merge(other.path, "Ada")
    mine.undo("Ada")
    truth = mine.snapshot().entries
    for damage in (zeroed, gone):
        damage(book, random.Random(damage.__name__))
        found = saved(book)
        assert found.all_there
        new = book_at(found.book)
        assert new.snapshot().entries == truth
        assert ask(new.path, "SELECT count(*) FROM taken_in") == [(4,)]


def test_the_new_book_is_one_to_work_on(made: Path, book: Path) -> None:
    gone(book, random.Random())
    found = saved(book)
    new = book_at(found.book, later(days=31))
    assert new.snapshot().entries == book_at(made).snapshot().entries
    assert ids_of(new.undo("Ada")) == ids(7, 8)
    assert new.verify().ok


# ---- what is refused -----------------------------------------------------------------------------


def test_nothing_is_ever_written_over(book: Path, tmp_path: Path) -> None:
    taken = tmp_path / "notes.txt"
    taken.write_text("my shopping list")
    for target in (taken, book, tmp_path):
        with pytest.raises(CannotWrite, match="never written over"):
            salvage(book, target, later())
    assert taken.read_text() == "my shopping list"
    gone(book, random.Random())
    with pytest.raises(CannotWrite, match="but the journal of one"):
        salvage(book, book, later())
    assert not book.exists()


def test_where_nothing_can_be_read_nothing_is_made(book: Path, tmp_path: Path) -> None:
    target = tmp_path / "new.duckdb"
    another_program_s(alone(book), random.Random())
    with pytest.raises(DataError, match="Nothing can be read"):
        salvage(book, target, later())
    with pytest.raises(NotFound, match="nor a journal or backups"):
        salvage(book.with_name("other.duckdb"), target, later())
    with pytest.raises(DataError, match="is a folder"):
        salvage(tmp_path, target, later())
    os.mkfifo(book.with_name("pipe"))
    with pytest.raises(DataError, match="Nothing can be read"):
        salvage(book.with_name("pipe"), target, later())
    assert not target.exists()


@pytest.mark.at_length
def test_a_newer_book_is_left_to_a_newer_program(book: Path, tmp_path: Path) -> None:
    ask(book, "INSERT INTO meta VALUES ('version', '99')")
    with pytest.raises(DataError, match="newer version of the program"):
        salvage(book, tmp_path / "new.duckdb", later())


def test_a_book_that_somebody_writes_is_not_copied_half(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(damaged, "PATIENCE", 0.0)
    script = "import duckdb, sys; con = duckdb.connect(sys.argv[1]); print(flush=True); input()"
    with subprocess.Popen(
        [sys.executable, "-c", script, str(book)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as other:
        assert other.stdout is not None
        other.stdout.readline()
        with pytest.raises(BookBusy):
            salvage(book, tmp_path / "new.duckdb", later())
        other.communicate(b"\n")


# ---- the process that reads ----------------------------------------------------------------------


@pytest.mark.at_length
def test_what_brings_the_reading_process_down_is_passed_over(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    run = damaged._run
    downs: list[str] = []

    def killed(request: str, seconds: float) -> None:
        run(request, seconds)
        out = Path(json.loads(request)["out"])
        said = out.read_bytes().splitlines(keepends=True)
        stops = [n for n, line in enumerate(said) if line.startswith(b'["trying", "entry", "body"')]
        whole = [n for n, line in enumerate(said) if line.startswith(b'["trying", "entry", ""')]
        last = (whole if not downs else stops)[-1:]
        if len(downs) < 2 and last:
            downs.append(request)
            out.write_bytes(b"".join(said[: last[0] + 1]))

    monkeypatch.setattr(damaged, "_run", killed)
    (found,) = damaged.read_damaged(book)
    assert len(downs) == 2
    assert not found.whole
    assert len(found.tables["receipt"]) == LENGTH
    assert {len(row) for row in found.tables["entry"].values()} == {6}  # in smaller pieces


def test_a_reading_that_hangs_ends_in_its_time(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(damaged, "SECONDS", 0.0)
    monkeypatch.setattr(damaged, "PER_MEGABYTE", 0.0)
    (found,) = damaged.read_damaged(book)
    assert not found.whole
    assert not found.tables
