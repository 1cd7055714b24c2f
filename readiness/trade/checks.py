"""The names of the built-in checks, in the order in which they are told."""

from __future__ import annotations

CHECKS = (
    "feet", "lift", "look", "clear", "block-off", "block-look", "wrap-off", "walk-again",
    "mobility", "condition-again", "condition", "vet-exam", "vet-look", "vet-again",
    "quarantine", "age",
)  # fmt: skip
"""A farm's own checks come after these and may not take their names."""

RESULTS = (("pass", ("done", "passed", "clear")), ("fail", ("failed",)))
"""What people call the results of a test, the word of a line of shorthand first."""

LIFTING = frozenset(("feet", "lift", "look", "clear", "block-off", "block-look", "wrap-off"))
"""Those for which a foot has to be lifted."""

SHORT = {"feet": "feet", "mobility": "walk", "condition": "condition", "vet-exam": "vet exam"}
"""What a bull may go out without, in a word or two; a farm's own checks go by their names."""

AGEING = frozenset(SHORT)
"""Those that count only for so many days: what was done may be too old by turnout."""
