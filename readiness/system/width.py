"""How many columns of a terminal a text takes, and a text cut to so many.

``rich`` counts them: wide letters, emoji, what combines. It is imported only for a text that holds
more than Latin letters and our own marks, each of which takes one column.
"""

from __future__ import annotations

import re

_NARROW = re.compile(r"[ -~\u00a1-\u02ff■□●→…·]*").fullmatch


def cells(text: str) -> int:
    """How many columns the text takes."""
    if _NARROW(text):
        return len(text)
    from rich.cells import cell_len

    return cell_len(text)


def cut(text: str, width: int, end: str) -> str:
    """The text in at most ``width`` columns, with ``end`` where something was lost and there is
    room to say so."""
    if cells(text) <= width:
        return text
    room = width - len(end)
    return _first(text, room).rstrip() + end if room > 0 else _first(text, max(width, 0))


def _first(text: str, width: int) -> str:
    if _NARROW(text):
        return text[:width]
    from rich.cells import set_cell_size

    return set_cell_size(text, width)


def pieces(word: str, width: int) -> list[str]:
    """A word in pieces of at most ``width`` columns, one at least; a wide letter stays whole."""
    if cells(word) <= width:
        return [word]
    if _NARROW(word):
        return [word[at : at + width] for at in range(0, len(word), width)]
    from rich.cells import chop_cells

    return [piece for piece in chop_cells(word, width) if piece]
