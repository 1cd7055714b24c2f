"""The keys of the Crush screen's own, in the order in which the line of keys has room for them."""

from __future__ import annotations

from textual.binding import Binding, BindingType


def _own(key: str, words: str, more: str = "", named: str = "") -> Binding:
    """A key of the screen's own; without more words it does not stand in the line of keys."""
    shown = key if named else None
    return Binding(
        named or key, f"own('{key}')", words, show=bool(more), key_display=shown, tooltip=more
    )


BACKSPACE = ("Backspace", "takes back the last key, as often as you like")
"""Wherever something is said."""
BINDINGS: list[BindingType] = [
    _own("enter", "save", "save what is said of him; the next bull comes"),
    _own("escape", "board", "back to the board; nothing is lost"),
    _own("m", "note", "a note in your own words"),
    _own("g", "group", "a whole group or farm comes next"),
    _own("n", "next", "let the others go before him"),
    _own("/", "bull", "another bull, by tag or name", named="slash"),
    _own("u", "undo", "take back what was last saved, to say it again"),
    _own("tab", "list", "who is done, who waits, who is left over; a key there brings one"),
    _own("y", "not him", "what was said is another bull's: give it to him"),
    _own("v", "vet", "what the vet says, and other forms: treatment, own check, out, his card"),
    _own(
        "*", "mend", "his feet as drawn: another foot or claw, how bad, the day", named="asterisk"
    ),
    _own("l", "line", "type it as one line of shorthand"),
    _own("up", "the last one in the race comes first"),
    _own("x", "he does not come today (pressed again)"),
    _own("e", "what each code means, with its source"),
]
