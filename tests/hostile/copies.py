"""Other copies of a book, as somebody hands them over to be merged, and the journal beside it."""

from __future__ import annotations

import json
import shutil
from functools import cache
from pathlib import Path
from zlib import crc32

from hypothesis import strategies as st

from readiness.system.locations import journal_beside
from tests.hostile.attacks import as_bytes, bent_bytes, bent_object, bent_text, encoded
from tests.hostile.files import ON, File, a_book, given, rows_of
from tests.hostile.readers import Reader
from tests.hostile.watch import Box, Ran, a_box

MONTH = "2026-04.jsonl"


@cache
def journal_lines() -> tuple[bytes, ...]:
    """A journal as the program wrote it, that of a book to which something was added twice."""
    with a_box() as box:
        box.run("log", "00288", "walk 0; cond 3", *ON)
        box.run("undo", *ON)
        (file,) = journal_beside(box.book).glob("*.jsonl")
        return tuple(file.read_bytes().splitlines())


def checked(line: str) -> bytes:
    """The line with the checksum that belongs to it, so that what stands in it is read at all."""
    rest = line[1:].encode("utf-8", "surrogatepass")
    return b'{"crc":"%08x",%s' % (crc32(rest + b"\n"), rest)


@st.composite
def a_journal(draw: st.DrawFn) -> File:
    """Lines of a journal, some bent, most of these with a checksum that fits."""
    first = draw(st.integers(0, len(journal_lines()) - 1))
    said = list(journal_lines()[first : first + draw(st.integers(1, 40))])
    if draw(st.booleans()):
        said = list(journal_lines())
    for _ in range(draw(st.integers(0, 3))):
        at = draw(st.integers(0, len(said) - 1))
        valid = {
            key: value for key, value in json.loads(journal_lines()[at]).items() if key != "crc"
        }
        line = json.dumps(draw(bent_object(valid)), ensure_ascii=draw(st.booleans()))
        said[at] = checked(draw(bent_text(line)) if draw(st.integers(0, 3)) == 0 else line)
    return draw(bent_bytes(b"\n".join(said) + b"\n")), len(said)


@st.composite
def an_export(draw: st.DrawFn) -> File:
    """The entries of an export, some bent."""
    said = exported()
    kept = draw(st.lists(st.sampled_from(said), min_size=1, max_size=12, unique_by=id))
    bends = draw(st.integers(-1, len(kept) - 1))
    lines = [
        json.dumps(draw(bent_object(json.loads(line))) if at == bends else json.loads(line))
        for at, line in enumerate(kept)
    ]
    return draw(bent_bytes(as_bytes("\n".join(lines), draw(encoded)))), len(lines)


@cache
def exported() -> list[str]:
    with a_box() as box:
        box.run("log", "00288", "walk 0; cond 3", *ON)
        assert box.run("export", "out", *ON).code == 0
        return (box.folder / "out" / "entries.jsonl").read_text(encoding="utf-8").splitlines()


# ---- what reads them -----------------------------------------------------------------------------


def merged(box: Box, *other: str, check: bool) -> Ran:
    return box.run("merge", *other, *(("--check",) if check else ()), *ON)


def merge_book(box: Box, file: File) -> Ran:
    return merged(box, given(box, "other.duckdb", file[0]), check=len(file[0]) % 8 > 0)


def merge_journal(box: Box, file: File) -> Ran:
    folder = journal_beside(box.folder / "other.duckdb")
    folder.mkdir(exist_ok=True)
    (folder / MONTH).write_bytes(file[0])
    ran = merged(box, folder.name, check=len(file[0]) % 8 > 0)
    shutil.rmtree(folder)
    return ran


def merge_export(box: Box, file: File) -> Ran:
    folder = box.folder / "theirs"
    folder.mkdir(exist_ok=True)
    (folder / "entries.jsonl").write_bytes(file[0])
    ran = merged(box, "theirs", check=len(file[0]) % 8 > 0)
    shutil.rmtree(folder)
    return ran


def beside_the_book(box: Box, file: File) -> Ran:
    """In the place of the book's own journal, which is put back."""
    (own,) = journal_beside(box.book).glob("*.jsonl")
    kept = own.read_bytes()
    own.write_bytes(file[0])
    command = (("verify",), ("board",), ("log", "00288", "walk 1"))[len(file[0]) % 3]
    before = box.book.read_bytes()
    ran = box.run(*command, *(() if command == ("verify",) else ON))
    _put_back(box.book, before)
    own.write_bytes(kept)
    return ran


def _put_back(path: Path, data: bytes) -> None:
    for each in journal_beside(path).glob("*.jsonl"):
        each.unlink()
    path.write_bytes(data)


COPIES = (
    Reader("merge of a book", 0.4, a_book(), merge_book, rows_of),
    Reader("merge of a journal", 1, a_journal(), merge_journal, rows_of),
    Reader("merge of an export", 1, an_export(), merge_export, rows_of),
    Reader("the book's journal", 1, a_journal(), beside_the_book, rows_of),
)
