"""Files given to the program: what is made up of each, and what reads it."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
import tomllib
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from functools import cache
from typing import Any

from hypothesis import strategies as st

from readiness.rules.load import DEFAULT
from tests.entries.samples import FULL
from tests.hostile.attacks import (
    as_bytes,
    bent_bytes,
    bent_grid,
    bent_object,
    bent_text,
    encoded,
    numbers,
    texts,
    values,
)
from tests.hostile.readers import Reader
from tests.hostile.watch import Box, Ran
from tests.roster.grids import xlsx_bytes

ON = ("--on", "2026-04-03")
File = tuple[bytes, int]
"""What is in it, and how many rows that were."""


def given(box: Box, name: str, data: bytes) -> str:
    (box.folder / name).write_bytes(data)
    return name


def taken_in(name: str, *options: str) -> Callable[[Box, File], Ran]:
    """Imported from a file of this name; every other one only checked, so that the book stays
    small."""

    def read(box: Box, file: File) -> Ran:
        check = ("--check",) if len(file[0]) % 8 else ()
        return box.run("import", given(box, name, file[0]), *check, *options, *ON)

    return read


def rows_of(file: File) -> int:
    return file[1]


# ---- entries as JSON Lines -----------------------------------------------------------------------


@st.composite
def lines(draw: st.DrawFn) -> File:
    """A file of entries, of which some are bent as objects, some as text."""
    said, one = [], draw(st.sampled_from((None, 0, 3, 20)))
    for at, valid in enumerate(
        draw(st.lists(st.sampled_from(list(FULL.values())), min_size=1, max_size=16))
    ):
        bends = one in (None, at)
        bent = draw(bent_object(valid)) if bends else valid
        line = json.dumps(bent, ensure_ascii=draw(st.booleans()))
        said.append(draw(bent_text(line)) if bends and draw(st.integers(0, 5)) == 0 else line)
    text = draw(st.sampled_from(("\n", "\n", "\r\n", "\r"))).join(said)
    return draw(bent_bytes(as_bytes(text, draw(encoded)))), len(said)


# ---- rosters and vet's sheets --------------------------------------------------------------------

ROSTER = (
    "Ear tag", "Name", "Breed", "Born", "Origin", "Bought from", "Arrived", "Temper", "Heifer safe", "Pen",
    "Farm", "Weight kg", "Weighed on", "Group", "Role", "Note",
)  # fmt: skip
BULLS = tuple(
    (f"UK 123456 {int(f'123456{number:05}') % 7 + 1}{number:05}", name, *more)
    for number, (name, *more) in enumerate((
        ("Sorrel", "Angus", "3 Apr 2022", "bought", "Hill End", "1 Mar 2026", "watch", "yes", "3", "Sallow Fell",
         "980", "2 Apr 2026", "Heifers", "reserve", "shy"),
        ("Bracken", *[""] * 14),
        ("Teasel", "", "2021", *[""] * 12),
        ("Bo", "Limousin", "mar 2022", "homebred", "", "", "quiet", "no", "", "", "1020.5", *[""] * 4),
        ("", "Devon", "3 years", "hired", "", "20 feb 2026", "dangerous", *[""] * 8),
        ("Fern", *[""] * 6, "yes", "yard 2", "Low", *[""] * 4, "second page"),
    ))
)  # fmt: skip
VET = (
    "Ear tag", "Name", "Date", "Outcome", "Scrotum cm", "Semen by", "Motility %", "Motility method",
    "Morphology", "Normal %", "Libido", "Parts examined", "Feet", "Examined by", "Notes", "Test", "Result",
    "Lab", "Reading", "Sampled on", "Valid until", "Again on",
)  # fmt: skip
EXAMS = (
    ("00417", "Corran", "13 Mar 2026", "passed", "37,5", "Electro", "70 %", "individual", "yes", "82", "keen",
     "seen eyes, legs; felt testes", "no", "J. Hart", "in the yard", "", "", "", "", "", "", ""),
    ("00288", "", "", "", "", "", "", "", "", "", "", "", "", "", "", "BVD test", "pass", "Sike Laboratories",
     "negative, 1:20", "2026-03-01", "1 Mar 27", ""),
)  # fmt: skip


@st.composite
def sheet_text(
    draw: st.DrawFn, head: Sequence[str], rows: Sequence[Sequence[str]], marks: str
) -> File:
    grid = draw(bent_grid(head, rows, texts))
    made = io.StringIO(newline="")
    csv.writer(made, delimiter=draw(st.sampled_from(marks)), escapechar="\\").writerows(grid)
    text = made.getvalue()
    if draw(st.integers(0, 3)) == 0:
        text = draw(bent_text(text))
    if draw(st.integers(0, 9)) == 0:
        text = f"sep={draw(texts)}\r\n{text}"
    return draw(bent_bytes(as_bytes(text, draw(encoded)))), max(len(grid) - 1, 1)


CELLS = st.one_of(
    texts.map(lambda text: "".join(mark for mark in text if mark.isprintable())[:32_000]),
    st.integers(-(10**15), 10**15), st.floats(allow_nan=False, allow_infinity=False), st.booleans(), st.none(),
    st.sampled_from((date(2026, 4, 3), datetime(1900, 1, 1), datetime(2026, 4, 3, 10, 5), time(10, 5),
                     timedelta(days=400), "=1+1", "=A1", '=HYPERLINK("x")', "#N/A", "=WEBSERVICE(\"http://x\")")),
)  # fmt: skip
# What stands in a part of a workbook → what may stand there.
IN_PARTS = (
    (b't="s"', b't="e"'), (b't="n"', b't="s"'), (b't="n"', b't="d"'), (b't="n"', b't="b"'), (b'r="A2"', b'r="XFD1048576"'),
    (b'r="A2"', b'r="A0"'), (b'r="2"', b'r="1"'), (b'r="2"', b'r="99999999999"'), (b"<v>0</v>", b"<v>4294967295</v>"),
    (b"<v>0</v>", b"<v>-1</v>"), (b"<v>", b"<v>1e999"), (b"<sheetData>", b"<sheetData><row/><row r='x'/>"),
    (b"</worksheet>", b"<mergeCells><mergeCell ref='A2:A9'/></mergeCells></worksheet>"), (b"</row>", b""),
    (b"<cols>", b"<cols><col min='0' max='99999' hidden='1'/>"), (b'name="Sheet"', b'name="../../x"'),
    (b'sheetId="1"', b'sheetId="-1"'), (b'target="', b'target="../../../'), (b'Target="', b'Target="file:///etc/'),
    (b"<?xml", b"<!DOCTYPE a [<!ENTITY b SYSTEM 'file:///etc/passwd'>]><?xml"), (b'state="visible"', b'state="hidden"'),
    (b"<sst", b"<!DOCTYPE a [<!ENTITY b 'bbbb'><!ENTITY c '&b;&b;&b;'>]><sst"), (b'numFmtId="0"', b'numFmtId="14"'),
    (b'<workbookPr', b'<workbookPr date1904="1"'), (b"</sheets>", b"<sheet name='x' sheetId='7' r:id='rId99'/></sheets>"),
    (b"<t>", b"<t>_x001B_[2J"), (b"<t>", b"<t xml:space='preserve'>  "), (b"<c ", b"<c s='999' "), (b"UTF-8", b"UTF-16"),
)  # fmt: skip


@st.composite
def workbook(draw: st.DrawFn, head: Sequence[str], rows: Sequence[Sequence[str]]) -> File:
    """A spreadsheet of such cells, its parts bent as XML, or the file as bytes."""
    grid = draw(bent_grid(head, rows, CELLS))
    made = draw(bent_parts(xlsx_bytes([[_fit(cell) for cell in row] for row in grid])))
    return draw(bent_bytes(made)), max(len(grid) - 1, 1)


def _fit(cell: object) -> object:
    return "".join(m for m in cell if m.isprintable()) if isinstance(cell, str) else cell


_AT = re.compile(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z")


@st.composite
def bent_parts(draw: st.DrawFn, data: bytes) -> bytes:
    """Its parts, some bent; the moment of its making taken out, so that it is the same each time."""
    changes = draw(st.lists(st.sampled_from(IN_PARTS), max_size=2))
    odd = draw(st.sampled_from((None, None, None, "drop", "add", "twice", "noise")))
    made = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as old,
        zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        names = old.namelist()
        chosen = draw(st.sampled_from(names)) if odd else ""
        for name in names:
            part = _AT.sub(b"2026-04-03T10:00:00Z", old.read(name))
            for before, after in changes:
                part = part.replace(before, after, draw(st.sampled_from((1, -1))))
            if name == chosen and odd == "drop":
                continue
            if name == chosen and odd == "noise":
                part = draw(bent_bytes(part))
            new.writestr(zipfile.ZipInfo(name), part, zipfile.ZIP_DEFLATED)
        if odd == "add":
            new.writestr(zipfile.ZipInfo("../../outside/zip"), b"x")
            new.writestr(zipfile.ZipInfo("/xl/worksheets/sheet99.xml"), b"<x/>")
        if odd == "twice":
            new.writestr(zipfile.ZipInfo("xl/again.xml"), b"<x/>")
    return made.getvalue()


# ---- rules, settings -----------------------------------------------------------------------------

LITERALS = (
    "0", "-1", "30", "9223372036854775808", "1" * 400, "1" * 5000, "1e999", "nan", "-inf", "3.25", "true", "[]", "{}",
    '""', "[1, [2, [3]]]", '"RRULE"', '"FREQ=WEEKLY;BYDAY=MO,TU"', '"FREQ=DAILY;INTERVAL=0"', "[2027-04-05]",
    '["2027-12-24/2028-01-02"]', '["0001-01-01/9999-12-31"]', '"GB-SCT"', '"XX-ZZZ"', '"none"', "2026-02-30", "9999-12-31",
    "10:00:00", "{ value = 10 }", '{ value = 10, standing = "published", source = "our vet" }', '{ value = { value = 1 } }',
    '"DTSTART:99999999 RRULE"', '"FREQ=SECONDLY"', '"DTSTART:00010101\\nFREQ=WEEKLY;BYDAY=MO"', '"gb0-3"', '"dark"', '"f10"',
    "[" * 60 + "]" * 60, '"FREQ=MONTHLY;BYDAY=+9MO,-9TU;COUNT=99999999"', '"FREQ=WEEKLY;UNTIL=99991231;BYDAY=MO"',
)  # fmt: skip


@cache
def rules_said() -> dict[str, str]:
    """Rule → its value as the program's own rules write it."""

    def flat(table: dict[str, Any], before: str) -> Iterator[tuple[str, str]]:
        if "value" in table:
            yield before[1:], json.dumps(table["value"])
        else:
            for key, inner in table.items():
                yield from flat(inner, f"{before}.{key}")

    return dict(flat(tomllib.loads(DEFAULT.read_text(encoding="utf-8"))["rules"], ""))


MINE = {
    "who": '"R. Hale"', "farm": '"Low"', "theme": '"light"', "workdays": '"FREQ=WEEKLY;BYDAY=MO,TU"',
    "except": "[2027-04-05]", "holidays": '"GB-SCT"', "q": '"f10"', "c": '"f2"', "mobility": '"five1-5"',
    "condition": '"nine"',
}  # fmt: skip


CHECK = (
    'name = "dung-sample"',
    'who = "farmer"',
    "from = 42",
    "to = 14",
    "lag = 3",
    'applies = "bought"',
    'text = "Egg count"',
)


def literal(draw: st.DrawFn) -> str:
    if draw(st.integers(0, 2)):
        return str(draw(st.sampled_from(LITERALS)))
    return (
        json.dumps(draw(values | numbers), allow_nan=True)
        .replace("NaN", "nan")
        .replace("Infinity", "inf")
    )


@st.composite
def said_in(draw: st.DrawFn, keys: Mapping[str, str] | Sequence[str], bends: bool) -> str:
    """A key with its value, or, where it ``bends``, one in three with another."""
    key = draw(st.sampled_from(tuple(keys)))
    valid = keys[key] if isinstance(keys, Mapping) else MINE.get(key, "1")
    return f"{key} = {literal(draw) if bends and draw(st.integers(0, 2)) == 0 else valid}"


@st.composite
def rules_file(draw: st.DrawFn) -> File:
    table = st.sampled_from(
        ("[rules]", "[rules]", '[farm."Sallow Fell".rules]', '[farm."[bold]x[/]".rules]')
    )
    bends = draw(st.booleans())
    once: Any = {"unique_by": lambda line: line.split(" ")[0]}
    said = [draw(table), *draw(st.lists(said_in(rules_said(), bends), max_size=12, **once))]
    if draw(st.booleans()):
        said += [
            "[[check]]",
            *(
                draw(bent_text(line)) if bends and draw(st.integers(0, 5)) == 0 else line
                for line in CHECK
            ),
        ]
    if draw(st.integers(0, 2)) == 0:
        said += ["[scales]", draw(said_in(("mobility", "condition"), bends))]
    return draw(toml(said))


@st.composite
def settings_file(draw: st.DrawFn) -> File:
    bends = draw(st.booleans())
    odd = ("x", '"?"', '"\\u001b"', '"[bold]x[/]"') if bends else ()
    said = []
    for table, keys in (("", ("who", "farm", "theme")), ("[visits]", ("workdays", "except", "holidays")),
                        ("[scales]", ("mobility", "condition")), ("[keys.board]", ("c",)), ("[keys.every]", ("q",))):  # fmt: skip
        once: Any = {"unique_by": lambda line: line.split(" ")[0]}
        said += [table, *draw(st.lists(said_in((*keys, *odd), bends), max_size=3, **once))]
    return draw(toml(said))


@st.composite
def toml(draw: st.DrawFn, said: list[str]) -> File:
    text = "\n".join(said)
    if draw(st.integers(0, 5)) == 0:
        text = draw(bent_text(text))
    return draw(bent_bytes(as_bytes(text, draw(encoded)))), len(said)


def under_rules(box: Box, file: File) -> Ran:
    name = given(box, "rules.toml", file[0])
    command = (("rules",), ("board",), ("visits", "--seconds", "0"))[len(file[0]) % 3]
    return box.run("--rules", name, *command, *ON)


def under_settings(box: Box, file: File) -> Ran:
    name = given(box, "mine.toml", file[0])
    command = (("settings",), ("settings", "--json"), ("visits", "--seconds", "0"))[
        len(file[0]) % 3
    ]
    return box.run(*command, *ON, env={"READINESS_SETTINGS": name})


# ---- calendars -----------------------------------------------------------------------------------


@cache
def calendar_of(command: str) -> bytes:
    """A calendar as the program wrote it."""
    from tests.hostile.watch import a_box

    with a_box() as box:
        assert not box.run(command, "--ics", "c.ics", *ON).wrong
        return (box.folder / "c.ics").read_bytes()


@st.composite
def calendar_file(draw: st.DrawFn) -> tuple[str, File]:
    """A calendar of ours, its lines changed, dropped or added to."""
    command = draw(st.sampled_from(("visits", "diary")))
    said = calendar_of(command).decode().split("\r\n")
    for _ in range(draw(st.integers(0, 3))):
        at = draw(st.integers(0, len(said) - 1))
        head, _, value = said[at].partition(":")
        new = draw(st.sampled_from((
            [], [said[at]] * 2, [f"{head}:{draw(texts)}"], [f"{draw(texts)}:{value}"], [draw(bent_text(said[at]))],
            [said[at], f"ATTACH:{draw(texts)}"], ["BEGIN:VEVENT", said[at]], [f"{head};TZID={draw(texts)}:{value}"],
            ["BEGIN:VALARM", "ACTION:PROCEDURE", "ATTACH:file:///bin/sh", "END:VALARM"], ["RRULE:FREQ=SECONDLY;COUNT=99999999"],
        )))  # fmt: skip
        said[at : at + 1] = new
    data = "\r\n".join(said).encode("utf-8", "surrogatepass")
    return command, (draw(bent_bytes(data)), 1)


def into_calendar(box: Box, case: tuple[str, File]) -> Ran:
    command, (data, _) = case
    given(box, "c.ics", data)
    ran = box.run(command, "--ics", "c.ics", *ON)
    if ran.refused and (box.folder / "c.ics").read_bytes() != data:
        ran.wrong.append(("wrote", "the calendar that was refused is another"))
    return ran


# ---- books ---------------------------------------------------------------------------------------


@st.composite
def a_book(draw: st.DrawFn) -> File:
    """A book with bytes of it changed, or no book at all."""
    valid = draw(st.sampled_from((small_book(), other_duckdb())))
    if draw(st.integers(0, 4)) == 0:
        return draw(st.binary(max_size=300)), 1
    made = bytearray(draw(bent_bytes(valid)))
    for _ in range(draw(st.integers(0, 3))):
        at = draw(st.integers(0, max(len(made) - 1, 0)))
        made[at : at + 1] = bytes([draw(st.integers(0, 255))])
    return bytes(made), 1


@cache
def small_book() -> bytes:
    from tests.hostile.watch import a_box

    with a_box() as box:
        return box.book.read_bytes()


@cache
def other_duckdb() -> bytes:
    import duckdb

    from tests.hostile.watch import a_box

    with a_box() as box:
        path = box.folder / "milk.duckdb"
        with duckdb.connect(str(path)) as con:
            con.execute("CREATE TABLE meta (name VARCHAR, value VARCHAR)")
            con.execute("CREATE VIEW entry AS SELECT * FROM read_csv('/etc/passwd')")
        return path.read_bytes()


def as_book(box: Box, file: File) -> Ran:
    name = given(box, "other.duckdb", file[0])
    return box.run(
        "--book",
        name,
        "bull" if len(file[0]) % 2 else "board",
        *(("00417",) if len(file[0]) % 2 else ()),
        *ON,
    )


# ---- half-entered bulls, an export's own list ----------------------------------------------------

DRAFTS: tuple[dict[str, Any], ...] = (
    {"put": {"key": "00417", "line": "walk 0", "on": "2026-04-03", "ids": []}, "at": 1.5},
    {"older": {"key": "00288", "line": "lf o su 4", "on": "2026-04-02", "ids": ["a"]}, "at": 1.0},
    {"drop": "00417"},
    {"race": {"day": "2026-04-03", "keys": ["00417"], "dropped": []}, "at": 2},
)  # fmt: skip


@st.composite
def drafts(draw: st.DrawFn) -> File:
    said = [
        json.dumps(draw(bent_object(each)))
        for each in draw(st.lists(st.sampled_from(DRAFTS), min_size=1, max_size=12))
    ]
    return draw(bent_bytes(as_bytes("\n".join(said), draw(encoded)))), len(said)


def left_half(box: Box, file: File) -> Ran:
    """Taken over by a window at the crush, which reads each line that is left."""
    from readiness.book import Book
    from readiness.book.drafts import Drafts, unsaved_beside
    from readiness.desk.desk import Desk
    from readiness.system.clock import SystemClock
    from readiness.tui.crush.desk import left_over

    folder = unsaved_beside(box.book)
    folder.mkdir(exist_ok=True)
    (folder / "left.jsonl").write_bytes(file[0])

    def read() -> str:
        clock = SystemClock()
        window = Drafts(box.book)
        found = left_over(Desk(Book(box.book, clock), None, clock, on=date(2026, 4, 3)), window)
        for key in found:
            window.drop(key)
        window.close()
        return ""

    ran = box.ask(read)
    for each in folder.glob("*") if folder.exists() else ():
        each.unlink()
    return ran


@st.composite
def manifest(draw: st.DrawFn) -> File:
    valid = {
        "readiness": {
            "format": 1,
            "files": [{"path": "entries.jsonl"}, {"path": "../../outside/x"}],
        },
        "resources": [],
    }
    return as_bytes(json.dumps(draw(bent_object(valid))), draw(encoded)), 1


def over_export(box: Box, file: File) -> Ran:
    """An export into a folder whose list of files is not ours: what stands there stays."""
    folder = box.folder / "out"
    folder.mkdir(exist_ok=True)
    (folder / "datapackage.json").write_bytes(file[0])
    stranger = folder / "mine.txt"
    if strange := len(file[0]) % 2 == 1:
        stranger.write_text("mine", encoding="utf-8")
    ran = box.run("export", "out", *ON)
    if strange and not stranger.exists():
        ran.wrong.append(("outside", "a file of somebody else's is gone"))
    if ran.refused and (folder / "datapackage.json").read_bytes() != file[0]:
        ran.wrong.append(("outside", "what stood there is another"))
    shutil.rmtree(folder)
    return ran


FILES = (
    Reader("entries .jsonl", 15, lines(), taken_in("e.jsonl"), rows_of),
    Reader("roster .csv", 4, sheet_text(ROSTER, BULLS, ",;|\t"), taken_in("r.csv"), rows_of),
    Reader(
        "roster .tsv",
        2,
        sheet_text(ROSTER, BULLS, "\t"),
        taken_in("r.tsv", "--dates", "dmy"),
        rows_of,
    ),
    Reader("roster .xlsx", 3, workbook(ROSTER, BULLS), taken_in("r.xlsx"), rows_of),
    Reader("vet's sheet .csv", 4, sheet_text(VET, EXAMS, ",;\t"), taken_in("v.csv"), rows_of),
    Reader("vet's sheet .xlsx", 3, workbook(VET, EXAMS), taken_in("v.xlsx"), rows_of),
    Reader("rules .toml", 6, rules_file(), under_rules, rows_of),
    Reader("settings .toml", 5, settings_file(), under_settings, rows_of),
    Reader("calendar .ics", 0.3, calendar_file(), into_calendar, lambda case: case[1][1]),
    Reader("a book", 0.4, a_book(), as_book, rows_of),
    Reader("half-entered bulls", 4, drafts(), left_half, rows_of),
    Reader("an export's list", 0.2, manifest(), over_export, rows_of),
)
