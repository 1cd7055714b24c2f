"""Rosters in spreadsheets (.xlsx, .xlsm): the cells with their saved values, and nothing run.

The library that reads them goes through defusedxml, which refuses entities; what it raises over a
damaged file is translated here, at the one place.
"""

from __future__ import annotations

import io
import math
import re
import warnings
import zipfile
from collections.abc import Iterator
from datetime import datetime
from functools import partial
from typing import Any

from readiness.roster.cells import Broken, Cell, Grid, GridRow, filled, letters
from readiness.roster.kinds import too_many
from readiness.system.errors import DataError
from readiness.system.limits import CELLS_MOST, COLUMNS_MOST, PARTS_MOST, UNPACKED_MOST

ROW_LAST = 1_048_576  # of any spreadsheet
_ROW_NUMBER = re.compile(rb"<(?:\w+:)?row\b[^<>]*?\sr\s*=\s*[\"'](\d{1,12})[\"']")
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
                _small_enough(packed)
                _rows_in_order(packed)
            return _sheets(data)
    except DataError:
        raise
    except Exception as fault:  # the library raises whatever a damaged file makes it stumble over
        raise DataError(_DAMAGED.format(_innermost(fault))) from fault


def _innermost(fault: BaseException) -> str:
    """What the library stumbled over first, in its own words."""
    while fault.__cause__ is not None:
        fault = fault.__cause__
    return str(fault).strip().split("\n", 1)[0] or type(fault).__name__


def _small_enough(packed: zipfile.ZipFile) -> None:
    """A small file may unpack to terabytes: the sizes that it states bind its reader."""
    parts = packed.infolist()
    if len(parts) > PARTS_MOST or sum(part.file_size for part in parts) > UNPACKED_MOST:
        raise DataError(
            f"the file unpacks to more than {UNPACKED_MOST // 1_000_000} MB or {PARTS_MOST:,} "
            "parts, more than a roster can have. Copy the bulls alone into a new file, without "
            "pictures."
        )


def _sheets(data: bytes) -> tuple[list[Grid], list[str]]:
    from openpyxl import load_workbook

    opened = partial(load_workbook, keep_links=False)
    results = opened(io.BytesIO(data), read_only=True, data_only=True)
    formulas = opened(io.BytesIO(data), read_only=True)
    names = {sheet.title: sheet.sheet_state == "visible" for sheet in results.worksheets}
    room = [CELLS_MOST]
    # Hidden sheets too: what is read whole below has to be known to fit.
    read = {name: tuple(filled(_rows(results[name], formulas[name], room))) for name in names}
    whole = opened(
        io.BytesIO(data)
    )  # only this tells which rows are hidden and which cells are one
    grids = [_grid(whole[name], read[name], results.epoch) for name in names if names[name]]
    return grids, [name for name, visible in names.items() if not visible]


def _rows_in_order(packed: zipfile.ZipFile) -> None:
    """A row that stands there twice, or behind a later one, would be dropped by the library."""
    for part in packed.namelist():
        if "worksheets/" not in part or not part.endswith(".xml"):
            continue
        last = 0
        for match in _ROW_NUMBER.finditer(packed.read(part)):
            if (number := int(match[1])) <= last:
                raise DataError(
                    f"row {number} stands twice in {part}, or behind row {last}: one of them "
                    "would be lost. Open it in a spreadsheet program, look at that row, and save "
                    "it as .xlsx or .csv."
                )
            last = number


def _rows(results: Any, formulas: Any, room: list[int]) -> Iterator[tuple[int, tuple[Cell, ...]]]:
    """``room``: how many cells may still come, over all sheets."""
    for sheet in (results, formulas):
        sheet.reset_dimensions()  # what the file states of its size may be wrong
    pairs = zip(results.iter_rows(), formulas.iter_rows(), strict=True)
    for number, (row, written) in enumerate(pairs, start=1):
        room[0] -= len(row)
        if room[0] < 0:
            raise too_many("cells", CELLS_MOST)
        if number > ROW_LAST:
            raise too_many("rows", ROW_LAST)
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


def _grid(sheet: Any, lines: tuple[GridRow, ...], epoch: datetime) -> Grid:
    """The lines with what the whole reading knows of their sheet."""
    return Grid(
        name=sheet.title,
        lines=lines,
        typed=True,
        zero=epoch,
        hidden_rows=tuple(row.number for row in lines if sheet.row_dimensions[row.number].hidden),
        hidden_columns=tuple(_hidden_columns(sheet)),
        merged=tuple(
            (area.min_row, area.max_row, area.min_col - 1)
            for area in sheet.merged_cells.ranges
            if area.max_row > area.min_row
        ),
    )


def _hidden_columns(sheet: Any) -> Iterator[str]:
    """One dimension may stand for a run of columns."""
    for dimension in sheet.column_dimensions.values():
        if dimension.hidden:
            last = min(dimension.max or 0, COLUMNS_MOST)
            yield from (letters(index - 1) for index in range(dimension.min or 1, last + 1))
