"""The parts of a spreadsheet looked through before a library reads them: what would take minutes or
all memory is refused, and what the quick way of reading does not tell is noted here.

One pass over each part, which stops at the first limit that is passed.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from typing import NoReturn
from xml.parsers.expat import ExpatError, ParserCreate

from readiness.roster.kinds import too_many
from readiness.system.errors import DataError
from readiness.system.limits import (
    CELL_MOST,
    CELLS_MOST,
    COLUMNS_MOST,
    DEPTH_MOST,
    MEGABYTE,
    OTHERS_MOST,
    PARTS_MOST,
    SHEET_ROWS_MOST,
    TAG_MOST,
    UNPACKED_MOST,
)

ROW_LAST = 1_048_576  # of any spreadsheet
_LONG_TAG = re.compile(rb"<[^<>]{%d}" % TAG_MOST)
_AREA = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7}):\$?([A-Z]{1,3})\$?(\d{1,7})")
_BARE = "Copy the bulls alone, without formats, into a new file."


@dataclass(slots=True)
class Part:
    """What one sheet says beside its cells: numbers of hidden rows, places (from 0) of hidden
    columns, and (first row, last row, place) of cells that are one over several rows."""

    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    merged: list[tuple[int, int, int]] = field(default_factory=list)


def look_through(packed: zipfile.ZipFile) -> dict[str, Part]:
    """Each part that is XML, by its path. Raises ``DataError`` where one is more than a roster can
    be; what is no XML is left for the library to refuse."""
    parts = packed.infolist()
    if len(parts) > PARTS_MOST or sum(part.file_size for part in parts) > UNPACKED_MOST:
        raise DataError(
            f"the file unpacks to more than {UNPACKED_MOST // MEGABYTE} MB or {PARTS_MOST:,} "
            "parts, more than a roster can have. Copy the bulls alone into a new file, without "
            "pictures."
        )
    room = [CELLS_MOST]
    return {name: part for name in packed.namelist() for part in _looked(packed, name, room)}


def _looked(packed: zipfile.ZipFile, name: str, room: list[int]) -> Iterator[Part]:
    data = packed.read(name)
    head = data[:100].removeprefix(b"\xef\xbb\xbf").lstrip()
    if not head.startswith(b"<"):
        if head and name.endswith((".xml", ".rels")):
            raise DataError(f"{name} in the file is not UTF-8 text. {_BARE}")
        return
    if _LONG_TAG.search(data):
        raise DataError(f"a tag in {name} has more than {TAG_MOST:,} letters. {_BARE}")
    look = _Look(name, room)
    with suppress(ExpatError):  # the library says what is wrong
        look.through(data)
    yield look.part


class _Look:
    """One part on its way. ``room``: how many cells may still come, over all parts."""

    def __init__(self, name: str, room: list[int]) -> None:
        self.part = Part()
        self._name = name
        self._room = room
        self._rows = self._row = self._others = self._depth = self._letters = 0

    def through(self, data: bytes) -> None:
        parser = ParserCreate()
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.CharacterDataHandler = self._text
        parser.EntityDeclHandler = self._entity
        parser.Parse(data, True)

    def _start(self, tag: str, said: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > DEPTH_MOST:
            raise DataError(f"{self._name} in the file lies more than {DEPTH_MOST} deep. {_BARE}")
        name = tag.rpartition(":")[2]
        if name in ("c", "si"):
            self._letters = 0
            self._room[0] -= 1
            if self._room[0] < 0:
                raise too_many("cells", CELLS_MOST)
        elif name == "row":
            self._new_row(said)
        elif name not in ("v", "f", "is", "t", "r"):
            self._other(name, said)

    def _end(self, tag: str) -> None:
        self._depth -= 1

    def _text(self, text: str) -> None:
        self._letters += len(text)
        if self._letters > CELL_MOST:
            where = f"row {self._row}" if self._row else self._name
            raise DataError(
                f"{where}: a cell holds more than {CELL_MOST:,} letters, more than any spreadsheet "
                "program keeps. Shorten it."
            )

    def _new_row(self, said: dict[str, str]) -> None:
        self._rows += 1
        if self._rows > SHEET_ROWS_MOST:
            raise DataError(
                f"the file has more than {SHEET_ROWS_MOST:,} rows, empty ones with a format "
                f"counted, more than a roster can have. {_BARE}"
            )
        number = _number(said.get("r", ""), self._row + 1)
        if number <= self._row:
            raise DataError(
                f"row {number} stands twice in {self._name}, or behind row {self._row}: one of "
                "them would be lost. Open it in a spreadsheet program, look at that row, and save "
                "it as .xlsx or .csv."
            )
        if number > ROW_LAST:
            raise too_many("rows", ROW_LAST)
        self._row = number
        if said.get("hidden") in ("1", "true"):
            self.part.hidden_rows.add(number)

    def _other(self, name: str, said: dict[str, str]) -> None:
        """Whatever is no cell. Its text is no cell's either, and is not longer than one."""
        self._letters = 0
        self._others += 1
        if self._others > OTHERS_MOST:
            raise DataError(
                f"{self._name} in the file has more than {OTHERS_MOST:,} formats, rules and merged "
                f"cells. {_BARE}"
            )
        if name == "col" and said.get("hidden") in ("1", "true"):
            first = _number(said.get("min", ""), 1)
            last = min(_number(said.get("max", ""), 0), COLUMNS_MOST)
            self.part.hidden_columns.update(range(max(first, 1) - 1, last))
        elif name == "mergeCell" and (area := _AREA.fullmatch(said.get("ref", ""))):
            first, last = int(area[2]), int(area[4])
            if last > first:
                self.part.merged.append((first, last, _column(area[1])))

    def _entity(self, *_: object) -> NoReturn:
        raise DataError(
            f"{self._name} in the file defines entities, as no spreadsheet does. {_BARE}"
        )


def _number(text: str, otherwise: int) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 12 else otherwise


def _column(name: str) -> int:
    """A column's place, from 0, by its letters."""
    place = 0
    for letter in name:
        place = place * 26 + ord(letter) - ord("A") + 1
    return place - 1
