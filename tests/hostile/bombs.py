"""Small things that ask for much: each in a process of its own, with its memory and time measured.

A bomb is refused with the limit said, or shown to be none: never a traceback, a fault, over ten
seconds, or more memory than ``PEAK_MOST``.
"""

from __future__ import annotations

import io
import json
import resource
import subprocess
import sys
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from tests.hostile.watch import SECONDS_MOST, Box, Ran
from tests.roster.grids import xlsx_bytes

ROOT = Path(__file__).parents[2]
PEAK_MOST = 1_000
"""MB that a command may take at most, whatever it is given."""
# Never more than the machine can bear, should a limit fail.
DATA_MOST, CPU_MOST = 4_000_000_000, 25

CHILD = """
import os, sys
from readiness.__main__ import main
code = main(sys.argv[1:])
sys.stdout.flush()
said = open("/proc/self/status").read().partition("VmHWM:")[2].split()[0]
os.write(2, f"\\npeak {said}".encode())
os._exit(code)
"""


class Bomb(NamedTuple):
    """``make``: puts its file into a folder; ``says``: what the refusal has to say, "" where it
    may be taken; ``command``: with ``FILE`` for the file's name."""

    name: str
    make: Callable[[Path], None]
    says: str
    command: tuple[str, ...] = ("import", "FILE", "--check")


def in_child(box: Box, arguments: list[str]) -> tuple[Ran, float]:
    """A command line in a process of its own, and its most memory in MB."""
    before = _seconds()
    done = subprocess.run(
        [sys.executable, "-c", CHILD, *arguments], cwd=box.folder, capture_output=True, check=False,
        env={**box.environment, "PYTHONPATH": str(ROOT)}, preexec_fn=_bounded,
    )  # fmt: skip
    err, _, kilobytes = done.stderr.decode().rpartition("\npeak ")
    ran = Ran(done.returncode, done.stdout.decode(), err, _seconds() - before)
    ran.refused = ran.code != 0
    box._judge_streams(ran)
    if ran.seconds > SECONDS_MOST:
        ran.wrong.append(("hang", f"{ran.seconds:.0f} s"))
    return ran, int(kilobytes or 0) / 1024


def _seconds() -> float:
    """Of the processor, by all that ended: what else a machine does is no fault of ours."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _bounded() -> None:
    resource.setrlimit(resource.RLIMIT_DATA, (DATA_MOST, DATA_MOST))
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_MOST, CPU_MOST))


# ---- spreadsheets by their parts -----------------------------------------------------------------

HEAD = [["Ear tag", "Name"], ["00601", "Wren"]]
SHEET = "xl/worksheets/sheet1.xml"
LAUGHS = b"<!DOCTYPE a [<!ENTITY a 'ha'>" + b"".join(
    b"<!ENTITY %c '%s'>" % (98 + at, b"&%c;" % (97 + at) * 20) for at in range(9)
) + b"]>"  # fmt: skip


def with_part(part: str, change: Callable[[bytes], bytes]) -> Callable[[Path], None]:
    """A small spreadsheet of which one part is changed, or there anew."""

    def make(path: Path) -> None:
        data = xlsx_bytes(HEAD)
        with (
            zipfile.ZipFile(io.BytesIO(data)) as old,
            zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new,
        ):
            for name in old.namelist():
                new.writestr(name, change(old.read(name)) if name == part else old.read(name))
            if part not in old.namelist():
                new.writestr(part, change(b""))

    return make


def laughing(part: str) -> Callable[[Path], None]:
    def change(xml: bytes) -> bytes:
        start = xml.find(b"?>") + 2 if xml.startswith(b"<?xml") else 0
        return xml[:start] + LAUGHS + xml[start:].replace(b"Ear tag", b"&j;")

    return with_part(part, change)


def stated_smaller(path: Path) -> None:
    """A part that unpacks to more than the file says of it."""
    with_part(SHEET, lambda xml: xml.replace(b"</sheetData>", b" " * 90_000_000 + b"</sheetData>"))(
        path
    )
    data = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as packed:
        size = packed.getinfo(SHEET).file_size.to_bytes(4, "little")
    path.write_bytes(bytes(data).replace(size, (10_000).to_bytes(4, "little")))


def parts(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as packed:
        for number in range(60_000):
            packed.writestr(f"xl/{number}", b"")


def rows_xml(row: bytes, count: int, merged: bytes = b"") -> Callable[[Path], None]:
    def change(xml: bytes) -> bytes:
        more = b"".join(row.replace(b"N", b"%d" % (3 + at)) for at in range(count))
        return xml.replace(b"</sheetData>", more + b"</sheetData>" + merged)

    return with_part(SHEET, change)


def merges(*areas: str) -> Callable[[Path], None]:
    inside = "".join(f"<mergeCell ref='{area}'/>" for area in areas)
    return rows_xml(b"", 0, f"<mergeCells>{inside}</mergeCells>".encode())


# ---- text ----------------------------------------------------------------------------------------


def text(said: str | bytes) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        path.write_bytes(said if isinstance(said, bytes) else said.encode())

    return make


def zeros(size: int) -> Callable[[Path], None]:
    """A file that is as long as this, and takes no room."""

    def make(path: Path) -> None:
        with path.open("wb") as handle:
            handle.truncate(size)

    return make


def half_entered(lines: list[str]) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        folder = path.with_name("bulls.duckdb.unsaved")
        folder.mkdir()
        (folder / "left.jsonl").write_text("\n".join(lines), encoding="utf-8")

    return make


WALK = '{"kind":"mobility","on":"2026-04-03","bull":"00417","scale":"gb0-3","score":%s}'
UNDER = ("--rules", "FILE", "rules")
LONG = 120_000
"""Letters of an argument: Linux takes no more than 131,071."""

BOMBS = (
    Bomb("lists in lists.jsonl", text("[" * 500_000), "one JSON list"),
    Bomb("objects in objects.jsonl", text('{"a":' * 100_000), "nested too deeply"),
    Bomb("a note of lists.jsonl", text('{"kind":"feet","note":' + "[" * 100_000), "nested too deeply"),
    Bomb("a number of a million digits.jsonl", text(WALK % ("1" * 900_000)), "digits"),
    Bomb("a number beyond all.jsonl", text(WALK % "1e999999999"), "Infinity"),
    Bomb("a line of 40 MB.jsonl", text(WALK % ('"' + "x" * 40_000_000 + '"')), "1000000"),
    Bomb("2,000 lines of a megabyte.jsonl", text((WALK % ('"' + "x" * 30_000 + '"') + "\n") * 2_000), "too many|more"),
    Bomb("a million wrong lines.jsonl", text("{}\n" * 1_000_000), "kind"),
    Bomb("twenty million empty lines.jsonl", text("\n" * 20_000_000), "empty|MB"),
    Bomb("a thousand keys.jsonl", text(json.dumps({str(n): n for n in range(50_000)})), "kind"),
    Bomb("five gigabytes of nothing.jsonl", zeros(5_000_000_000), "MB"),
    Bomb("a cell of 20 MB.csv", text("tag,name\n00601," + "x" * 20_000_000), "characters"),
    Bomb("a million columns.csv", text("tag" + ",x" * 1_000_000 + "\n1"), "cells"),
    Bomb("thirty megabytes of commas.csv", text("," * 30_000_000), "cells"),
    Bomb("thirty megabytes of quotes.csv", text('tag,name\n1,"' + '"' * 30_000_000), "characters|quote"),
    Bomb("thirty megabytes of rows.csv", text("tag\n" + "\n".join(map(str, range(3_000_000)))), "20,000 rows"),
    Bomb("two gigabytes of nothing.csv", zeros(2_000_000_000), "MB"),
    Bomb("a thousand notes of 30 kB.csv", text("tag,note\n" + "".join(f"{n:05},{'y' * 30_000}\n" for n in range(900))), "characters|longer"),
    Bomb("billion laughs in the sheet.xlsx", laughing(SHEET), "entities"),
    Bomb("billion laughs in the styles.xlsx", laughing("xl/styles.xml"), "entities"),
    Bomb("billion laughs in the workbook.xlsx", laughing("xl/workbook.xml"), "entities"),
    Bomb("billion laughs in the properties.xlsx", laughing("docProps/core.xml"), "entities"),
    Bomb("a gigabyte of blanks.xlsx", with_part(SHEET, lambda xml: xml.replace(b"</sheetData>", b" " * 10**9 + b"</sheetData>")), "MB"),
    Bomb("smaller than it is.xlsx", stated_smaller, "cannot be read|MB"),
    Bomb("sixty thousand parts.xlsx", parts, "parts"),
    Bomb("tags in tags.xlsx", with_part(SHEET, lambda xml: xml.replace(b"<sheetData>", b"<sheetData>" + b"<a>" * 2_000_000)), "deep"),
    Bomb("a million empty rows.xlsx", rows_xml(b"<row r='N'/>", 1_000_000), "rows|MB"),
    Bomb("half a million styled cells.xlsx", rows_xml(b"<row r='N'><c r='AN' s='0'/></row>", 500_000), "rows|MB|"),
    Bomb("the last row.xlsx", rows_xml(b"<row r='1048576'><c r='A1048576' t='inlineStr'><is><t>00602</t></is></c></row>", 1), ""),
    Bomb("the last column.xlsx", rows_xml(b"<row r='N'><c r='XFDN' t='inlineStr'><is><t>x</t></is></c></row>", 20_000), "column"),
    Bomb("one cell over the sheet.xlsx", merges("A1:XFD1048576"), ""),
    Bomb("one cell over a column.xlsx", merges("A2:A1048576"), ""),
    Bomb("ten thousand cells over columns.xlsx", merges(*(f"A{n}:A1048576" for n in range(2, 10_002))), ""),
    Bomb("a cell of 60 MB.xlsx", rows_xml(b"<row r='N'><c r='AN' t='inlineStr'><is><t>" + b"x" * 60_000_000 + b"</t></is></c></row>", 1), "characters|MB|longer|letters"),
    Bomb("tables in tables.toml", text("[rules]\nx = " + "[" * 100_000), "letters|kB|TOML", UNDER),
    Bomb("a key of many parts.toml", text("rules" + ".a" * 20_000 + " = 1"), "letters|kB|TOML", UNDER),
    Bomb("tables of many parts.toml", text("".join(f"[rules{'.a' * n}]\n" for n in range(1, 3_000))), "letters|kB|TOML", UNDER),
    Bomb("a number of a million digits.toml", text("[rules]\nx = " + "1" * 1_000_000), "digits", UNDER),
    Bomb("an hundred thousand keys.toml", text("[rules]\n" + "".join(f"x{n} = 1\n" for n in range(200_000))), "letters|kB|TOML", UNDER),
    Bomb("a quote without end.toml", text('[rules]\nx = "' + "\\u0041" * 2_000_000), "letters|kB|TOML", UNDER),
    Bomb("five gigabytes of nothing.toml", zeros(5_000_000_000), "letters|kB|TOML", UNDER),
    Bomb("every day till the end.toml", text('[rules.visits]\nexcept = ["0001-01-01/9999-12-31"]'), "", ("--rules", "FILE", "visits", "--seconds", "1")),
    Bomb("a thousand spans.toml", text("[rules.visits]\nexcept = [" + '"1900-01-01/2999-12-31",' * 3_000 + "]"), "", ("--rules", "FILE", "visits", "--seconds", "1")),
    Bomb("a calendar of zeros.ics", zeros(3_000_000_000), "MB|calendar", ("visits", "--ics", "FILE")),
    Bomb("a calendar of begins.ics", text("BEGIN:VCALENDAR\r\n" + "BEGIN:VEVENT\r\n" * 1_000_000 + "END:VCALENDAR\r\n"), "readiness|MB", ("visits", "--ics", "FILE")),
    Bomb("a book of zeros.duckdb", zeros(3_000_000_000), "book", ("--book", "FILE", "board")),
    Bomb("a line of blanks", text(""), "product|long|letters", ("log", "00417", "given a" + " " * LONG + "b")),
    Bomb("a line of words", text(""), "long|letters|known", ("log", "00417", "lf " * (LONG // 3))),
    Bomb("a line of walks", text(""), "", ("log", "00417", "walk 0;" * (LONG // 7))),
    Bomb("a line of quotes", text(""), "", ("log", "00417", '"' * LONG)),
    Bomb("a day of digits", text(""), "day", ("board", "--on", "1" * LONG)),
    Bomb("an age of digits", text(""), "", ("book-in", "x", "--born", "9" * LONG)),
    Bomb("a tag of letters", text(""), "", ("bull", "BO" * (LONG // 2))),
    Bomb("a name of letters", text(""), "", ("book-in", "00999", "--name", "é" * (LONG // 2))),
    Bomb("a group of letters", text(""), "", ("group", "x" * LONG, "--turnout", "3 may")),
    Bomb("a person of letters", text(""), "", ("log", "00417", "walk 0", "--by", "x" * LONG)),
    Bomb("a path of letters", text(""), "", ("--book", "x" * LONG, "board")),
    Bomb("a command of letters", text(""), "", ("x" * LONG,)),
)  # fmt: skip


@dataclass
class Row:
    bomb: Bomb
    ran: Ran
    peak: float


def tried_in(box: Box, bomb: Bomb) -> Row:
    """The bomb, tried; what is wrong with what came of it is in its ``ran.wrong``."""
    import re

    path = box.folder / bomb.name.replace(" ", "-")
    if "FILE" in bomb.command:
        bomb.make(path)
    before = box.book.read_bytes()
    ran, peak = in_child(box, [path.name if each == "FILE" else each for each in bomb.command])
    if peak > PEAK_MOST:
        ran.wrong.append(("memory", f"{peak:.0f} MB"))
    if bomb.says and not (ran.refused and re.search(bomb.says, ran.err)):
        ran.wrong.append(
            ("words", f"{bomb.says} is not said: {ran.code} {ran.err[:400]} {ran.out[:200]}")
        )
    if ran.refused and box.book.read_bytes() != before:
        ran.wrong.append(("wrote", "the book is another"))
    path.unlink(missing_ok=True)
    return Row(bomb, ran, peak)


def main() -> None:
    from tests.hostile.watch import a_box

    only = sys.argv[1] if len(sys.argv) > 1 else ""
    with a_box() as box:
        for bomb in BOMBS:
            if only in bomb.name:
                row = tried_in(box, bomb)
                print(f"{bomb.name:42}{row.ran.code:4}{row.ran.seconds:7.2f} s{row.peak:7.0f} MB "
                      f"{[f'{c}: {w[:300]}' for c, w in row.ran.wrong] or row.ran.err[:110].strip()}", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
