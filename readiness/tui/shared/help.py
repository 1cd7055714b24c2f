"""Help: every key of the screen one is on, what the marks mean, what the program does not do."""

from __future__ import annotations

from collections.abc import Iterable

from textual.binding import BindingType
from textual.content import Content

from readiness.tui.shared.dialogs import Paper
from readiness.tui.shared.keys import all_keys, bindings_of, long_words
from readiness.tui.shared.looks import QUIET, ROLES, TEXT, Glyphs

_STATES = (
    ("reason", "HOLD", " for a reason that is true of him today"),
    ("checks", "HOLD", " only because checks are still to come"),
    ("go", "GO", "   nothing is outstanding"),
    ("care", "GO", "  the same, but there is something to ask the vet or to watch first"),
)
_NOTES = (
    "could go: the first day on which he could go if all is done and every check passes; spare: "
    "the days to spare from then to his group's turnout, with a minus where it is too late.",
    "next is the check whose day comes first, by is that day: the advised one while that is to "
    "come, else the last. What is overdue carries an exclamation mark.",
    "This program informs. It never says what ails a bull, names no medicine, and waiting "
    "clears no bull: somebody must look. The vet decides.",
    "Work on a bull with a second person, in a crush that is strong enough for him, with a way "
    "out that is clear; do not enter a pen where a bull is loose. HSE's AIS35 and your own "
    "country's rules say more.",
)


def help_paper(
    bindings: Iterable[BindingType], glyphs: Glyphs, more: Iterable[tuple[str, str]] = ()
) -> Paper:
    """The help over a screen with these bindings, and ``more`` keys before them."""
    parts: list[tuple[str, str]] = []
    for state, word, words in _STATES:
        parts += [(f"{glyphs.sign(state)} {word}", f"bold {ROLES[state]}"), (f"{words}\n", TEXT)]
    parts.append(("\n", TEXT))
    for keys, words in [*more, *key_rows(bindings)]:
        parts += [(f"{keys:>10}  ", f"bold {TEXT}"), (f"{words}\n", TEXT)]
    for note in _NOTES:
        parts += [("\n", ""), (f"{note}\n", QUIET)]
    return Paper("Help", Content.assemble(*parts))


def key_rows(bindings: Iterable[BindingType]) -> list[tuple[str, str]]:
    """(keys, what they do), each action once."""
    rows: dict[str, tuple[str, str]] = {}
    for binding in bindings_of(bindings):
        if binding.action not in rows:
            rows[binding.action] = (all_keys(binding), long_words(binding))
    return list(rows.values())
