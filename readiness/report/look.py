"""How text is drawn: width, marks, colours. Colour only helps: word and mark say all."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain
from typing import NamedTuple

from readiness.report.spans import Span
from readiness.system.plain import plain
from readiness.system.width import cells, cut, pieces

# Okabe and Ito's hues, nearest of the 256 that terminals know.
_COLOURS = {
    "reason": "38;5;166",
    "checks": "38;5;227",
    "go": "38;5;74",
    "care": "1;38;5;214",
    "alert": "1",
    "overdue": "1",
    "head": "1",
}
# The same hues, dark enough for a light ground.
_ON_LIGHT = {**_COLOURS, "reason": "38;5;130", "checks": "38;5;58", "go": "38;5;24",
             "care": "1;38;5;94"}  # fmt: skip
_SIGNS = {"reason": "■", "checks": "□", "go": "●", "care": "●!", "alert": "!"}
_ASCII = {"■": "#", "□": "o", "●": "*", "→": "->", "…": "...", "·": "-"}


def can_show(encoding: str | None) -> bool:
    """Whether a stream of this encoding shows the marks."""
    try:
        "".join(_ASCII).encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


class Look(NamedTuple):
    """``width`` in columns; ``marks``: the stream shows ■ □ ● →; ``colour`` is wanted, on a
    ``light`` ground or a dark one."""

    width: int = 80
    marks: bool = True
    colour: bool = False
    light: bool = False

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
        """The text in the colour of that role, where it has one and there is colour."""
        colours = _ON_LIGHT if self.light else _COLOURS
        colour = colours.get(name) if self.colour else None
        return f"\x1b[{colour}m{text}\x1b[0m" if colour else text

    def painted(self, spans: Iterable[Span]) -> str:
        """The spans, each in the colour of its role."""
        return "".join(self.paint(role, text) for text, role in spans)

    def fit(self, text: str, width: int, *, right: bool = False) -> str:
        """The text in exactly ``width`` columns: filled up, or cut with an ellipsis."""
        text = self.plain_marks(plain(text))
        text = cut(text, width, "…" if self.marks else "~")
        blank = " " * (width - cells(text))
        return blank + text if right else text + blank


def wrapped(text: str, width: int, indent: str = "") -> list[str]:
    """The words of a text in lines of at most ``width``, the later ones indented."""
    lines: list[str] = []
    line = ""
    room = max(width - len(indent), 1)
    for word in chain.from_iterable(pieces(word, room) for word in text.split()):
        start = line or (indent if lines else "")
        glue = " " if line else ""
        if line and cells(line) + 1 + cells(word) > width:
            lines.append(line)
            start, glue = indent, ""
        line = start + glue + word
    return [*lines, line] if line else lines


def side_by_side(items: Iterable[str], width: int, gap: str = "   ") -> list[str]:
    """The items in lines of at most ``width``, none broken across two of them."""
    lines: list[str] = []
    for item in items:
        if lines and cells(lines[-1]) + len(gap) + cells(item) <= width:
            lines[-1] += gap + item
        else:
            lines.append(item)
    return lines


def headed(name: str, day: str, width: int) -> list[str]:
    """A heading with its day at the right end of its last line, below it where there is no room."""
    *lines, last = wrapped(plain(name), width) or [""]
    room = width - cells(last) - cells(day)
    return [*lines, *([f"{last}{' ' * room}{day}"] if room > 0 else [last, day.rjust(width)])]


def hanging(text: str, width: int, first: int = 2, rest: int = 4) -> list[str]:
    """The words of a text in lines of at most ``width``, so many blanks before the first line and
    before the others."""
    lines = wrapped(text, width - rest)
    return [" " * (rest if at else first) + line for at, line in enumerate(lines)]
