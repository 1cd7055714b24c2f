"""Words, numbers and free text of cells as values of an entry; only what is clear is taken."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from readiness.roster.cells import Broken, Cell
from readiness.roster.headings import fold
from readiness.trade.words import list_words

WORDS: dict[str, dict[str | bool, tuple[str, ...]]] = {
    "temper": {
        "quiet": ("quiet", "calm", "docile", "steady", "placid"),
        "watch": ("watch", "watch him", "wary", "flighty", "nervous"),
        "dangerous": ("dangerous", "danger", "aggressive", "vicious"),
    },
    "origin": {
        "homebred": ("homebred", "home bred", "home", "own", "own bred", "bred here"),
        "bought": ("bought", "bought in", "purchased", "purchase"),
    },
    "role": {
        "worker": ("worker", "working"),
        "reserve": ("reserve", "spare", "stand-by"),
    },
    "heifer_safe": {
        True: ("yes", "y", "true", "1", "ok", "safe", "✓", "✔"),
        False: ("no", "n", "false", "0", "not safe", "unsafe"),
    },
}
"""Field → value → the words that mean it. Case, spaces and punctuation do not count."""

_NOTHING = frozenset({"", "-", "--", "–", "—", "?", "n/a", "unknown", "not known"})
_KILOGRAMS = re.compile(
    r"(\d{1,3}(?:,\d{3})+|\d+(?:[.,]\d+)?) ?(?:kg|kgs|kilos?)?", re.ASCII | re.I
)


class Refused(Exception):
    """A cell that cannot be taken; the text says what is wrong and what to write."""


def says_nothing(cell: Cell) -> bool:
    """Whether a cell is a person's way of leaving it empty: a dash, "n/a", "unknown", "?"."""
    return cell.text.casefold() in _NOTHING and not isinstance(cell.value, Broken)


def word(field: str, cell: Cell) -> str | bool:
    """One of the values of a field. Raises ``Refused``."""
    said = fold(cell.text) or cell.text
    for value, words in WORDS[field].items():
        if said in {fold(one) or one for one in words}:
            return value
    choices = list_words((words[0] for words in WORDS[field].values()), "or")
    raise Refused(f"{cell.shown} is not understood; write {choices}, or leave it empty")


def text(cell: Cell) -> str:
    """Free text: a name, a pen, a note. Raises ``Refused``."""
    if isinstance(cell.value, (datetime, date, time, timedelta)):
        raise Refused(
            f"holds a day ({cell.text}); a spreadsheet makes days of pens such as 1-2; give the "
            "column the format Text and write it again"
        )
    return cell.text


def kilograms(cell: Cell) -> float:
    """A weight in kg: 812, 812.5, "812 kg", "1,025", "812,5". Raises ``Refused``."""
    if isinstance(cell.value, (int, float)) and not isinstance(cell.value, bool):
        return cell.value
    match = _KILOGRAMS.fullmatch(cell.text) if isinstance(cell.value, str) else None
    if match is None:
        raise Refused(f"{cell.shown} is not a weight; write the number of kg, as 812, or nothing")
    digits = match[1]
    grouped = re.fullmatch(r"\d{1,3}(?:,\d{3})+", digits)
    kg = float(digits.replace(",", "" if grouped else "."))
    return int(kg) if kg.is_integer() else kg
