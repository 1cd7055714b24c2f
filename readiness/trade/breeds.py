"""The breeds whose calves are carried for longer or shorter than others."""

from __future__ import annotations

from collections.abc import Mapping

OTHER = "other"

BREEDS: Mapping[str, tuple[str, ...]] = {
    "holstein": ("holstein", "friesian", "hf", "ho", "fr"),
    "angus": ("angus", "aa"),
    "blonde": ("blonde", "ba", "blo"),
    "hereford": ("hereford", "he"),
    "shorthorn": ("shorthorn", "sh", "bsh"),
    "limousin": ("limousin", "lim", "lm"),
    "charolais": ("charolais", "ch", "char"),
    "simmental": ("simmental", "sim", "sm"),
}
"""Breed → the words and letters by which people call it (from memory)."""

CROSS = ("x", "cross")


def breed_of(text: str) -> str:
    """Which of ``BREEDS`` a bull is as people wrote it: Aberdeen Angus, AA; ``other`` where it is
    none of them, more than one, or a cross."""
    words = text.casefold().replace("-", " ").replace("/", " ").split()
    found = {breed for breed, known in BREEDS.items() if not set(words).isdisjoint(known)}
    crossed = not set(words).isdisjoint(CROSS)
    return found.pop() if len(found) == 1 and not crossed else OTHER
