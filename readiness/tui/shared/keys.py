"""The keys of a screen: the line of them at its foot, and all of them for the help. Both are made
of its bindings, so that they cannot lie."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from readiness.tui.shared.keymap import all_keys, bindings_of, key_words, long_words
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
    """Keys and what they do; whole ones only, the last two (help, quit) always."""

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
        shown = map(keymap.shown, self._shown)
        keys = [(keymap.now(key), words) for key, words in self._instead]
        keys = keys or [(key_words(each), each.description) for each in shown]
        return _line(keys, self.size.width)


def _line(keys: Sequence[tuple[str, str]], width: int) -> Content:
    """As many keys as fit into ``width``, the last two always."""
    first, last = keys[:-2], keys[-2:]
    room = width - sum(_length(*key) for key in last)
    kept = []
    for pair in first:
        room -= _length(*pair)
        if room < 0:
            break
        kept.append(pair)
    parts: list[tuple[str, str]] = []
    for key, words in [*kept, *last]:
        parts += [(f" {key}", f"bold {TEXT}"), (f" {words} ", QUIET)]
    return Content.assemble(*parts)


def _length(key: str, words: str) -> int:
    return len(key) + len(words) + 3


# ---- every key, for the help ---------------------------------------------------------------------


def key_rows(bindings: Iterable[BindingType]) -> list[tuple[str, str]]:
    """(keys, what they do), each action once."""
    rows: dict[str, tuple[str, str]] = {}
    for binding in bindings_of(bindings):
        if binding.action not in rows:
            rows[binding.action] = (all_keys(binding), long_words(binding))
    return list(rows.values())
