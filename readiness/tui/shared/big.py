"""What is written large, to be seen across the crush: whose foot this is, and the tag."""

from __future__ import annotations

import re

from readiness.report.rows import SHORT_TAG
from readiness.tui.shared.looks import Glyphs

ROWS = 3
BIG_DIGITS = 6
_LETTERS = {
    "L": ("╷  ", "│  ", "╰─╴"),
    "R": ("╭─╮", "├┬╯", "╵╰╴"),
    "F": ("╭─╴", "├─╴", "╵  "),
    "H": ("╷ ╷", "├─┤", "╵ ╵"),
}
_ASCII = {
    "L": ("|  ", "|  ", "|__"),
    "R": ("|~)", "|_)", "| \\"),
    "F": ("|~~", "|~ ", "|  "),
    "H": ("| |", "|-|", "| |"),
}


def big(foot: str, glyphs: Glyphs) -> list[str]:
    """Three lines that spell LF, RF, LH or RH."""
    letters = _ASCII if glyphs.ascii_only else _LETTERS
    return [" ".join(letters[letter][row] for letter in foot) for row in range(ROWS)]


def big_tag(tag: str) -> str:
    """The digits at the end of a tag, by which he is called: they are drawn large."""
    end = re.search(r"\d+$", tag, re.ASCII)
    if end is None:
        return ""
    return end[0] if len(end[0]) <= BIG_DIGITS and tag == end[0] else end[0][-SHORT_TAG:]
