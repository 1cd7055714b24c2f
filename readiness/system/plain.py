"""Text from people is hostile until it is shown: this makes it plain.

Used on the way in (what is stored) and again on the way to a screen (a merged book was written by
somebody else's copy).
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

# Line and paragraph breaks would break a table's row: they become a space.
_TO_SPACE = (0x09, 0x0A, 0x0B, 0x0C, 0x0D, 0x85, 0x2028, 0x2029)
# C0, DEL and C1 drive a terminal.
_CONTROLS = (*range(0x20), *range(0x7F, 0xA0))
# Direction marks, embeddings, overrides and isolates turn what is read round.
_DIRECTION = (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A))
# Invisible fillers and the tag block hide text inside text.
_UNSEEN = (0x00AD, 0x200B, 0x2060, 0xFEFF, *range(0xFFF9, 0xFFFC), *range(0xE0000, 0xE0080))
# Half a surrogate pair (JSON may escape one) cannot be written as UTF-8 at all.
_SURROGATES = range(0xD800, 0xE000)

_TABLE: dict[int, str | None] = {
    **dict.fromkeys((*_CONTROLS, *_DIRECTION, *_UNSEEN, *_SURROGATES), None),
    **dict.fromkeys(_TO_SPACE, " "),
}


def fold(text: str) -> str:
    """A word as it is compared: without case, spaces and punctuation."""
    wide = unicodedata.normalize("NFKC", text).casefold()
    return "".join(mark for mark in wide if mark.isalnum())


@lru_cache(maxsize=1024)
def name_key(name: str) -> str:
    """A farm's or group's name for look-up: without case and runs of spaces."""
    return " ".join(name.casefold().split())


def plain_lines(text: str) -> str:
    """As ``plain``, of a text that is laid out: its line breaks stay."""
    return "\n".join(map(plain, text.split("\n")))


def plain(text: str) -> str:
    """The text without controls, direction overrides and unseen fillers, in Unicode form NFC.

    Breaks and tabs become one space each. Applying it twice changes nothing more.
    """
    if text.isascii() and text.isprintable():
        return text
    return unicodedata.normalize("NFC", text.translate(_TABLE))


def cut(text: str, most: int = 40) -> str:
    """The text, short enough for a message."""
    return text if len(text) <= most else text[:most] + "…"
