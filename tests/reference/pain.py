"""Whether a treatment may hide lameness."""

from __future__ import annotations

from .state import Entry
from .values import PAIN_WORDS


def relieves_pain(entry: Entry) -> bool:
    """Said so; else known by what its product or its reason speaks of."""
    if "pain_relief" in entry:
        return bool(entry["pain_relief"])
    return speaks_of_pain(entry)


def speaks_of_pain(entry: Entry) -> bool:
    return any(_spoken_of(entry.get(field) or "") for field in ("product", "reason"))


def _spoken_of(text: str) -> bool:
    parts = _parts(text)
    # the known words by their letters alone, wherever the writer put spaces, dashes or line ends
    letters = "".join(parts)
    known = any("".join(_parts(word)) in letters for word in PAIN_WORDS)
    # and pain, but as a word of its own: nobody who is painted is in pain
    return known or "pain" in parts


def _parts(text: str) -> list[str]:
    """The runs of letters in a text, all small."""
    return "".join(sign if sign.isalpha() else " " for sign in text.casefold()).split()
