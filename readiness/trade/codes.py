"""Finding codes: the short codes of the ICAR Claw Health Atlas (2015, 2nd ed. 2020), an
international standard of recording. The definitions are in our own words.

``claw`` says where a finding of that code belongs: on a claw (outer, inner or both), on the skin of
the foot as a whole, or (XX) anywhere.
"""

from __future__ import annotations

from typing import NamedTuple

from readiness.trade.feet import CLAWS, HORN_CLAWS


class Code(NamedTuple):
    """One finding: its code, its name in running text, where it belongs, what it is."""

    code: str
    name: str
    claw: str
    meaning: str


CODES = {
    row[0]: Code(*row)
    for row in (
        ("AC", "asymmetric claws", "claw",
         "The two claws of a foot differ clearly in length, width or height."),
        ("CC", "corkscrew claw", "claw",
         "A claw turns along its length, so that its wall rolls under and bears weight."),
        ("CD", "concave dorsal wall", "claw",
         "The front of the wall is dished instead of straight."),
        ("SC", "scissor claws", "claw", "The tips of the two claws cross over each other."),
        ("HHE", "heel horn erosion", "claw",
         "Heel horn is pitted or furrowed, in bad cases to a deep V."),
        ("DS", "double sole", "claw",
         "Two or more layers of sole lie one over the other with a gap between them."),
        ("HFV", "vertical horn fissure", "claw", "A crack runs down the wall from the coronet."),
        ("HFH", "horizontal horn fissure", "claw",
         "A crack runs across the wall, in line with the coronet."),
        ("HFA", "axial horn fissure", "claw",
         "A crack runs down the wall on the side towards the other claw."),
        ("WLF", "white line fissure", "claw",
         "The white line has parted and may hold dirt, without pus."),
        ("WLA", "white line abscess", "claw",
         "Pus has formed under horn that has parted at the white line."),
        ("SH", "sole haemorrhage", "claw",
         "Blood shows in the horn of the sole or white line, spread or in one place."),
        ("SU", "sole ulcer", "claw",
         "The sole horn is broken through to living tissue, mostly where sole and heel meet."),
        ("BU", "bulb ulcer", "claw", "The horn is broken through to living tissue at the bulb."),
        ("TU", "toe ulcer", "claw", "The horn is broken through to living tissue at the toe."),
        ("TN", "toe necrosis", "claw",
         "Tissue at the toe is dead, often down to the bone, with a foul smell."),
        ("TS", "thin sole", "claw", "The sole gives under finger pressure."),
        ("DD", "digital dermatitis", "skin",
         "The skin is inflamed and raw, or has thickened after it, mostly above the heels; "
         "the stage says how far."),
        ("ID", "interdigital dermatitis", "skin",
         "The skin between the claws is mildly inflamed, greyish and moist, without a deep crack."),
        ("IP", "interdigital phlegmon (foul)", "skin",
         "The foot is swollen evenly above the claws, with a smelly crack between them, and comes "
         "on suddenly."),
        ("IH", "interdigital hyperplasia", "skin",
         "A firm growth of skin stands between the claws."),
        ("SW", "swelling of coronet or bulb", "skin",
         "One side of the foot is swollen at the coronet or the bulb."),
        ("XX", "other finding", "any", "Something else; the note says what."),
    )
}  # fmt: skip

THIN_SOLE = "TS"
"""What a sole measured thin is."""

STAGED = "DD"
"""The one code that holds by its stage and not by its severity."""

UNNAMED = "XX"
"""What has no name of its own: another thing each time it is found."""
SOUND_STAGE, SMALLEST_STAGE = "M0", "M1"
STAGES = (SOUND_STAGE, SMALLEST_STAGE, "M2", "M3", "M4", "M4.1")
STAGE_NAMES = {
    "M0": "no lesion",
    "M1": "active, small",
    "M2": "active, large",
    "M3": "healing, scab",
    "M4": "chronic",
    "M4.1": "chronic, new spot",
}
"""Döpfer et al.; Berry et al. 2012: the stages of digital dermatitis, in our own words. From which
size an active one is large, the rule ``stage.m2_from`` says."""

SEVERITIES = {1: "slight", 2: "moderate", 3: "severe"}


def claw_words(code: str) -> tuple[str, ...]:
    """The claw words that a finding of this code may carry."""
    return {"claw": HORN_CLAWS, "skin": ("skin",), "any": CLAWS}[CODES[code].claw]


def severity_words(severity: int | None) -> str:
    """How bad, in a word; one that nobody said is not a slight one."""
    return SEVERITIES[severity] if severity else "severity not said"


def finding_words(code: str, severity: int | None = None, stage: str | None = None) -> str:
    """The finding in words: "sole ulcer, moderate", "digital dermatitis M2, slight"."""
    name = f"{CODES[code].name} {stage}" if stage else CODES[code].name
    return f"{name}, {SEVERITIES[severity]}" if severity else name
