"""Words, numbers and free text of cells as values of an entry; only what is clear is taken."""

from __future__ import annotations

import re
from collections.abc import Callable

from readiness.entries.columns import columns_of
from readiness.entries.models import KINDS
from readiness.roster.cells import Broken, Cell, Moment
from readiness.roster.headings import Heading
from readiness.roster.roster import Refused, Value
from readiness.trade.numbers import read_number
from readiness.trade.words import UNSAID, list_words

_COLUMNS = {**columns_of(KINDS["bull"]), **columns_of(KINDS["join"])}
WORDS = {name: _COLUMNS[name] for name in ("temper", "origin", "role", "heifer_safe")}
"""The fields of which a word is written; what each may be called, stands with the entries."""

# "Bought at Wathmoor": that he was bought, and where; "bought from" before a name adds nothing.
_CAME_FROM = re.compile(
    r"(?:(?P<bought>bought|purchased)|hired|leased|rented|borrowed|loaned|on (?:hire|loan|lease))"
    r"(?: in)?(?: from| at| ex|,|:) *(?P<place>\S.*)",
    re.I,
)
# What goes on after "bought at" or "bought," and is no place: at foot (of his dam), not sure.
_NO_PLACE = re.compile(
    r"foot(?: .*)?|.*(?:\?|\b(?:not|sure|unsure|maybe|perhaps|unknown)\b).*", re.I
)
_A_NAME = re.compile(r"(?:^|[\W_])[^\W_a-z]")
KG_LEAST = 30
"""A newborn calf weighs more: what is below is tonnes, or a comma in the wrong place."""


def says_nothing(cell: Cell) -> bool:
    """Whether a cell is a person's way of leaving it empty: a dash, "n/a", "unknown", "?"."""
    return cell.text.casefold() in UNSAID and not isinstance(cell.value, Broken)


def meaning(field: str, text: str) -> str | bool | None:
    """The value of a field that the words mean, or None."""
    return WORDS[field].meant(text)


def reader(column: Heading) -> Callable[[Cell], Value]:
    """What reads the cells of a column, of other things than tags and days. It raises ``Refused``
    for what is not clear."""
    name = column.field or ""
    if name == "kg":
        return _kilograms
    if name == "origin":
        return lambda cell: _origin(cell, asks_homebred=column.key == "homebred")
    if name == "note":
        return lambda cell: cell.text  # a day may be all there is to note
    if name in WORDS:
        return lambda cell: _word(name, cell)
    return text_of


def _word(field: str, cell: Cell) -> str | bool:
    """One of the values of a field."""
    value = meaning(field, cell.text)
    if value is not None:
        return value
    choices = list_words(WORDS[field].words or ("yes", "no"), "or")
    where = '; where he was bought belongs in a column headed "Bought from"'
    raise Refused(
        f"{cell.shown} is not understood; write {choices}, or leave it empty"
        f"{where if field == 'origin' else ''}"
    )


def _origin(cell: Cell, *, asks_homebred: bool) -> str | bool:
    """Homebred, bought or hired. ``asks_homebred``: the heading can be answered with yes or no."""
    answer = meaning("heifer_safe", cell.text) if asks_homebred else None
    if answer is not None:
        return "homebred" if answer else "bought"
    told = came_from(cell.text)
    return told[0] if told else _word("origin", cell)


def came_from(text: str) -> tuple[str, str] | None:
    """Bought or hired, and the place, in "bought at Wathmoor"; a place has a capital or a digit."""
    match = _CAME_FROM.fullmatch(text)
    place = match["place"] if match else ""
    if match is None or _NO_PLACE.fullmatch(place) or not _A_NAME.search(place):
        return None
    return "bought" if match["bought"] else "hired", place


def text_of(cell: Cell) -> str:
    """Free text: a name, a pen."""
    if isinstance(cell.value, Moment):
        raise Refused(
            f"holds a day ({cell.text}); a spreadsheet makes days of pens such as 1-2; give the "
            "column the format Text and write it again"
        )
    return cell.text


def _kilograms(cell: Cell) -> float:
    """A weight in kg: 812, 812.5, "812 kg", "1,025", "812,5"."""
    kg = cell.value
    if isinstance(kg, bool) or not isinstance(kg, (int, float)):
        kg = read_number(cell.text, "kg") if isinstance(kg, str) else None
        if kg is None:
            text = f"{cell.shown} is not a weight; write the number of kg, as 812, or nothing"
            raise Refused(text)
    if kg < KG_LEAST:
        raise Refused(f"{cell.shown} is {kg:g} kg, too little for a bull; write kg, as 812")
    return kg
