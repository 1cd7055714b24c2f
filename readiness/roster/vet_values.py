"""Words and numbers of a vet's sheet as values of an entry; only what is clear is taken."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from readiness.entries.models import KINDS, own_columns
from readiness.roster.cells import Cell
from readiness.roster.headings import Heading
from readiness.roster.roster import Refused, Value
from readiness.roster.values import meaning, text_of
from readiness.shorthand.cursor import ShorthandError
from readiness.shorthand.grammar import EXAMINED, examined_of
from readiness.shorthand.lexicon import COLLECTED, LIBIDO, OUTCOMES
from readiness.system.plain import fold
from readiness.trade.words import list_words

_MORE: dict[str, dict[str, str]] = {
    "outcome": {**OUTCOMES, "passed": "satisfactory", "pass": "satisfactory", "retest": "deferred",
                "failed": "unsatisfactory", "fail": "unsatisfactory"},
    "collection": {**COLLECTED, "ee": "electro-ejaculation", "none": "no-sample"},
    "libido": {**LIBIDO, "good": "keen", "not tested": "not-seen"},
    "result": {"passed": "pass", "done": "pass", "clear": "pass", "failed": "fail"},
}  # fmt: skip
"""Field → other words for its values; as the entries name them they may be said, too."""
YES_NO = {"done": True, "not done": False, "seen": True, "not seen": False}
_FLAGS = ("morphology", "feet_seen", "stands")
_NUMBERS = {"scrotum_cm": "cm", "motility_pct": "%", "normal_pct": "%"}
_NUMBER = re.compile(r"(\d+(?:[.,]\d+)?) ?(?:cm|%)?", re.ASCII | re.I)
_LAB_WORDS = ("negative", "positive", "neg", "pos")


def vet_reader(column: Heading) -> Callable[[Cell], Value]:
    """What reads the cells of a column, of other things than tags and days. It raises ``Refused``
    for what is not clear."""
    field = column.field or ""
    if field in _NUMBERS:
        return lambda cell: _number(cell, _NUMBERS[field])
    if field in _FLAGS:
        return _flag
    if words := _words(field):
        return lambda cell: _word(cell, words, field)
    return {"examined": _parts, "check": _test}.get(field, text_of)


def _words(field: str) -> Mapping[str, str]:
    """Each word that may be said of a field, folded → its value; none where it takes any text."""
    columns = {**own_columns(KINDS["check"]), **own_columns(KINDS["vet-exam"])}
    known = columns[field].words if field in columns else ()
    words = {**{value: value for value in known}, **_MORE.get(field, {})}
    return {fold(word): value for word, value in words.items()}


def _word(cell: Cell, words: Mapping[str, str], field: str) -> str:
    value = words.get(fold(cell.text))
    if value is None:
        lab = field == "result" and fold(cell.text) in _LAB_WORDS
        hint = "; what the laboratory wrote goes into a column headed Reading" if lab else ""
        known = list_words(dict.fromkeys(words.values()), "or")
        raise Refused(f"{cell.shown} is not understood; write {known}{hint}")
    return value


def _flag(cell: Cell) -> bool:
    value = YES_NO.get(cell.text.casefold(), meaning("heifer_safe", cell.text))
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
        match = _NUMBER.fullmatch(cell.text) if isinstance(value, str) else None
        if match is None:
            raise Refused(f"{cell.shown} is not a number; write it in {unit}, as 36.5, or nothing")
        return float(match[1].replace(",", "."))
    if unit == "%" and "%" in cell.format:
        return round(value * 100, 6)
    if unit == "%" and 0 < value < 1:
        raise Refused(f"{cell.shown} may be {value * 100:g} % or less than 1 %; write it as 65")
    return value


def _parts(cell: Cell) -> str:
    """Parts and how they were examined, as shorthand writes them."""
    try:
        return EXAMINED.say(examined_of(re.sub(r"[;:+&]", " ", cell.text)))
    except ShorthandError as problem:
        raise Refused(problem.why) from problem


def _test(cell: Cell) -> str:
    """A test's name, as a check of the farm's own is named: spaces become hyphens."""
    return re.sub(r"[\s_/.]+", "-", text_of(cell)).strip("-")
