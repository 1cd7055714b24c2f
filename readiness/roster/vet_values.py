"""Words and numbers of a vet's sheet as values of an entry; only what is clear is taken."""

from __future__ import annotations

import re
from collections.abc import Callable

from readiness.entries.columns import Column
from readiness.entries.models import KINDS, own_columns
from readiness.roster.cells import Cell
from readiness.roster.headings import Heading
from readiness.roster.roster import Refused, Value
from readiness.roster.values import text_of
from readiness.shorthand.cursor import ShorthandError
from readiness.shorthand.grammar import EXAMINED, examined_of
from readiness.system.plain import fold
from readiness.trade.numbers import read_number
from readiness.trade.words import list_words

_COLUMNS = {**own_columns(KINDS["check"]), **own_columns(KINDS["vet-exam"])}
"""What each may be called, stands with the entries' fields."""
_LAB_WORDS = ("negative", "positive", "neg", "pos")


def vet_reader(column: Heading) -> Callable[[Cell], Value]:
    """What reads the cells of a column, of other things than tags and days. It raises ``Refused``
    for what is not clear."""
    field = column.field or ""
    known = _COLUMNS.get(field)
    if known and known.type == "number":
        return lambda cell: _number(cell, known.unit)
    if known and known.type == "boolean":
        return lambda cell: _flag(cell, known)
    if known and known.words:
        return lambda cell: _word(cell, known)
    return {"examined": _parts, "check": _test}.get(field, text_of)


def _word(cell: Cell, known: Column) -> str:
    value = known.meant(cell.text)
    if value is None:
        lab = known.name == "result" and fold(cell.text) in _LAB_WORDS
        hint = "; what the laboratory wrote goes into a column headed Reading" if lab else ""
        words = list_words(known.words, "or")
        raise Refused(f"{cell.shown} is not understood; write {words}{hint}")
    return str(value)


def _flag(cell: Cell, known: Column) -> bool:
    value = known.meant(cell.text)
    if not isinstance(value, bool):
        share = "; a share of normal sperm goes into a column headed Normal sperm"
        hint = share if any(map(str.isdigit, cell.text)) else ""
        raise Refused(
            f"{cell.shown} is neither yes nor no; write yes or no, or leave it empty{hint}"
        )
    return value


def _number(cell: Cell, unit: str) -> float:
    """36.5, "36,5", "65 %"; 0.65 only where the spreadsheet shows it as 65 %."""
    value = cell.value
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        read = read_number(cell.text, unit) if isinstance(value, str) else None
        if read is None:
            raise Refused(f"{cell.shown} is not a number; write it in {unit}, as 36.5, or nothing")
        value = read
    elif unit == "%" and "%" in cell.format:
        return round(value * 100, 6)
    if unit == "%" and 0 < value < 1 and "%" not in cell.text:
        raise Refused(f"{cell.shown} may be {value * 100:g} % or less than 1 %; write it as 65")
    return value


def _parts(cell: Cell) -> str:
    """Parts and how they were examined, as shorthand writes them."""
    try:
        return EXAMINED.say(examined_of(cell.text))
    except ShorthandError as problem:
        raise Refused(problem.why) from problem


def _test(cell: Cell) -> str:
    """A test's name, as a check of the farm's own is named: spaces become hyphens."""
    return re.sub(r"[\s_/.]+", "-", text_of(cell)).strip("-")
