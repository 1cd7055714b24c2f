"""How text is drawn: width, marks, colours. Colour only helps: word and mark say all."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from readiness.system.plain import plain

# Okabe and Ito's hues, nearest of the 256 that terminals know.
_COLOURS = {
    "reason": "38;5;166",
    "checks": "38;5;227",
    "go": "38;5;74",
    "care": "1;38;5;214",
    "alert": "1",
    "head": "1",
}
_SIGNS = {"reason": "■", "checks": "□", "go": "●", "care": "●!", "alert": "!"}
_ASCII = {"■": "#", "□": "o", "●": "*", "→": "->", "…": "...", "·": "-"}


def can_show(encoding: str | None) -> bool:
    """Whether a stream of this encoding shows the marks."""
    try:
        "".join(_ASCII).encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


@dataclass(frozen=True, slots=True)
class Look:
    """``width`` in columns; ``marks``: the stream shows ■ □ ● →; ``colour`` is wanted."""

    width: int = 80
    marks: bool = True
    colour: bool = False

    def sign(self, name: str) -> str:
        """The mark of a state: reason, checks, go, care; or alert."""
        return self.plain_marks(_SIGNS[name])

    def plain_marks(self, text: str) -> str:
        """The text with ASCII marks where the stream shows no others."""
        if self.marks:
            return text
        for mark, twin in _ASCII.items():
            text = text.replace(mark, twin)
        return text

    def paint(self, name: str, text: str) -> str:
        """The text in the colour of that state, where there is colour."""
        return f"\x1b[{_COLOURS[name]}m{text}\x1b[0m" if self.colour else text

    def fit(self, text: str, width: int, *, right: bool = False) -> str:
        """The text in exactly ``width`` columns: filled up, or cut with an ellipsis."""
        text = self.plain_marks(plain(text))
        if cells(text) > width:
            text = _cut(text, width, "…" if self.marks else "~")
        blank = " " * (width - cells(text))
        return blank + text if right else text + blank


def cells(text: str) -> int:
    """How many columns of a terminal the text takes."""
    return len(text) if text.isascii() else sum(map(_cell, text))


def _cell(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def _cut(text: str, width: int, end: str) -> str:
    kept, used = "", cells(end)
    for character in text:
        used += _cell(character)
        if used > width:
            break
        kept += character
    return (kept.rstrip() + end)[:width]


def wrapped(text: str, width: int, indent: str = "") -> list[str]:
    """The words of a text in lines of at most ``width``, the later ones indented."""
    lines: list[str] = []
    line = ""
    for word in _broken(text.split(), width - cells(indent)):
        start = line or (indent if lines else "")
        glue = " " if line else ""
        if line and cells(line) + 1 + cells(word) > width:
            lines.append(line)
            start, glue = indent, ""
        line = start + glue + word
    return [*lines, line] if line else lines


def _broken(words: Iterable[str], width: int) -> Iterator[str]:
    """The words, those that are longer than a line in pieces."""
    for word in words:
        rest = word
        while cells(rest) > width > 0:
            at = next(n for n in range(len(rest), 0, -1) if cells(rest[:n]) <= width or n == 1)
            yield rest[:at]
            rest = rest[at:]
        yield rest


def hanging(text: str, width: int, first: int = 2, rest: int = 4) -> list[str]:
    """The words of a text in lines of at most ``width``, so many blanks before the first line and
    before the others."""
    lines = wrapped(text, width - rest)
    return [" " * (rest if at else first) + line for at, line in enumerate(lines)]
