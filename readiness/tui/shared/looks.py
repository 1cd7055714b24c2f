"""What the screens look like: colours, marks and drawing characters, each with an ASCII twin.

The three states differ by mark, word and colour. The hues are those of Okabe and Ito (a palette
made for every kind of colour vision); each reads at 4.5:1 or better on ``GROUND``.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from textual.content import Content
from textual.theme import Theme

from readiness.report.rows import SHORT_TAG
from readiness.report.spans import Span, width_of
from readiness.settings.settings import DARK, LIGHT
from readiness.system.plain import plain
from readiness.system.width import cells, cut


class Palette(NamedTuple):
    """Colours by what they are for. On a light ground the hues are the same, made dark enough."""

    ground: str
    text: str
    quiet: str
    line: str
    vermillion: str
    yellow: str
    sky: str
    orange: str


PALETTES = {
    DARK: Palette(
        "#0b0f14", "#e8ebee", "#a3adb8", "#3a4652", "#d55e00", "#f0e442", "#56b4e9", "#e69f00"
    ),
    LIGHT: Palette(
        "#fbfaf7", "#14181c", "#525b64", "#b9c0c7", "#ad3f00", "#6a6200", "#0a5f91", "#8a5600"
    ),
}

# Styles by name, which the theme gives its colour: so they change with it.
GROUND = "$background"
TEXT = "$foreground"
QUIET = "$quiet"
LINE = "$line"
VERMILLION = "$vermillion"
YELLOW = "$yellow"
SKY = "$sky"
ORANGE = "$orange"


def _theme(name: str, of: Palette) -> Theme:
    return Theme(
        name=f"readiness-{name}",
        primary=of.sky,
        secondary=of.quiet,
        accent=of.orange,
        foreground=of.text,
        background=of.ground,
        surface=of.ground,
        panel=of.ground,
        success=of.sky,
        warning=of.yellow,
        error=of.vermillion,
        dark=name == DARK,
        variables={
            "quiet": of.quiet,
            "line": of.line,
            "vermillion": of.vermillion,
            "yellow": of.yellow,
            "sky": of.sky,
            "orange": of.orange,
            "footer-background": of.ground,
            "scrollbar": of.line,
            "scrollbar-background": of.ground,
            "scrollbar-background-hover": of.ground,
            "scrollbar-background-active": of.ground,
            "scrollbar-corner-color": of.ground,
            "block-cursor-background": of.text,
            "block-cursor-foreground": of.ground,
            "block-cursor-text-style": "bold",
            "block-cursor-blurred-background": of.line,
            "block-cursor-blurred-foreground": of.text,
            "input-cursor-background": of.text,
            "input-cursor-foreground": of.ground,
            "input-selection-background": of.line,
        },
    )


THEMES = {name: _theme(name, of) for name, of in PALETTES.items()}


ROLES = {
    "": TEXT,
    "quiet": QUIET,
    "head": f"bold {TEXT}",
    "strong": f"bold {TEXT}",
    "strong quiet": f"bold {QUIET}",
    "alert": f"bold {ORANGE}",
    "overdue": f"bold {VERMILLION}",
    "turnout": f"bold {SKY}",
    "reason": VERMILLION,
    "checks": YELLOW,
    "go": SKY,
    "care": ORANGE,
}
"""Role of a span → its style."""


def in_colour(style: str, variables: Mapping[str, str]) -> str:
    """A style with the colours themselves, by the theme's ``variables``: for what knows no names of
    colours."""
    return re.sub(r"\$(\w+)", lambda name: variables[name[1]], style)


def painted(*spans: Span) -> Content:
    """The spans, each in the style of its role."""
    return Content.assemble(*((text, ROLES[role]) for text, role in spans))


def at_both_ends(left: Sequence[Span], right: str, width: int) -> Content:
    """A line of ``width`` cells: spans on its left, words on its right."""
    gap = " " * max(width - width_of(left) - cells(right) - 1, 1)
    return painted(*left, (gap, ""), (right, ""))


DEMO_HEAD = Content.assemble(" ", (" DEMO ", f"bold reverse {ORANGE}"))


def demo_head(line: Content, width: int | None, ellipsis: str) -> Content:
    """A screen's first line, which says first that this is the demo. Where it gets too long (it may
    wrap: ``width`` None), blanks go first, then what it begins with: the day stands at its end."""
    over = DEMO_HEAD.cell_length + line.cell_length - width if width else 0
    while over > 0 and (gap := max(re.findall(" {2,}", line.plain), key=len, default="")):
        at, less = line.plain.index(gap), min(over, len(gap) - 1)
        line, over = line[:at] + line[at + less :], over - less
    return DEMO_HEAD + (Content(ellipsis) + line[over + len(ellipsis) :] if over > 0 else line)


class Glyphs(NamedTuple):
    """The characters a terminal can show. ``encoding`` is what its text is sent in."""

    encoding: str = "utf-8"
    hold: str = "■"
    to_come: str = "□"
    go: str = "●"
    late: str = "!"
    dot: str = "·"
    arrow: str = "→"
    ellipsis: str = "…"
    rule: str = "─"
    fill: str = "▒"
    claw: tuple[str, str, str, str] = ("╭", "╮", "╰", "╯")
    """Top line's left and right corner, bottom line's left and right corner."""
    shoulder: tuple[str, str, str, str] = ("╭", "╯", "╰", "╮")
    """The step under the toe: left outside and inside, right inside and outside."""
    side: str = "│"
    across: str = "─"
    window: str = "├┤"

    @property
    def ascii_only(self) -> bool:
        return self.hold == "#"

    def text(self, words: object) -> str:
        """People's words made safe for this terminal: no controls, only what it can show."""
        safe = plain(str(words))
        if self.encoding == "utf-8":
            return safe
        return safe.replace("→", self.arrow).encode(self.encoding, "replace").decode(self.encoding)

    def fit(self, words: str, width: int) -> str:
        """The words cut to ``width`` cells, with an ellipsis where something was lost."""
        return cut(words, width, self.ellipsis)

    def padded(self, words: str, width: int) -> str:
        """Somebody's words in exactly ``width`` cells."""
        words = self.fit(self.text(words), width)
        return words + " " * (width - cells(words))

    def sign(self, state: str) -> str:
        """The sign of a bull's state: "reason", "checks", "go", or "care", which is a GO with
        something to ask first."""
        signs = {"reason": self.hold, "checks": self.to_come, "go": self.go}
        return self.go + self.late if state == "care" else signs[state]


_ASCII = Glyphs(
    hold="#",
    to_come="o",
    go="*",
    dot="-",
    arrow="->",
    ellipsis="..",
    rule="-",
    fill="%",
    claw=(".", ".", "'", "'"),
    shoulder=("/", " ", " ", "\\"),
    side="|",
    across="-",
    window="[]",
)


def glyphs_for(encoding: str | None) -> Glyphs:
    """The characters for a terminal whose text is sent in ``encoding`` (None: unknown)."""
    try:
        name = codecs.lookup(encoding or "ascii").name
    except LookupError:
        name = "ascii"
    return Glyphs() if name == "utf-8" else _ASCII._replace(encoding=name)


# ---- what is written large, to be seen across the crush ----------------------------------------

BIG_ROWS, BIG_DIGITS = 3, 6
_LETTERS = {
    "L": ("╷  ", "│  ", "╰─╴"),
    "R": ("╭─╮", "├┬╯", "╵╰╴"),
    "F": ("╭─╴", "├─╴", "╵  "),
    "H": ("╷ ╷", "├─┤", "╵ ╵"),
}
_ASCII_LETTERS = {
    "L": ("|  ", "|  ", "|__"),
    "R": ("|~)", "|_)", "| \\"),
    "F": ("|~~", "|~ ", "|  "),
    "H": ("| |", "|-|", "| |"),
}


def big(foot: str, glyphs: Glyphs) -> list[str]:
    """Three lines that spell LF, RF, LH or RH."""
    letters = _ASCII_LETTERS if glyphs.ascii_only else _LETTERS
    return [" ".join(letters[letter][row] for letter in foot) for row in range(BIG_ROWS)]


def big_tag(tag: str) -> str:
    """The digits at the end of a tag, by which he is called: they are drawn large."""
    end = re.search(r"\d+$", tag, re.ASCII)
    if end is None:
        return ""
    return end[0] if len(end[0]) <= BIG_DIGITS and tag == end[0] else end[0][-SHORT_TAG:]
