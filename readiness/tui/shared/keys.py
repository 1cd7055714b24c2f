"""The keys of a screen: the line of them at its foot, and all of them for the help. Both are made
of its bindings, so that they cannot lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from readiness.tui.shared.keymap import (
    AS_THEY_ARE,
    Keymap,
    all_keys,
    bindings_of,
    key_words,
    long_words,
)
from readiness.tui.shared.looks import QUIET, TEXT
from readiness.tui.shared.program import program_of


def numbered(action: str, named: Mapping[str, str], words: str) -> list[BindingType]:
    """A digit for each name, which does ``action`` with it and says so in the words beside it; in
    the line of keys the digits stand together, with ``words``."""
    return [
        Binding(
            str(number),
            f"{action}('{name}')",
            words,
            show=number == 1,
            key_display=f"1-{len(named)}" if number == 1 else None,
            tooltip=said,
        )
        for number, (name, said) in enumerate(named.items(), start=1)
    ]


class KeyLine(Static):
    """Keys and what they do, in as many rows as the line is high; whole ones only, the last two
    (help, quit) always."""

    def __init__(self, bindings: Iterable[BindingType]) -> None:
        super().__init__(id="keys")
        self._shown = [each for each in bindings_of(bindings) if each.show]
        self._instead: tuple[tuple[str, str], ...] = ()

    def instead(self, *keys: tuple[str, str]) -> None:
        """Show these keys and their words; none: the screen's own again."""
        if keys != self._instead:
            self._instead = keys
            self.refresh()

    def render(self) -> Content:
        keymap = program_of(self.screen).keymap_of(self.screen)
        return self.rows(self.size.width, max(self.size.height, 1), keymap)

    def rows(self, width: int, rows: int, keymap: Keymap = AS_THEY_ARE) -> Content:
        """As many keys as fit into rows of ``width``."""
        shown = map(keymap.shown, self._shown)
        keys = [(keymap.now(key), words) for key, words in self._instead]
        keys = keys or [(key_words(each), each.description) for each in shown]
        return in_rows(keys, width, rows)


def in_rows(keys: Sequence[tuple[str, str]], width: int, rows: int) -> Content:
    """As many keys as fit into rows of ``width``, the last two always."""
    first, last = list(keys[:-2]), list(keys[-2:])
    lines: list[list[tuple[str, str]]] = []
    for row in range(1, rows + 1):
        line: list[tuple[str, str]] = []
        ending = last if row == rows else []
        while first and _cells([*line, first[0], *ending]) <= width:
            line.append(first.pop(0))
        if not first and _cells([*line, *last]) <= width:
            lines.append([*line, *last])
            break
        lines.append([*line, *ending])
    return Content("\n").join(map(_keys, lines))


def _keys(keys: Sequence[tuple[str, str]]) -> Content:
    parts: list[tuple[str, str]] = []
    for key, words in keys:
        parts += [(f" {key}", f"bold {TEXT}"), (f" {words} ", QUIET)]
    return Content.assemble(*parts)


def _cells(keys: Iterable[tuple[str, str]]) -> int:
    return sum(len(key) + len(words) + 3 for key, words in keys)


# ---- every key, for the help ---------------------------------------------------------------------


def each_once(rows: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """Each key only where it first stands: what a screen asks goes before its own keys."""
    seen: set[str] = set()
    for keys, words in rows:
        new = [key for key in keys.split(", ") if key not in seen]
        seen.update(new)
        if new:
            yield ", ".join(new), words


def key_rows(bindings: Iterable[BindingType]) -> list[tuple[str, str]]:
    """(keys, what they do), each action once."""
    rows: dict[str, tuple[str, str]] = {}
    for binding in bindings_of(bindings):
        if binding.action not in rows:
            rows[binding.action] = (all_keys(binding), long_words(binding))
    return list(rows.values())
