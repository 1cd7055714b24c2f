"""A topic laid out for a terminal, by rich: the command and the screens show the same."""

from __future__ import annotations

import re
from io import StringIO
from textwrap import dedent, wrap
from typing import ClassVar

from rich.console import Console, ConsoleOptions, RenderResult
from rich.markdown import CodeBlock, ListItem, Markdown, MarkdownElement, TableElement
from rich.padding import Padding
from rich.segment import Segment
from rich.table import Table
from rich.text import Text
from rich.theme import Theme

_STYLES = Theme({"markdown.code": "bold"})
_HEADING = re.compile(r"^(#+) (.*)$", re.MULTILINE)
_PROSE = re.compile(r"^(?! {4}|#|```).+(?:\n(?! {4}|#|```).+)*$", re.MULTILINE)
"""Lines of prose after one another: what is typed may go on from one line to the next."""
_INDENT = 2


def topic_text(text: str, width: int, *, colour: bool) -> str:
    """A topic's Markdown as text of ``width`` columns; ``colour``: with bold, for a terminal.
    Without it what is typed stands in quotes."""
    written = StringIO()
    shown = text if colour else _PROSE.sub(_quoted, text)
    Console(
        file=written, width=width, color_system="standard" if colour else None, highlight=False,
        force_terminal=colour, legacy_windows=False, _environ={},
    ).print(Shown(shown))  # fmt: skip
    return "\n".join(line.rstrip() for line in written.getvalue().rstrip().splitlines())


def _quoted(prose: re.Match[str]) -> str:
    return re.sub(r"`([^`]+)`", r"`` `\1` ``", prose[0])


class Shown:
    """What rich paints of a topic's Markdown: headings at the margin, all else a little in."""

    def __init__(self, text: str) -> None:
        self._text = text

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        _, *parts = _HEADING.split(self._text)
        with console.use_theme(_STYLES):
            for level, heading, body in zip(parts[::3], parts[1::3], parts[2::3], strict=True):
                yield Text(heading.upper() if level == "#" else heading, style="bold")
                yield Padding(_Body(body.strip("\n")), (0, 0, 1, _INDENT))


class _Lines(CodeBlock):
    """Lines as they stand. Where commands do not fit, what one does (behind two blanks) stands
    beneath it; a line that begins with a blank goes on with that."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        lines, room = dedent(str(self.text)).rstrip().splitlines(), options.max_width - _INDENT
        if not lines[0].startswith("readiness") or max(map(len, lines)) <= room:
            yield Padding(Text("\n".join(lines), overflow="fold"), (0, 0, 0, _INDENT))
            return
        for line in lines:
            command, _, words = re.sub(r"\s{2,}", "\0", line, count=1).partition("\0")
            if command:
                folded = wrap(command, room, subsequent_indent="    ", break_on_hyphens=False)
                yield Padding(Text("\n".join(folded), style="bold"), (0, 0, 0, _INDENT))
            if words:
                yield Padding(Text(words), (0, 0, 0, _INDENT * 4))


class _Item(ListItem):
    """A bullet that every terminal shows."""

    def render_bullet(self, console: Console, options: ConsoleOptions) -> RenderResult:
        inner = options.update(width=options.max_width - _INDENT)
        for at, line in enumerate(console.render_lines(self.elements, inner, style=self.style)):
            yield Segment("  " if at else "- ")
            yield from line
            yield Segment("\n")


class _Rows(TableElement):
    """A table without frames, in every terminal the same."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        assert self.header is not None and self.header.row is not None and self.body is not None
        table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="bold")
        for cell in self.header.row.cells:
            table.add_column(cell.content, overflow="fold")
        for row in self.body.rows:
            table.add_row(*(cell.content for cell in row.cells))
        yield table


class _Body(Markdown):
    elements: ClassVar[dict[str, type[MarkdownElement]]] = {
        **Markdown.elements,
        "fence": _Lines,
        "code_block": _Lines,
        "list_item_open": _Item,
        "table_open": _Rows,
    }
