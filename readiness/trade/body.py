"""The parts of a bull, beside his feet, that may keep him from his work.

What is wrong there is for the vet to say: the program keeps what was seen and asks for his look.
"""

from __future__ import annotations

PARTS = {
    "penis": "penis",
    "sheath": "sheath",
    "scrotum": "scrotum",
    "eyes": "eyes",
    "mouth": "mouth",
    "joint": "joint",
    "back": "back",
    "other": "body",
}
"""Part → its name in running text."""

JOINT = "joint"
"""The one part of which a limb is said."""

WALKED_ON = (JOINT, "back")
"""Parts that change how he walks: while one is wrong no sound walk counts."""

STATES = {"wrong": "wrong", "watch": "to watch", "right": "right"}


ABOUT = {
    "lame": "how he walks",
    "foot": "the foot",
    "body": "the body",
    "illness": "his illness",
    "other": "him",
}
"""What a vet's look is about → the words after "look at"."""

OUTCOMES = {"fit": "fit", "unfit": "unfit", "again": "to be looked at again"}
"""What a vet says after a look → in words."""


def part_words(part: str, limb: str | None) -> str:
    """The part in words: "joint LH", "eyes"."""
    return f"{PARTS[part]} {limb}" if limb else PARTS[part]
