"""The keys of a screen: the line of them at its foot, and all of them for the help. Both are made
of its bindings, so that they cannot lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.geometry import Size
from textual.widgets import Static

from readiness.tui.shared.keymap import (
    AS_THEY_ARE,
    Keymap,
    all_keys,
    bindings_of,
    character,
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
    """Keys and what they do, in as many rows as the line may have; whole ones only, and those of
    ``LAST_TO_GO`` before all others."""

    def __init__(self, bindings: Iterable[BindingType]) -> None:
        super().__init__(id="keys")
        self._shown = [each for each in bindings_of(bindings) if each.show]
        self._instead: tuple[tuple[str, str], ...] = ()

    def instead(self, *keys: tuple[str, str]) -> None:
        """Show these keys and their words; none: the screen's own again."""
        if keys != self._instead:
            self._instead = keys
            self.refresh(layout=self.styles.is_auto_height)

    def render(self) -> Content:
        return self.rows(self.size.width, max(self.size.height, 1), self._keymap)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """A second row, where the screen gives it one, only for keys that the first has no room
        for."""
        keys = self._keys(self._keymap)
        return 1 if _cells(keys) <= width else 2

    @property
    def _keymap(self) -> Keymap:
        return program_of(self.screen).keymap_of(self.screen)

    def _keys(self, keymap: Keymap) -> list[tuple[str, str]]:
        keys = [(keymap.now(key), words) for key, words in self._instead]
        shown = map(keymap.shown, self._shown)
        return keys or [(key_words(each), each.description) for each in shown]

    def rows(self, width: int, rows: int, keymap: Keymap = AS_THEY_ARE) -> Content:
        """As many keys as fit into rows of ``width``."""
        last = [keymap.now(key) for key in LAST_TO_GO]
        return in_rows(self._keys(keymap), width, rows, last)


LAST_TO_GO = ("Esc", "?", "/")
"""Keys that leave, help and find: where a screen has not room for all, they stay."""
ENDS, USUAL = "q", 80
"""It ends the program, and stays, too; narrower than that, on a screen that Esc leaves, it is the
first to go."""


def in_rows(
    keys: Sequence[tuple[str, str]], width: int, rows: int, last: Sequence[str] = LAST_TO_GO
) -> Content:
    """As many keys as fit into rows of ``width``, in their order: those of ``last`` before all
    others, then those that come first."""
    names = [key for key, _ in keys]
    ends = width < USUAL and last[0] in names

    def worth(at: int) -> tuple[bool, bool, int]:
        quits = names[at] == ENDS
        return (quits and ends, not quits and names[at] not in last, at)

    chosen: list[int] = []
    for at in sorted(range(len(keys)), key=worth):
        wanted = sorted([*chosen, at])
        if _laid([keys[each] for each in wanted], width, rows) is not None:
            chosen = wanted
    lines = _laid([keys[each] for each in chosen], width, rows) or []
    return Content("\n").join(map(_keys, lines))


def _laid(
    keys: Sequence[tuple[str, str]], width: int, rows: int
) -> list[list[tuple[str, str]]] | None:
    """The keys in rows of ``width``; None where they do not fit."""
    lines: list[list[tuple[str, str]]] = [[]]
    for key in keys:
        if _cells([*lines[-1], key]) > width:
            lines.append([])
        lines[-1].append(key)
    if len(lines) > 1 and len(lines[-1]) == 1:  # none stands alone: help beside quit
        lines[-1].insert(0, lines[-2].pop())
    fits = len(lines) <= rows and all(_cells(line) <= width for line in lines)
    return lines if fits else None


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


def while_typing(bindings: Iterable[Binding]) -> list[Binding]:
    """Those that still do something where text is typed, by the keys that do."""
    found = []
    for binding in bindings:
        keys = [key for key in binding.key.split(",") if not (character(key) or "\n").isprintable()]
        if keys and binding.description:
            found.append(replace(binding, key=",".join(keys), key_display=None))
    return found
