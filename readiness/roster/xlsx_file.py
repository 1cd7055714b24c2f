"""Rosters in spreadsheets (.xlsx, .xlsm): the cells with their saved values, and nothing run.

The library that reads them goes through defusedxml, which refuses entities; what it raises over a
damaged file is translated here, at the one place.
"""

from __future__ import annotations

import io
import math
import warnings
import zipfile
from collections.abc import Iterator
from datetime import datetime
from functools import partial
from typing import Any

from readiness.roster.cells import Broken, Cell, Grid, GridRow, filled, letters
from readiness.roster.kinds import too_many
from readiness.roster.xlsx_parts import Part, look_through
from readiness.system.errors import DataError
from readiness.system.limits import CELLS_MOST

_NO_RESULT = (
    "holds a formula whose result is not saved in the file; open it in the spreadsheet program, "
    "save it, and import that"
)
_DAMAGED = (
    "the file cannot be read as a spreadsheet ({}). Open it in a spreadsheet program and save it "
    "as .xlsx or .csv."
)


def read_xlsx(data: bytes) -> tuple[list[Grid], list[str]]:
    """The visible sheets of a workbook in their order, and the names of the hidden ones. Raises
    ``DataError`` (without the file's name) where it is damaged, or unpacks to more than a roster
    can be."""
    try:
        with warnings.catch_warnings():
            # Of styles and extensions that it does not know: nothing a roster says.
            warnings.simplefilter("ignore")
            with zipfile.ZipFile(io.BytesIO(data)) as packed:
                parts = look_through(packed)
            return _sheets(data, parts)
    except DataError:
        raise
    except Exception as fault:  # the library raises whatever a damaged file makes it stumble over
        raise DataError(_DAMAGED.format(_innermost(fault))) from fault


def _innermost(fault: BaseException) -> str:
    """What the library stumbled over first, in its own words."""
    while fault.__cause__ is not None:
        fault = fault.__cause__
    return str(fault).strip().split("\n", 1)[0] or type(fault).__name__


def _sheets(data: bytes, parts: dict[str, Part]) -> tuple[list[Grid], list[str]]:
    from openpyxl import load_workbook

    opened = partial(load_workbook, read_only=True, keep_links=False)
    results = opened(io.BytesIO(data), data_only=True)
    formulas = opened(io.BytesIO(data))
    room = [CELLS_MOST]
    grids, hidden = [], []
    for sheet in results.worksheets:
        if sheet.sheet_state != "visible":
            hidden.append(sheet.title)
            continue
        lines = tuple(filled(_rows(sheet, formulas[sheet.title], room)))
        # Only the library knows which part is which sheet.
        beside = parts.get(sheet._worksheet_path.lstrip("/"), Part())
        grids.append(_grid(sheet.title, lines, beside, results.epoch))
    return grids, hidden


def _rows(results: Any, formulas: Any, room: list[int]) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """The rows in which something stands. ``room``: how many cells may still come, over all
    sheets, those counted that only fill a row up."""
    for sheet in (results, formulas):
        sheet.reset_dimensions()  # what the file states of its size may be wrong
    pairs = zip(results.iter_rows(), formulas.iter_rows(), strict=True)
    for number, (row, written) in enumerate(pairs, start=1):
        if not row:
            continue
        room[0] -= len(row)
        if room[0] < 0:
            raise too_many("cells", CELLS_MOST)
        yield number, tuple(map(_cell, row, written))


def _cell(result: Any, written: Any) -> Cell:
    """A cell's saved value. ``written``: the same cell, with its formula where it has one."""
    value = result.value
    if result.data_type == "e":
        return Cell(Broken(f"holds the error {value}; write what should stand there, or empty it"))
    if isinstance(value, float) and not math.isfinite(value):
        return Cell(Broken("holds a number without end; write what should stand there"))
    if value is None:
        # A formula that gives an empty text has a saved result all the same, of type text.
        unsaved = written.data_type == "f" and result.data_type != "str"
        return Cell(Broken(_NO_RESULT)) if unsaved else Cell()
    return Cell(value, result.number_format or "General")


def _grid(name: str, lines: tuple[GridRow, ...], beside: Part, epoch: datetime) -> Grid:
    """The lines with what stands beside them in their part."""
    hidden = beside.hidden_rows
    return Grid(
        name=name,
        lines=lines,
        typed=True,
        zero=epoch,
        hidden_rows=tuple(row.number for row in lines if row.number in hidden),
        hidden_columns=tuple(map(letters, sorted(beside.hidden_columns))),
        merged=tuple(beside.merged),
    )
