"""Feet, claws and zones.

The zones follow the International Lameness Committee's numbering (Kuopio 2008; standing: partly
from memory); their descriptions here are our own.
"""

from __future__ import annotations

from collections.abc import Iterable

from readiness.trade.words import list_words

FEET = ("LF", "RF", "LH", "RH")
FOOT_NAMES = {"LF": "left fore", "RF": "right fore", "LH": "left hind", "RH": "right hind"}

AS_HE_STANDS = "Feet as he stands on them, seen from above through the foot, toes forward"
"""What has to be said beside feet that are drawn with the outer claws on the outside: from below,
left and right would change places."""

CLAWS = ("outer", "inner", "both", "skin")
CLAW_NAMES = {"outer": "outer claw", "inner": "inner claw", "both": "both claws", "skin": "skin"}
# A block, and the horn under it, is on one claw.
BLOCK_CLAWS = ("outer", "inner")
HORN_CLAWS = ("outer", "inner", "both")

ZONES = {
    0: "skin between the claws",
    1: "white line at the toe",
    2: "white line along the outer edge",
    3: "white line where it meets the heel",
    4: "where sole and heel meet",
    5: "point of the sole",
    6: "heel",
    7: "front of the wall",
    8: "side of the wall away from the cleft",
    9: "skin along the coronet",
    10: "cleft at the heel",
    11: "side of the wall in the cleft, at the front",
    12: "side of the wall in the cleft, at the back",
}

SKIN_ZONES = (0, 6, 9, 10)
"""Where skin is, by the words above. Project choice: a digit for how bad it is is not to be taken
for a zone of the horn."""

ACT_DONE = {
    "trim": "trimmed",
    "pare": "pared",
    "dress": "dressed",
    "wrap": "wrapped",
    "unwrap": "unwrapped",
}
ACTS = tuple(ACT_DONE)

MEASURES = {"wall_mm": "wall", "sole_mm": "sole", "groove_mm": "groove"}


def partner(claw: str) -> str:
    """The other claw of the foot; of "both" and "skin" the word itself."""
    return {"outer": "inner", "inner": "outer"}.get(claw, claw)


def claws_overlap(one: str, other: str) -> bool:
    """Whether two claw words mean the same place at least in part: "both" is outer and inner."""
    horn = ("outer", "inner")
    return one == other or (one == "both" and other in horn) or (other == "both" and one in horn)


def feet_words(feet: Iterable[str]) -> str:
    """The feet in a row: "all four feet", "LF", "LF and RH", "LF, RF and RH"."""
    names = list(feet)
    if set(names) == set(FEET):
        return "all four feet"
    return list_words(names)


def spot_words(foot: str, claw: str | None) -> str:
    """The place: "RH outer", "RH both claws", "RH skin"; the foot alone where no claw is said."""
    if not claw:
        return foot
    return f"{foot} both claws" if claw == "both" else f"{foot} {claw}"
