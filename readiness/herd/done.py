"""What was done on a bull on one day: whether he has been through the crush, which feet were in
hand, and which feet he is still asked for.

Pure: entries and an assessment in, plain frozen values out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from readiness.engine.results import Assessment, Check
from readiness.entries.entry import Entry, from_roster
from readiness.herd.selection import WEEK
from readiness.system.grouped import grouped
from readiness.trade.checks import LIFTING
from readiness.trade.feet import FEET
from readiness.trade.words import list_words

_WORDS = {
    "block-on": "block on",
    "block-off": "block off",
    "mobility": "walked",
    "condition": "condition",
    "weight": "weighed",
    "vet-exam": "examined by the vet",
}
IN_HAND = ("feet", "block-on", "block-off", "mobility")
THROUGH = (*IN_HAND, "vet-exam")
"""A bull of whom one of these was said has been through; to be weighed or scored alone is not. By
the vet's examination alone he is that only where nothing else is due on him."""


@dataclass(frozen=True, slots=True)
class Done:
    """``kinds``: of what was said, each once, in the order said. ``lifted``, ``refused``: the feet
    that were in hand, and those that would not be lifted."""

    kinds: tuple[str, ...] = ()
    lifted: frozenset[str] = frozenset()
    refused: frozenset[str] = frozenset()

    @property
    def through(self) -> bool:
        return any(kind in THROUGH for kind in self.kinds)

    @property
    def in_hand(self) -> bool:
        """Whether he was lifted or walked, or had a block fitted or taken off."""
        return any(kind in IN_HAND for kind in self.kinds)

    @property
    def words(self) -> str:
        """ "lifted LF and RF, RH would not lift, walked"."""
        parts = [f"lifted {feet_words(self.lifted)}"] if self.lifted else []
        parts += [f"{list_words(_in_order(self.refused))} would not lift"] if self.refused else []
        return ", ".join([*parts, *(_WORDS[kind] for kind in self.kinds if kind in _WORDS)])

    def and_then(self, said: Iterable[Mapping[str, Any]]) -> Done:
        """With these contents said, too."""
        contents = list(said)
        lifted = {foot for each in contents for foot in each.get("lifted", ())}
        refused = {foot for each in contents for foot in each.get("refused", ())}
        lifted |= self.lifted
        kinds = dict.fromkeys((*self.kinds, *(each["kind"] for each in contents)))
        return Done(tuple(kinds), frozenset(lifted), frozenset((refused | self.refused) - lifted))


def done_on(entries: Iterable[Entry], day: int) -> dict[str, Done]:
    """Of each bull who has been through on this day (an ordinal) what was done, by his key, in the
    order of the first thing said. ``entries``: those that stand; a roster's count for nothing."""
    said = (entry for entry in entries if entry.day == day and not from_roster(entry))
    found = grouped((entry for entry in said if entry.bull), lambda entry: entry.bull)
    done = {key: Done().and_then(e.body for e in told) for key, told in found.items()}
    return {key: each for key, each in done.items() if each.through}


def feet_words(feet: Iterable[str]) -> str:
    """ "all four", or "LF and RF"."""
    named = _in_order(feet)
    return "all four" if len(named) == len(FEET) else list_words(named)


def _in_order(feet: Iterable[str]) -> list[str]:
    there = set(feet)
    return [foot for foot in FEET if foot in there]


# ---- what is asked of him ------------------------------------------------------------------------


def asked_today(bull: Assessment, on: int, *, whenever: bool = False) -> list[Check]:
    """The checks that may be done today and are to be done within the week, as the board says it
    (``whenever``: or later), but for the vet's own."""
    return [
        check
        for check in bull.outstanding
        if check.who != "vet"
        and check.not_before <= on
        and (whenever or check.plan_by <= on + WEEK)
    ]


def feet_asked(check: Check) -> tuple[str, ...]:
    """The feet that a check asks to be lifted."""
    if check.check not in LIFTING:
        return ()
    return check.feet or ((check.foot,) if check.foot else ())


def feet_left(bull: Assessment, on: int, done: Done, *, whenever: bool = False) -> list[str]:
    """The feet that he is asked for and that nobody had in hand: whoever walked past with them has
    not been through. One that would not be lifted is not among them: it was tried."""
    checks = asked_today(bull, on, whenever=whenever)
    asked = {foot for check in checks for foot in feet_asked(check)}
    return _in_order(asked - done.lifted - done.refused)
