"""Keys that mean the same wherever they are asked for."""

from __future__ import annotations

from readiness.crush.pad import Key
from readiness.entry import FEET

FOOT_KEYS = {str(number): foot for number, foot in enumerate(FEET, start=1)}
"""As the feet stand on the screen: left and right fore, left and right hind."""

NOWHERE = ("", "")


def feet_keys() -> list[Key]:
    return [Key(key, foot) for key, foot in FOOT_KEYS.items()]


def is_digit(key: str) -> bool:
    return len(key) == 1 and key.isascii() and key.isdigit()
