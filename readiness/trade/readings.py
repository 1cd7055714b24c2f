"""What a laboratory wrote of a test, read for the words by which it found something, or could not
tell. Imported only where one wrote something: a cold board has no such words to read."""

from __future__ import annotations

import re

_CLAUSE = re.compile(r"(?<=\w\w)\.\s|[,;:()\n]|\b(?:but|and|however|though)\b", re.IGNORECASE)
_PLUS = re.compile(r"\+(?:ve\b|\s*/\s*-)|(?<!\s)\+(?!\w)|\+(?=\s*$)", re.IGNORECASE)
"""A plus that is no "and": +ve, BVD+, +/-."""
_NOT_CLEAN = re.compile(
    r"\b(?:no|not|non)[- ]+(?:\w+ )?(?:negative|neg|clear|free|conclusive|normal)\b", re.IGNORECASE
)
NEAR = 60
"""So many letters before a word may stand the one that denies it."""
_POSITIVE = re.compile(r"positive|\b(?:pos|reactors?|infect(?:ed|ion))\b", re.IGNORECASE)
_NOT = re.compile(
    r"\b(?:no|not|non|none|never|free of|free from)[- ]+(?:\w+ ){0,2}$", re.IGNORECASE
)
_SEEN = re.compile(
    r"\b(?:detect(?:ed|able)|isolated|found|seen|present|inconclusive|indeterminate|equivocal"
    r"|doubtful|suspect(?:ed)?|suspicious|borderline|abnormal|unclear)\b",
    re.IGNORECASE,
)
_NOTHING = re.compile(r"\b(?:no|non|not|none|nor|nil|never|nothing|without)\b", re.IGNORECASE)
_FOUND_CLEAN = re.compile(r" (?:to be |as )?(?:negative|neg|clear|free)\b", re.IGNORECASE)


def reads_otherwise(reading: str) -> str:
    """The words by which a laboratory says of a test that something was found, or that it cannot
    tell; "" where it says neither. Seldom a pass, though it may be one of antibodies after a
    vaccination."""
    found = (_found(clause) for clause in _CLAUSE.split(reading))
    return next((word.strip().lower() for word in found if word), "")


def _found(clause: str) -> str:
    if sign := _PLUS.search(clause) or _NOT_CLEAN.search(clause):
        return sign[0]
    for word in _POSITIVE.finditer(clause):
        if not _NOT.search(clause, max(0, word.start() - NEAR), word.start()):
            return word[0]
    nothing = _NOTHING.search(clause)
    for word in _SEEN.finditer(clause):
        denied = nothing and nothing.start() < word.start()
        if not (denied or _FOUND_CLEAN.match(clause, word.end())):
            return word[0]
    return ""
