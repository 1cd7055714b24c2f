"""Files as programs write them, and files that are none."""

from __future__ import annotations

import csv
import io
import os
import zipfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from readiness.roster.read import read_roster, roster_of
from readiness.system import limits
from readiness.system.errors import DataError
from tests.cli.conftest import Run
from tests.roster.grids import ON, Rows, csv_bytes, fields, read_xlsx, said, xlsx_bytes

ROWS = [["tag", "name", "pen"], ["00601", "Béchir, the old one", "1"], ["00602", 'The "Jay"', ""]]
SHEET = "xl/worksheets/sheet1.xml"
READ = [
    {"bull": "00601", "name": "Béchir, the old one", "pen": "1"},
    {"bull": "00602", "name": 'The "Jay"'},
]


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize(
    "coding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
def test_codings_and_delimiters(delimiter: str, coding: str) -> None:
    roster = roster_of(csv_bytes(ROWS, delimiter, coding), ".csv", ON)
    assert fields(roster) == READ
    assert [text[:24] for _, text in roster.warnings] == (
        ["the file is not UTF-8: r"] if coding == "cp1252" else []
    )


def test_the_headings_tell_the_delimiter_not_the_values() -> None:
    text = "tag;name;note\n00601;Wren;a, b, c, d, e\n00602;Jay;1,2,3,4,5\n"
    roster = roster_of(text.encode(), ".csv", ON)
    assert [row["note"] for row in fields(roster)] == ["a, b, c, d, e", "1,2,3,4,5"]


def test_a_first_line_that_names_the_delimiter() -> None:
    """A spreadsheet does not show it: the headings are in its row 1."""
    roster = roster_of(b"sep=;\r\ntag;name\r\n00601;Wren\r\n", ".csv", ON)
    assert roster.head.row == 1 and fields(roster) == [{"bull": "00601", "name": "Wren"}]


def test_rows_are_counted_as_a_spreadsheet_does() -> None:
    text = 'tag,note\n00601,"two\nlines"\n\n00602,x\n'
    roster = roster_of(text.encode(), ".csv", ON)
    assert [(row.number, row.fields["note"]) for row in roster.rows] == [(2, "two lines"), (4, "x")]


def test_a_quote_that_does_not_close_swallows_no_rows() -> None:
    with pytest.raises(DataError, match="row 3: cannot be read as CSV"):
        roster_of(b'tag,note\n00601,x\n00602,"open\n00603,y\n', ".csv", ON)


def test_a_formula_guard_is_no_part_of_a_name() -> None:
    (row,) = fields(roster_of(b"tag,name\n00601,'=Wren\n", ".csv", ON))
    assert row["name"] == "=Wren"


@pytest.mark.parametrize("rows", [[["tag"], *([f"00{n}"] for n in range(limits.ROWS_MOST))]])
def test_too_many_rows(rows: list[list[str]]) -> None:
    with pytest.raises(DataError, match="more than 20,000 rows"):
        roster_of(csv_bytes(rows), ".csv", ON)


def test_too_many_columns() -> None:
    wide = [["tag"], ["00601", *[""] * 300, "x"]]
    for data, suffix in ((csv_bytes(wide), ".csv"), (xlsx_bytes(wide), ".xlsx")):
        with pytest.raises(DataError, match="row 2 goes on to column KP"):
            roster_of(data, suffix, ON)


# ---- spreadsheets ------------------------------------------------------------------------------


def test_the_first_sheet_with_the_headings_is_read() -> None:
    def change(sheet: Any) -> None:
        book = sheet.parent
        sheet.title = "Bulls"
        for title, rows in (("Notes", [["ask Ines"]]), ("More", [["tag"], ["00999"]])):
            other = book.create_sheet(title, 0 if title == "Notes" else None)
            for row in rows:
                other.append(row)
        book.create_sheet("Old").sheet_state = "hidden"

    roster = read_xlsx([["tag"], ["00601"]], change)
    assert roster.sheet == "Bulls" and [row.tag for row in roster.rows] == ["00601"]
    assert roster.notes == [
        "other sheets, not read: Notes and More; More could be a roster too: give it a file of its "
        "own",
        "hidden and not read: Old",
    ]


def test_errors_and_formulas_without_a_result_are_refused_by_cell() -> None:
    rows = [
        ["tag", "name", "pen"],
        ["00601", "#N/A", "#REF!"],
        ["00602", "=A2", "2"],
        ["=A2", "Jay"],
    ]
    problems = said(read_xlsx(rows).problems)
    assert [text.split(";")[0] for text in problems] == [
        'row 4, column A "tag": holds a formula whose result is not saved in the file',
        'row 2, column B "name": holds the error #N/A',
        'row 3, column B "name": holds a formula whose result is not saved in the file',
        'row 2, column C "pen": holds the error #REF!',
    ]


def test_a_formula_that_gives_an_empty_text_has_a_result() -> None:
    sheet = zipfile.ZipFile(io.BytesIO(xlsx_bytes([["tag", "pen"], ["00601", 7]]))).read(SHEET)
    cell = b'<c r="B2" t="str"><f>IF(A2="","1","")</f><v></v></c>'
    at = sheet.index(b'<c r="B2"')
    end = sheet.index(b"</c>", at) + len(b"</c>")
    roster = roster_of(_packed({SHEET: sheet[:at] + cell + sheet[end:]}), ".xlsx", ON)
    assert fields(roster) == [{"bull": "00601"}] and roster.problems == []


def test_hidden_rows_and_columns_are_read_and_said() -> None:
    def change(sheet: Any) -> None:
        sheet.row_dimensions[3].hidden = True
        sheet.column_dimensions["B"].hidden = True

    roster = read_xlsx([["tag", "name"], ["00601", "Wren"], ["00602", "Jay"]], change)
    assert [row["name"] for row in fields(roster)] == ["Wren", "Jay"]
    assert [text for _, text in roster.warnings] == [
        "row 3: hidden, and read all the same",
        'column B "name" is hidden, and read all the same',
    ]


def test_one_cell_over_several_bulls_counts_for_the_first() -> None:
    def change(sheet: Any) -> None:
        sheet.merge_cells("A1:B1")
        sheet.merge_cells("B3:B4")

    roster = read_xlsx([["Bulls"], ["tag", "pen"], ["00601", "1"], ["00602"]], change)
    assert fields(roster) == [{"bull": "00601", "pen": "1"}, {"bull": "00602"}]
    assert [text for _, text in roster.warnings] == [
        'column B "pen": one cell over rows 3-4 counts for row 3 alone; part it if it is for all'
    ]


def test_numbers_and_truths_of_a_spreadsheet() -> None:
    rows: Rows = [
        ["tag", "pen", "heifers", "kg"],
        ["00601", 3, True, 812.5],
        ["00602", 4.5, False, 900],
    ]
    assert fields(read_xlsx(rows)) == [
        {"bull": "00601", "pen": "3", "heifer_safe": True, "kg": 812.5},
        {"bull": "00602", "pen": "4.5", "heifer_safe": False, "kg": 900},
    ]


def test_a_day_may_be_all_there_is_to_note() -> None:
    (row,) = fields(read_xlsx([["tag", "note"], ["00601", date(2026, 2, 1)]]))
    assert row["note"] == "2026-02-01"


def test_a_number_without_end() -> None:
    sheet = zipfile.ZipFile(io.BytesIO(xlsx_bytes([["tag", "kg"], ["00601", 812]]))).read(SHEET)
    endless = _packed({SHEET: sheet.replace(b"<v>812</v>", b"<v>1e999</v>")})
    (text,) = said(roster_of(endless, ".xlsx", ON).problems)
    assert text.startswith("row 2, column B") and "holds a number without end" in text


def test_lines_that_end_as_on_old_machines() -> None:
    assert len(roster_of(b"tag,name\r00601,Wren\r00602,Jay\r", ".csv", ON).rows) == 2


@pytest.mark.long
def test_a_cell_far_below_costs_no_time_and_no_row() -> None:
    def change(sheet: Any) -> None:
        sheet["A900000"].number_format = "0"

    assert len(read_xlsx([["tag"], ["00601"]], change).rows) == 1


def _packed(parts: dict[str, bytes], into: bytes = b"") -> bytes:
    """A spreadsheet with some of its parts replaced."""
    made = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(into or xlsx_bytes(ROWS))) as old,
        zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            new.writestr(name, parts.get(name, old.read(name)))
        for name in parts.keys() - set(old.namelist()):
            new.writestr(name, parts[name])
    return made.getvalue()


def test_a_small_file_that_unpacks_to_a_huge_one() -> None:
    bomb = _packed({"xl/worksheets/sheet2.xml": b"\0" * (limits.UNPACKED_MOST + 1)})
    assert len(bomb) < 100_000
    with pytest.raises(DataError, match="unpacks to more than 64 MB"):
        roster_of(bomb, ".xlsx", ON)


def test_entities_are_not_unfolded() -> None:
    laughs = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    sheet = (
        f'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY l0 "ha">{laughs}]>'
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        '<row r="1"><c r="A1" t="inlineStr"><is><t>&l9;</t></is></c></row></sheetData></worksheet>'
    )
    with pytest.raises(DataError, match="defines entities"):
        roster_of(_packed({"xl/worksheets/sheet1.xml": sheet.encode()}), ".xlsx", ON)


# ---- files that are no rosters -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "data", "says"),
    [
        ("a.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", ".xls files are not read"),
        ("a.ods", b"PK\x03\x04", ".ods files are not read"),
        ("a.numbers", b"PK\x03\x04", ".numbers files are not read"),
        ("a.xlsx", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "protected by a password"),
        ("a.csv", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "save it as .xlsx or .csv"),
        ("a.csv", b"PK\x03\x04" + b"\0" * 30, "Name it .xlsx"),
        ("a.xlsx", b"tag,name\n00601,Wren\n", "is no .xlsx spreadsheet"),
        ("a.xlsx", b"PK\x03\x04" + b"\0" * 30, "cannot be read as a spreadsheet"),
        ("a.csv", b"", "the file is empty"),
        ("a.csv", b"\xef\xbb\xbf \r\n,,\r\n", "the file is empty"),
        ("a.csv", b"tag,name\n00601,\x00\n", "the file is not text"),
        ("a.csv", b"tag,name\n00601,\x81\x8d\n", "not text in UTF-8"),
        ("a.txt", b"Dear Ines,\nthe bulls are well.\n", "no column holds the tags"),
    ],
)
def test_what_is_refused_and_what_to_do(
    run: Run, tmp_path: Path, name: str, data: bytes, says: str
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    ran = run("import", path)
    assert ran.code == 65 and ran.out == ""
    assert str(path) in ran.err and says in ran.err
    assert not (tmp_path / "bulls.duckdb").exists()


def test_an_ods_under_another_name() -> None:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    path = Path("bulls.xlsx")
    from readiness.roster.kinds import _wrong_kind

    assert "is an .ods spreadsheet" in _wrong_kind(made.getvalue(), path.suffix)


def test_a_file_too_large_is_not_even_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(limits.ROSTER_MOST + 1)
    with pytest.raises(DataError, match="more than 32 MB"):
        read_roster(path, ON)


def test_more_parts_than_a_spreadsheet_has() -> None:
    many = _packed({f"xl/media/{n}.png": b"" for n in range(limits.PARTS_MOST)})
    with pytest.raises(DataError, match="2,000 parts"):
        roster_of(many, ".xlsx", ON)


def test_more_cells_than_a_roster_has_are_not_even_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("readiness.roster.xlsx_parts.CELLS_MOST", 5)
    with pytest.raises(DataError, match="more than 5 cells"):
        roster_of(xlsx_bytes([["tag", "name"], ["00601", "Wren"], ["00602", "Jay"]]), ".xlsx", ON)


@pytest.mark.long
def test_a_row_beyond_any_spreadsheet() -> None:
    sheet = zipfile.ZipFile(io.BytesIO(xlsx_bytes([["tag"], ["00601"]]))).read(SHEET)
    far = _packed({SHEET: sheet.replace(b'<row r="2"', b'<row r="99999999999"')})
    with pytest.raises(DataError, match="more than 1,048,576 rows"):
        roster_of(far, ".xlsx", ON)


# ---- quotes that swallow rows ------------------------------------------------------------------


def test_two_stray_quotes_swallow_no_rows() -> None:
    """RFC 4180, 2.6: a quoted cell may hold line breaks and delimiters, so the reader cannot tell;
    the dangerous bull in between would be gone."""
    text = b'Tag,Name,Temper\n1,"Rex,quiet\n2,Tom,dangerous\n3,Al",quiet\n4,Bo,quiet\n'
    with pytest.raises(DataError, match=r"^row 2, column B: one cell goes over several lines"):
        roster_of(text, ".csv", ON)
    with pytest.raises(DataError, match="row 2, column B"):
        roster_of(text.replace(b",", b";").replace(b"\n", b"\r"), ".csv", ON)


def test_two_stray_quotes_make_no_one_row_of_two() -> None:
    """The second, a dangerous bull, would be gone; no delimiter stands within the quotes."""
    text = b'Tag,Name,Temper,Note\n1,Rex,quiet,"shy\n2",Tom,dangerous,bites\n3,Al,quiet,\n'
    (problem,) = said(roster_of(text, ".csv", ON).problems)
    assert problem.startswith('row 2, column D: "shy 2" goes over several lines, and the row on')


def test_a_note_on_two_lines_without_the_delimiter_passes() -> None:
    roster = roster_of(b'tag;note\n00601;"Low Shed, by the door\nsee Ines"\n', ".csv", ON)
    assert fields(roster) == [{"bull": "00601", "note": "Low Shed, by the door see Ines"}]


@pytest.fixture
def csv_as_it_comes() -> Iterator[None]:
    """Libraries of other tests (frictionless) raise the limit of the whole process."""
    raised = csv.field_size_limit(131_072)
    yield
    csv.field_size_limit(raised)


@pytest.mark.usefixtures("csv_as_it_comes")
def test_a_cell_too_long_is_said_to_be_so() -> None:
    """131,072 characters: the documented limit of Python's csv module."""
    with pytest.raises(DataError, match="row 2: a cell is longer than 131,072") as refused:
        roster_of(b"tag,note\n00601," + b"x" * 131_073 + b"\n", ".csv", ON)
    assert "does not close" not in str(refused.value)


@pytest.mark.parametrize("name", ["f.csv", "f.xlsx"])
def test_a_pipe_is_not_waited_for(run: Run, tmp_path: Path, name: str) -> None:
    """POSIX open(): reading a FIFO blocks until somebody writes to it."""
    os.mkfifo(tmp_path / name)
    ran = run("import", tmp_path / name)
    assert ran.code == 65 and "this is a pipe and no file" in ran.err


# ---- values that a program or a finger has damaged ---------------------------------------------


@pytest.mark.parametrize("kg", ["0,812", "0.812", "1.025", "29", "0"])
def test_a_weight_below_any_bulls(kg: str) -> None:
    """30 kg: project choice; a newborn beef calf weighs about 40 (common knowledge, no source)."""
    rows = [["tag", "kg"], ["00601", kg]]
    (text,) = said(roster_of(csv_bytes(rows), ".csv", ON).problems)
    assert text.startswith('row 2, column B "kg": ') and "too little for a bull" in text


def test_a_weight_above_any_bulls(run: Run, tmp_path: Path) -> None:
    """2,500 kg at most, as an entry of any origin."""
    path = tmp_path / "b.csv"
    path.write_text("tag,kg\n00601,3001\n00602,30\n", encoding="utf-8")
    ran = run("import", path)
    assert ran.code == 65 and 'row 2, column B "kg": 3001 is out of range' in ran.err
    assert "row 3" not in ran.err


def test_names_and_pens_that_look_damaged_are_said() -> None:
    """As spreadsheets show the day that they made of 1-2 and the number that they made of 1E5."""
    rows = [
        ["tag", "name", "pen"], ["00601", "May 3", "01-Feb"], ["00602", "1.00E+05", "1-2"],
        ["00603", "Marble 2", "Feb-12"], ["00604", "Jay", "01/02/2026"],
    ]  # fmt: skip
    roster = roster_of(csv_bytes(rows), ".csv", ON)
    assert [(row, text.split(" is ")[0]) for row, text in roster.warnings] == [
        (3, 'column B "name": "1.00E+05"'),
        (2, 'column C "pen": "01-Feb"'),
        (4, 'column C "pen": "Feb-12"'),
        (5, 'column C "pen": "01/02/2026"'),
    ]
    assert read_xlsx(rows).warnings == []  # there, somebody typed it


@pytest.mark.parametrize("number", [b"2", b"1"])
def test_a_row_that_stands_twice_or_behind_a_later_one(number: bytes) -> None:
    """ECMA-376 part 1, 18.3.1.73: r is the row's index; each stands once."""
    rows: Rows = [["tag"], ["00601"], ["00602"]]
    sheet = zipfile.ZipFile(io.BytesIO(xlsx_bytes(rows))).read(SHEET)
    bad = sheet.replace(b'<row r="3"', b'<row r="' + number + b'"')
    assert bad != sheet
    with pytest.raises(DataError, match=rf"^row {number.decode()} stands twice in xl/worksheets"):
        roster_of(_packed({SHEET: bad}, xlsx_bytes(rows)), ".xlsx", ON)
