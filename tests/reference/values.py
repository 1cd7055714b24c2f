"""The default values of the rules and the findings table.

Typed here a second time on purpose: the reference must not read the rules file it helps to test.
Days unless said otherwise; standing and sources are in the rules file.
"""

from __future__ import annotations

from typing import Any, NamedTuple

FEET = ("LF", "RF", "LH", "RH")

RULES: dict[str, Any] = {
    "feet.oldest": 120,
    "feet.due": 7,
    "feet.advised": 56,
    "trim.settle": 2,
    "lame.lift": 2,
    "lame.lift_worst": 1,
    "lame.long": 14,
    "look.slack": 0.25,
    "look.farmer": 3,
    "clear.after_open": 7,
    "block.least": 28,
    "block.most": 42,
    "block.settle": 7,
    "block.look": 3,
    "block.wrong": 2,
    "wrap.most": 5,
    "pain.settle": 7,
    "mobility.oldest": 14,
    "mobility.again": 7,
    "mobility.late": 7,
    "incident.settle": 3,
    "incident.settle_back": 7,
    "illness.settle": 14,
    "age.least": 14,  # months of the calendar
    "condition.oldest": 30,
    "condition.again": 21,
    "condition.late": 14,
    "condition.hold": {"five": (2.5, 4.0), "nine": (4.0, 7.0)},
    "vet.oldest": 60,
    "vet.advised": 28,
    "vet.again": 60,
    "vet.look": 2,
    "vet.look_again": 7,
    "vet.memory": 120,
    "vet.required": True,
    # (months to which it holds, that day included; cm), then the cm of any older bull
    "scrotum.least": ((15, 30), (18, 31), (21, 32), (24, 33), (None, 34)),
    "motility.least": 60,  # per cent
    "normal.least": 70,  # per cent
    "sole.thin": 5,  # mm
    "quarantine.days": 28,
    "tight.days": 7,
    "seen.ahead": 1,
    "group.weeks": 12,
    "checks": [],
    "findings": {},
}

# The first score of each walk scale that is lame, its last, and its best.
LAME_FROM = {"gb0-3": 2, "five1-5": 3, "nz0-3": 2}
WORST = {"gb0-3": 3, "five1-5": 5, "nz0-3": 3}
BEST = {"gb0-3": 0, "five1-5": 1, "nz0-3": 0}

FIGURES = ("scrotum_cm", "motility_pct", "normal_pct")

# Words of pain relief, anywhere in a treatment's product or reason, whatever the case and whatever
# stands between the letters; the word pain besides, where it stands by itself.
PAIN_WORDS = (
    "meloxicam",
    "ketoprofen",
    "flunixin",
    "carprofen",
    "tolfenamic",
    "salicylate",
    "salicylic",
    "aspirin",
    "paracetamol",
    "acetaminophen",
    "metamizol",
    "diclofenac",
    "phenylbutazone",
    "dexamethasone",
    "betamethasone",
    "flumethasone",
    "prednisolone",
    "isoflupredone",
    "cortisone",
    "steroid",
    "dipyrone",
    "ibuprofen",
    "robenacoxib",
    "eltenac",
    "butorphanol",
    "xylazine",
    "detomidine",
    "lidocaine",
    "lignocaine",
    "mepivacaine",
    "anaesthe",
    "anesthe",
    "nerve block",
    "nsaid",
    "anti-inflammat",
    "painkill",
    "pain relie",
    "analges",
)

# Not said is no slight thing: days and the vet take it as moderate.
UNSAID = 2


def counted(severity: int | None) -> int:
    """The severity that days and the vet go by."""
    return UNSAID if severity is None else severity


class Finding(NamedTuple):
    """One row of the findings table.

    ``claw``: claw, skin or any. ``holds_from``: least severity that holds (0: none by severity).
    ``holds_stages``: the stages of DD that hold. ``looks``: days after the clock. ``clear``: days
    to healed plausible for severity 1, 2, 3. ``vet_from``: least severity in the vet column (0:
    none). ``vet_open``: found open this many days after first found asks for the vet (0: never).
    ``anew``: a finding renamed to this code begins anew.
    """

    claw: str
    holds_from: int
    looks: tuple[int, ...]
    clear: tuple[int, int, int]
    vet_from: int = 0
    vet_open: int = 0
    holds_stages: tuple[str, ...] = ()
    anew: bool = False

    def holds(self, severity: int | None, stage: str | None) -> bool:
        # dermatitis holds by its stage, an unknown one too
        if self.holds_stages:
            return stage is None or stage in self.holds_stages
        # not said holds if any degree could
        return self.holds_from != 0 and (severity is None or severity >= self.holds_from)

    @property
    def holds_when_moderate(self) -> bool:
        # moderate, or a stage, is enough for this kind to hold
        return bool(self.holds_stages) or self.holds_from in (1, 2)


_MONTH = (28, 28, 28)
_NEVER = (0, 0, 0)
_ACTIVE = ("M1", "M2", "M4.1")

FINDINGS: dict[str, Finding] = {
    "AC": Finding("claw", 0, (), _NEVER),
    "CC": Finding("claw", 3, (28,), _MONTH),
    "CD": Finding("claw", 0, (), _NEVER),
    "SC": Finding("claw", 3, (28,), _MONTH),
    "HHE": Finding("claw", 0, (), _NEVER),
    "DS": Finding("claw", 2, (28,), _MONTH),
    "HFV": Finding("claw", 2, (28,), _MONTH),
    "HFH": Finding("claw", 2, (28,), _MONTH),
    "HFA": Finding("claw", 2, (28,), _MONTH),
    "WLF": Finding("claw", 2, (28,), _MONTH),
    "WLA": Finding("claw", 1, (7, 28), _MONTH, anew=True),
    "SH": Finding("claw", 2, (28,), _MONTH),
    "SU": Finding("claw", 1, (28,), (25, 33, 42), vet_from=3, anew=True),
    "BU": Finding("claw", 1, (28,), (25, 33, 42), vet_from=3, anew=True),
    "TU": Finding("claw", 1, (7, 28), (42, 42, 42), vet_from=1, vet_open=14, anew=True),
    "TN": Finding("claw", 1, (7, 28), (42, 42, 42), vet_from=1, vet_open=14, anew=True),
    "TS": Finding("claw", 1, (28,), _MONTH),
    "DD": Finding("skin", 0, (3, 7, 28), (14, 14, 14), holds_stages=_ACTIVE, anew=True),
    "ID": Finding("skin", 0, (), _NEVER),
    "IP": Finding("skin", 1, (3,), (7, 7, 7), vet_open=3, anew=True),
    "IH": Finding("skin", 2, (28,), _MONTH, vet_from=3),
    "SW": Finding("skin", 1, (3,), (7, 7, 7), vet_from=1, vet_open=7, anew=True),
    "XX": Finding("any", 2, (28,), _MONTH),
}
STAGES = ("M0", "M1", "M2", "M3", "M4", "M4.1")


def rule_values(changed: dict[str, Any] | None) -> dict[str, Any]:
    """The defaults with ``changed`` laid over; a rule that does not exist is refused.

    ``findings`` maps a code to a whole ``Finding``; the others keep their rows.
    """
    changed = changed or {}
    unknown = set(changed) - set(RULES)
    if unknown:
        raise KeyError(f"no such rule: {sorted(unknown)}")
    values = RULES | changed
    values["findings"] = FINDINGS | changed.get("findings", {})
    return values
