"""Keys that mean the same wherever they are asked for."""

from __future__ import annotations

from readiness.crush.pad import Key
from readiness.crush.slip import Slip
from readiness.trade.feet import FEET

FOOT_KEYS = {str(number): foot for number, foot in enumerate(FEET, start=1)}
"""As the feet stand on the screen: left and right fore, left and right hind."""

NOWHERE = ("", "")
FULL = "No more digits: Enter takes the number, Backspace the last digit away."


def feet_keys() -> list[Key]:
    return [Key(key, foot) for key, foot in FOOT_KEYS.items()]


def is_digit(key: str) -> bool:
    return len(key) == 1 and key.isascii() and key.isdigit()


def refused(slip: Slip) -> str:
    """Why the book would not take what is said, such as a number out of range; empty where it
    would."""
    from readiness.entries.validate import validate  # late: only a number that is typed needs it

    problems = (problem for content in slip.contents for problem in validate(content)[1])
    return next((f"{problem.text}." for problem in problems), "")
