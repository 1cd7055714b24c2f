"""The females that a group of bulls runs with: what people call them, what a group's name says."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

FEMALES = COWS, HEIFERS = "cows", "heifers"
"""Cows where nothing is said."""
CALLED = (
    (COWS, ("cow", "sucklers", "suckler cows", "older cows")),
    (HEIFERS, ("heifer", "maiden heifers", "maidens", "bulling heifers", "bullers", "hfr", "hfrs")),
)
_WORDS = {of: {of, *(word for word in words if " " not in word)} for of, words in CALLED}
_NOT = {"not", "no", "non", "never", "ex", "former", "formerly", "without"}
_ONE_WORD = re.compile(r"(heifers?)")
_WORD = re.compile(r"[^\W\d_]+|\d+")


def with_class(said: dict[str, Any]) -> dict[str, Any]:
    """What is said of a new group: of heifers where its name says so and nothing else is said."""
    return {"class": HEIFERS, **said} if named_heifers(said["group"]) else said


def named_heifers(group: str) -> bool:
    """Whether a group's name says that it is of heifers, and nothing else: "Bullers", "R2 hfr"; not
    "Cows and heifers", "Ex heifers"."""
    words = _words(group)
    at = next((at for at, word in enumerate(words) if word in _WORDS[HEIFERS]), None)
    return at is not None and not _negated(words[: at + 1]) and not _WORDS[COWS] & set(words)


def speaks_of_heifers(group: str) -> bool:
    """Whether a word for heifers stands in a group's name, whatever else does."""
    return bool(_WORDS[HEIFERS] & set(_words(group)))


def read_as(group: str) -> str:
    """What a new group of this name counts as where nothing else is said, in words."""
    if named_heifers(group):
        return f"{group}: by its name a new one is of {HEIFERS}."
    unsure = f", though its name speaks of {HEIFERS}; say which" if speaks_of_heifers(group) else ""
    return f"{group}: a new one is of {COWS}{unsure}."


def _words(name: str) -> list[str]:
    """Its words; heifers are one also where it is written in one ("Youngheifers", "R2heifers")."""
    return _WORD.findall(_ONE_WORD.sub(r" \1 ", name.casefold()))


def _negated(words: list[str]) -> bool:
    """Whether they take back the last of them; in "No 2 heifers" it is a number."""
    pairs = pairwise(words)
    return any(word in _NOT and not (word == "no" and after.isdecimal()) for word, after in pairs)
