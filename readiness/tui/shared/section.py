"""A part of the Bull screen with a heading: it draws itself for whatever width it gets."""

from __future__ import annotations

from collections.abc import Callable

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from readiness.tui.shared.looks import LINE, TEXT, Glyphs

Draw = Callable[[int], Content]


class Section(Widget):
    """``draw`` is asked for the content at a width in cells."""

    def __init__(self, heading: str, glyphs: Glyphs, *, id: str) -> None:
        super().__init__(id=id)
        self._heading = heading
        self._glyphs = glyphs
        self._draw: Draw = lambda width: Content("")
        self._drawn: dict[int, Content] = {}

    def set(self, draw: Draw) -> None:
        """Draw this from now on."""
        self._draw = draw
        self._drawn = {}
        self.refresh(layout=True)

    def _at(self, width: int) -> Content:
        """The content for a width, drawn once."""
        if width not in self._drawn:
            rule = self._glyphs.rule * max(width - len(self._heading) - 1, 0)
            head = Content.assemble((f"{self._heading} ", f"bold {TEXT}"), (rule, LINE))
            self._drawn[width] = Content("\n").join([head, self._draw(width)])
        return self._drawn[width]

    def render(self) -> Content:
        return self._at(self.content_size.width)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(self._at(width).get_height({}, width), 1)
