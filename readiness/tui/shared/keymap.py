"""Keys as a person's settings move them: on one screen, another key for what one did there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from textual.binding import Binding, BindingType
from textual.keys import REPLACED_KEYS, _character_to_key, key_to_character

from readiness.rules.where import Where, nearest
from readiness.settings.settings import FREE, FUNCTION_KEYS

_SHOWN = {
    "enter": "Enter",
    "escape": "Esc",
    "pagedown": "page down",
    "pageup": "page up",
    "tab": "Tab",
}


def key_words(binding: Binding) -> str:
    """The key as it stands on the keyboard."""
    if binding.key_display:
        return binding.key_display
    return key_name(binding.key.split(",")[0])


def key_name(key: str) -> str:
    """A key of textual's as it stands on the keyboard: "/", "Enter", "F2"."""
    sign = character(key)
    if sign is not None and sign.isprintable() and not sign.isspace():
        return sign
    return _SHOWN.get(key, key.upper() if key in FUNCTION_KEYS else key)


def character(key: str) -> str | None:
    """What a key of textual's types; None for one that types nothing."""
    return key_to_character(REPLACED_KEYS.get(key, key))


def all_keys(binding: Binding) -> str:
    """Every key that does it: "n, right"."""
    return ", ".join(map(key_name, binding.key.split(",")))


def long_words(binding: Binding) -> str:
    """What the key does, said in full."""
    return binding.tooltip or binding.description


def bindings_of(found: Iterable[BindingType]) -> list[Binding]:
    """Only full bindings: ours all are."""
    return [binding for binding in found if isinstance(binding, Binding)]


# ---- keys that are moved -------------------------------------------------------------------------

HELP_TOO = "f1"
"""Help everywhere, also where ? is typed as text."""
NAMES = {"esc": "escape"}
STAY = (
    HELP_TOO, "ctrl+c", "up", "down", "left", "right", "space", "pageup", "pagedown",
    *map(str, range(10)),
)  # fmt: skip
"""Keys that do the same everywhere, move about, or choose what stands there by its number."""


@dataclass(frozen=True, slots=True)
class Keymap:
    """``moved``: the key of the program → the one pressed for it, as textual names them.
    ``both``: the old one still does it, too."""

    moved: Mapping[str, str] = field(default_factory=dict)
    both: bool = False

    def meant(self, key: str) -> str | None:
        """The program's key that this one stands for; None where what it did was moved away."""
        for old, new in self.moved.items():
            if key == new:
                return old
        return None if key in self.moved and not self.both else key

    def now(self, key: str) -> str:
        """What does it now: of a key as it stands on the keyboard, the same or another."""
        other = None if self.both else self.moved.get(named(key))
        return key if other is None else key_name(other)

    def shown(self, binding: Binding) -> Binding:
        """The binding, named by the keys that do it now."""
        before = binding.key.split(",")
        keys = [key for key in before if key != HELP_TOO or key not in self.moved.values()]
        if not self.moved.keys() & set(keys):
            return binding if keys == before else replace(binding, key=",".join(keys))
        now = ",".join(self.moved.get(key, key) for key in keys)
        return replace(binding, key=now, key_display=None)


AS_THEY_ARE = Keymap()


def keymap(
    moves: Mapping[str, tuple[str, Where]], bindings: Iterable[Binding], *, crush: bool
) -> Keymap:
    """The keys of a screen with these ``bindings``, of which ``moves`` (old key → new, and where
    that is said) moves some. In the ``crush`` any letter or sign may answer a question: there only
    function keys are free. Raises ``RulesError`` for a key that does nothing there or must stay,
    and for one that is taken."""
    does = {key: each for each in bindings_of(bindings) for key in each.key.split(",")}
    moved: dict[str, str] = {}
    for key, (other, where) in moves.items():
        old, new = named(key), named(other)
        if old in STAY:
            raise where.wrong(key, "this key stays as it is", "Take the line out.")
        if old not in does:
            known = [key_name(name) for name in does if name not in STAY]
            what = "this key does nothing there"
            if crush and len(key) == 1:
                what = "what answers a question stays, and moves nowhere"
            raise where.wrong(key, what, nearest(key, known))
        if crush and len(other) == 1:
            raise where.wrong(key, f"{other} may be an answer there", f"Give it {FREE}.")
        moved[old] = new
    for key, (other, where) in moves.items():
        new = named(other)
        if new in does and does[new] is not does[named(key)] and (crush or new not in moved):
            what = f"{other} is taken: {long_words(does[new])}"
            too = "" if new in STAY else ", or move that one, too"
            raise where.wrong(key, what, f"Give it another key{too}.")
        if list(moved.values()).count(new) > 1:
            raise where.wrong(key, f"{other} is given to two keys", "Give it another key.")
    return Keymap(moved, both=crush)


def named(key: str) -> str:
    """A key as textual names it: "slash" for /."""
    if len(key) != 1:
        return NAMES.get(key.casefold(), key.casefold())
    return key if key.isalnum() else _character_to_key(key)
