"""The words of shorthand: what stands for what, both ways. Words are added here; none changes."""

from __future__ import annotations

import re
from collections.abc import Iterable

from readiness.trade import body, bulls, checks, codes, examination, scales
from readiness.trade.feet import ACTS, FEET, MEASURES
from readiness.trade.numbers import NUMBER as DIGITS
from readiness.trade.numbers import UNITS

CLAW_LETTERS = {"o": "outer", "i": "inner", "b": "both", "s": "skin"}
CLAW_TO_LETTER = {claw: letter for letter, claw in CLAW_LETTERS.items()}
CLAW_WORDS = CLAW_LETTERS | {claw: claw for claw in CLAW_TO_LETTER}

INCIDENTS = {
    "fight": "fight",
    "fall": "fall",
    "transport": "transport",
    "ill": "illness",
    "trouble": "other",
}
CAUSE_TO_WORD = {cause: word for word, cause in INCIDENTS.items()}


def _of_a_line(called: Iterable[tuple[str, tuple[str, ...]]]) -> dict[str, str]:
    """The word that a line has for each value: the first that people call it."""
    return {words[0]: value for value, words in called}


OUTCOMES = _of_a_line(examination.CALLED["outcome"])
OUTCOME_WORDS = {
    word: value for value, words in examination.CALLED["outcome"] for word in (*words, value)
}
"""Right after vet all of them are taken; what stands further on in a part is told by one word."""
FIGURES = {"cm": "scrotum_cm", "mot": "motility_pct", "norm": "normal_pct"}
COLLECTED = _of_a_line(examination.CALLED["collection"])
JUDGED, WAYS = tuple(examination.JUDGED), tuple(examination.WAYS)
LIBIDO = _of_a_line(examination.CALLED["libido"])
EXAMINED = tuple(examination.PARTS)
ABOUT, LOOKS = tuple(body.ABOUT), tuple(body.OUTCOMES)
BODY_PARTS, BODY_STATES = tuple(body.PARTS), tuple(body.STATES)
MOVES, REASONS, ROLES, SUSPECTS = bulls.MOVES, bulls.REASONS, bulls.ROLES, bulls.SUSPECTS
RESULTS = _of_a_line(checks.RESULTS)
NO_GROUP = "none"
NEW_FEET = "then"  # parts two feet entries of one day

FEET_LISTS = ("findings", "healed", "work", "measures")
"""What an entry says of feet, beside which were lifted."""
MEASURE_KEYS = {word: key for key, word in MEASURES.items()}

# The first word of every part that is not about feet.
HEADS = (
    "block",
    "walk",
    "cond",
    "kg",
    *INCIDENTS,
    "vet",
    "vetlook",
    "body",
    "given",
    *MOVES,
    *RESULTS,
    "join",
    NEW_FEET,
)
FEET_HEADS = ("all", "rest", *(foot.lower() for foot in FEET))
FEET_WORDS = (
    *(code.lower() for code in codes.CODES),
    *ACTS,
    *MEASURE_KEYS,
    "ok",
    "refused",
    "healed",
    "stable",
    "was",
    *CLAW_LETTERS,
)


def any_of(words: Iterable[str]) -> str:
    """A pattern of one of the words, the longest first."""
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


_END = r"(?![A-Za-z])"
_CODES = any_of(codes.CODES)
_FEET = any_of(FEET)


def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(text, re.IGNORECASE | re.ASCII)


def word_pattern(*words: str) -> re.Pattern[str]:
    """One of the words, whole."""
    return _pattern(f"({any_of(words)}){_END}")


def negated_pattern(word: str) -> re.Pattern[str]:
    """The word with a no before it."""
    return _pattern(rf"(not?\s+{word}){_END}")


def stop(*words: str, number: bool = True) -> re.Pattern[str]:
    """Where free text ends: before one of these words, and before what begins with a digit where
    ``number`` says so."""
    return _pattern(rf"(?:{any_of(words)})(?![^\s,\"]){'|[0-9]' if number else ''}")


# Spacing is free: "lfosu" is read as "lf o su".
FOOT = _pattern(rf"({_FEET})(?=(?:{_FEET})*[oibs]?(?:{_CODES})?{_END})")
CLAW = _pattern(rf"((?:outer|inner|both|skin){_END}|[oibs](?:{_END}|(?=(?:{_CODES}){_END})))")
CODE = word_pattern(*codes.CODES)
ACT = word_pattern(*ACTS)
MEASURE = word_pattern(*MEASURE_KEYS)
ALL, REST, OK, REFUSED, HEALED, NOT, STABLE, WAS, MM = map(
    word_pattern, ("all", "rest", "ok", "refused", "healed", "not", "stable", "was", "mm")
)
# Before a number it is the word of a figure: "cm 30 cm 31".
UNIT = {unit: _pattern(rf"({any_of(words)}){_END}(?!\s*\d)") for unit, words in UNITS.items()}
STAGE = _pattern(rf":\s*({any_of(codes.STAGES)})(?![\d.])")
ZONE = _pattern(r"@\s*(\d{1,6})(?![\d.])")
# The stroke may be left out: "wlf@2 1".
SEVERITY = _pattern(r"/?\s*(\d{1,6})(?![\d.]|\s*mm|,[\d.]+\s*mm)")
# Of one digit before a comma nobody can tell whether it is a severity.
SIZE = _pattern(rf"(\d{{2,6}},\d{{1,20}}|\d{{1,6}}(?:\.\d{{1,20}})?)\s*mm{_END}")
SEVERITY_OR_SIZE = _pattern(rf"(\d,[\d.]+\s*mm){_END}")
NUMBER = _pattern(rf"({DIGITS})(?![\d.]|[,/-]\d)")
WALK_SCALE = _pattern(rf"({any_of(scales.MOBILITY)})(?![\w-])")
HEAD_WORD = _pattern(r"([A-Za-z]+)")
NAME = _pattern(r"([A-Za-z0-9-]+)")
