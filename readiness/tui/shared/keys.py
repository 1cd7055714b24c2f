"""The line of keys at the foot of a screen, made from its bindings so that it cannot lie."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from readiness.tui.shared.looks import QUIET, TEXT

_SHOWN = {"enter": "Enter", "slash": "/", "question_mark": "?", "escape": "Esc"}


def key_words(binding: Binding) -> str:
    """The key as it stands on the keyboard."""
    if binding.key_display:
        return binding.key_display
    first = binding.key.split(",")[0]
    return _SHOWN.get(first, first)


def all_keys(binding: Binding) -> str:
    """Every key that does it: "n, right"."""
    return ", ".join(_SHOWN.get(key, key) for key in binding.key.split(","))


def long_words(binding: Binding) -> str:
    """What the key does, said in full."""
    return binding.tooltip or binding.description


def bindings_of(found: Iterable[BindingType]) -> list[Binding]:
    """Only full bindings: ours all are."""
    return [binding for binding in found if isinstance(binding, Binding)]


class KeyLine(Static):
    """Keys and what they do; whole ones only, the last two (help, quit) always."""

    def __init__(self, bindings: Iterable[BindingType]) -> None:
        super().__init__(id="keys")
        self._keys = [binding for binding in bindings_of(bindings) if binding.show]
        self._instead: tuple[tuple[str, str], ...] = ()

    def instead(self, *keys: tuple[str, str]) -> None:
        """Show these keys and their words; none: the screen's own again."""
        if keys != self._instead:
            self._instead = keys
            self.refresh()

    def render(self) -> Content:
        if not self._instead:
            return key_line(self._keys, self.size.width)
        return _line(self._instead, self.size.width)


def key_line(bindings: list[Binding], width: int) -> Content:
    """As many keys as fit into ``width``, the last two always."""
    return _line([(key_words(binding), binding.description) for binding in bindings], width)


def _line(keys: Sequence[tuple[str, str]], width: int) -> Content:
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
