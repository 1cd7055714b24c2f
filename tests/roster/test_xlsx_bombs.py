"""Small spreadsheets that unfold to minutes of work or all the memory: refused with the limit said,
or read as if nothing were.

ECMA-376 part 1, 18.3.1: a sheet may merge any area, and name any row and column up to the last.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from time import process_time

import pytest

from readiness.roster.read import roster_of
from readiness.system import limits
from readiness.system.errors import DataError
from tests.roster.grids import ON, fields, xlsx_bytes
from tests.volume import sampled

SHEET, TEXTS = "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml"
MAIN = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
AIM = 5.0
"""Seconds of the processor. The aim is ten of the clock, on a machine that has more to do."""


def cell(place: str, text: str) -> str:
    return f'<c r="{place}" t="inlineStr"><is><t>{text}</t></is></c>'


HEAD = (
    f'<row r="1">{cell("A1", "tag")}{cell("B1", "name")}</row>'
    f'<row r="2">{cell("A2", "00601")}{cell("B2", "Wren")}</row>'
)


def packed(rows: str = HEAD, *, before: str = "", after: str = "", texts: bytes = b"") -> bytes:
    """A spreadsheet whose one sheet says that; ``texts``: its part of shared texts."""
    sheet = b"<worksheet %s>%s<sheetData>%s</sheetData>%s</worksheet>" % (
        MAIN, before.encode(), rows.encode(), after.encode())  # fmt: skip
    made = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(xlsx_bytes([["tag"]]))) as old,
        zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            if name not in (SHEET, TEXTS):
                new.writestr(name, old.read(name))
        new.writestr(SHEET, sheet)
        new.writestr(TEXTS, texts or b"<sst %s/>" % MAIN)
    return made.getvalue()


def merged(*areas: str) -> str:
    each = "".join(f'<mergeCell ref="{area}"/>' for area in areas)
    return f"<mergeCells>{each}</mergeCells>"


@pytest.mark.parametrize("area", ["C1:C1048576", "A3:XFD1048576", "B3:B1048576"])
def test_cells_merged_over_whole_columns_or_the_sheet_cost_nothing(area: str) -> None:
    data = packed(after=merged(area))
    began = process_time()
    assert fields(roster_of(data, ".xlsx", ON)) == [{"bull": "00601", "name": "Wren"}]
    assert process_time() - began < AIM


def test_one_cell_merged_over_bulls_is_still_said() -> None:
    third = f'<row r="3">{cell("A3", "00602")}</row>'
    areas = [f"B2:B{last}" for last in range(1_048_576, 1_018_576, -1)]  # each over the others
    data = packed(HEAD + third, after=merged(*areas))
    began = process_time()
    texts = [text for _, text in roster_of(data, ".xlsx", ON).warnings]
    assert texts == [
        'column B "name": one cell over rows 2-3 counts for row 2 alone; part it if it is for all'
    ]
    assert process_time() - began < AIM


def test_a_sheet_that_hides_all_its_columns_again_and_again() -> None:
    hidden = '<col min="1" max="16384" hidden="1"/>'
    data = packed(before=f"<cols>{hidden * 20_000}</cols>")
    began = process_time()
    assert len(roster_of(data, ".xlsx", ON).warnings) == 2
    assert process_time() - began < AIM


BOMBS: dict[str, tuple[Callable[[], bytes], str]] = {
    "a cell of 62 MB": (
        lambda: packed(HEAD + f'<row r="3">{cell("A3", "x" * 62_000_000)}</row>'),
        "row 3: a cell holds more than 32,767 letters",
    ),
    "a shared text of 62 MB": (
        lambda: packed(texts=b"<sst %s><si><t>%s</t></si></sst>" % (MAIN, b"x" * 62_000_000)),
        "a cell holds more than 32,767 letters",
    ),
    "a number of a million digits": (
        lambda: packed(HEAD + f'<row r="3"><c r="A3"><v>{"9" * 1_000_000}</v></c></row>'),
        "row 3: a cell holds more than 32,767 letters",
    ),
    "a million empty rows": (
        lambda: packed(HEAD + "".join(f'<row r="{n}"/>' for n in range(3, 1_048_577))),
        "more than 100,000 rows, empty ones with a format counted",
    ),
    "rows without a number": (
        lambda: packed(HEAD + "<row/>" * 1_000_000),
        "more than 100,000 rows",
    ),
    "very wide rows": (
        lambda: packed(HEAD + "".join(f'<row r="{n}">{cell(f"XFD{n}", "")}</row>'
                                      for n in range(3, 20_000))),
        "more than 100,000 cells",
    ),
    "one row of cells without end": (
        lambda: packed(HEAD + f'<row r="3">{"<c/>" * 4_000_000}</row>'),
        "more than 100,000 cells",
    ),
    "more merged cells than can be": (
        lambda: packed(after=merged(*(f"C{n}:C{n + 1}" for n in range(3, 400_000, 2)))),
        "more than 100,000 formats, rules and merged cells",
    ),
    "a tag that does not end": (
        lambda: packed(HEAD + "<row " + " ".join(f"a{n}=''" for n in range(1_000_000)) + "/>"),
        "a tag in xl/worksheets/sheet1.xml has more than 65,536 letters",
    ),
    "what lies too deep": (
        lambda: packed(HEAD, after="<x>" * 300_000 + "</x>" * 300_000),
        "lies more than 100 deep",
    ),
}  # fmt: skip


@sampled("name", list(BOMBS))
def test_what_unfolds_is_refused_with_the_limit_said(name: str) -> None:
    build, says = BOMBS[name]
    data = build()
    assert len(data) < limits.ROSTER_MOST
    began = process_time()
    with pytest.raises(DataError, match=says):
        roster_of(data, ".xlsx", ON)
    assert process_time() - began < AIM


def test_a_part_in_another_coding_is_not_read_unseen() -> None:
    data = packed(texts=f"<sst {MAIN.decode()}/>".encode("utf-16"))
    with pytest.raises(DataError, match="is not UTF-8"):
        roster_of(data, ".xlsx", ON)
