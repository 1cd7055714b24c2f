"""Pads to press keys on: bulls as they stand before anything is said of them, and keys in a row."""

from __future__ import annotations

from datetime import date

from readiness.crush.before import Before, Open, grades
from readiness.crush.pad import Key, Pad
from readiness.crush.slip import Slip
from readiness.crush.top import pad_for
from readiness.rules.load import load_rules

RULES = load_rules(None).for_farm(None)
ON = date(2026, 4, 3)
SLIP = Slip("00417", ON, "A. Trimmer")
NAMES = {"Enter": "enter", "Esc": "escape", ",": ","}


def found(foot: str, claw: str, code: str, severity: int | None = 2, *, holds: bool = True) -> Open:
    """A finding that is open; one of digital dermatitis is told by its stage."""
    return Open(foot, claw, code, severity, code == "DD", holds, f"{code} {foot} {claw}")


def stands(
    *open_: Open,
    blocks: tuple[tuple[str, str], ...] = (),
    walk: str = "gb0-3",
    condition: str = "five",
) -> Before:
    scales = RULES.mobility[walk], RULES.condition[condition]
    return Before(*scales, open=open_, blocks=blocks, grades=grades(RULES))


def new_pad(before: Before | None = None) -> Pad:
    return pad_for(before or stands(), SLIP)


def pressed(pad: Pad, keys: str) -> Pad:
    """The pad after these keys, parted by spaces; each has to mean something where it is
    pressed."""
    for key in keys.split():
        after = pad.press(key)
        assert after is not None, f"{key} means nothing at: {pad.question}"
        pad = after
    return pad


def line(pad: Pad) -> str:
    return pad.slip.line(pad.before.scales)


def said(keys: str, before: Before | None = None) -> str:
    """What these keys say of a bull, as shorthand."""
    return line(pressed(new_pad(before), keys))


def spelled(shown: Key) -> list[str]:
    """The keys that one shown key stands for: "1-4" is four, "su" is typed letter by letter and
    its first letter is meant."""
    name = shown.key
    if name in NAMES:
        return [NAMES[name]]
    first, dash, last = name.partition("-")
    if dash and first.isdigit() and last.isdigit():
        return [str(number) for number in range(int(first), int(last) + 1)]
    return [name[0]]
