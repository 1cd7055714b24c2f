"""The name of a foot in large letters: across the crush one sees whose foot this is."""

from __future__ import annotations

from readiness.tui.shared.looks import Glyphs

ROWS = 3
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
