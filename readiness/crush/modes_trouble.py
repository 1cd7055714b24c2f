"""After a fight or other trouble: what happened, whether he is lame, which limb, what is blamed,
and a part of him that is hurt, which is an entry of its own.

The foot comes first: most lameness sits there, whatever is blamed.
"""

from __future__ import annotations

from dataclasses import dataclass

from readiness.crush.answers import FOOT_KEYS, NOWHERE, feet_keys
from readiness.crush.modes_body import BodyPart
from readiness.crush.pad import DONE, Key, Pad
from readiness.crush.slip import Slip

CAUSES = {
    "1": ("fight", "fight"),
    "2": ("fall", "fall"),
    "3": ("transport", "transport"),
    "4": ("illness", "ill"),
    "5": ("other", "other trouble"),
}
CANCEL = Key("Esc", "no trouble")
ELSEWHERE = "Eyes, sheath, mouth, a joint hurt too? a says which."
BLAMED = {"f": "foot", "s": "shoulder", "t": "stifle", "b": "back", "o": "other"}


@dataclass(frozen=True, slots=True)
class Cause:
    """What happened."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "What happened to him?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*(Key(key, words) for key, (_, words) in CAUSES.items()), Key("Esc", "nothing")]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in DONE:
            return pad.done()
        if key not in CAUSES:
            return None
        cause = CAUSES[key][0]
        slip = pad.slip.put("incident", cause=cause)
        return pad.go(Fever() if cause == "illness" else Lame(), slip)


@dataclass(frozen=True, slots=True)
class Fever:
    """Whether he has a fever."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "Fever?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            Key("y", "yes"),
            Key("n", "no"),
            Key("Enter", "not taken"),
            Key("Esc", "no trouble"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key == "escape":
            return _never_mind(pad)
        if key == "enter":
            return pad.go(Lame())
        if key not in ("y", "n"):
            return None
        return pad.go(Lame(), _more(pad.slip, fever=key == "y"))


@dataclass(frozen=True, slots=True)
class Lame:
    """Whether he goes lame."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "Is he lame?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            Key("y", "lame"),
            Key("n", "not lame"),
            Key("Enter", "not said"),
            Key("Esc", "no trouble"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key == "y":
            return pad.go(Limb(), _more(pad.slip, lame=True))
        if key == "n":
            return pad.go(Limb(), _more(pad.slip, lame=False))
        if key == "escape":
            return _never_mind(pad)
        return pad.go(Limb()) if key == "enter" else None


@dataclass(frozen=True, slots=True)
class Limb:
    """Which limb is hurt."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "Which limb is hurt?"

    def keys(self, pad: Pad) -> list[Key]:
        return [*feet_keys(), Key("Enter", "cannot tell, or none"), CANCEL]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in FOOT_KEYS:
            return pad.go(Blamed(), _more(pad.slip, limb=FOOT_KEYS[key]))
        if key == "escape":
            return _never_mind(pad)
        return pad.go(Blamed()) if key == "enter" else None


@dataclass(frozen=True, slots=True)
class Blamed:
    """What is suspected, by whoever says so; it diagnoses nothing."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        return "What is suspected?"

    def keys(self, pad: Pad) -> list[Key]:
        return [
            *(Key(key, what) for key, what in BLAMED.items()),
            Key("a", "a part of him"),
            Key("Enter", "nothing yet"),
            Key("Esc", "no trouble"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in BLAMED:
            return pad.done(_more(pad.slip, suspect=BLAMED[key]), ELSEWHERE)
        if key == "a":
            return pad.go(BodyPart())
        if key == "escape":
            return _never_mind(pad)
        return pad.done(said=ELSEWHERE) if key == "enter" else None


def _never_mind(pad: Pad) -> Pad:
    """Esc: there was no trouble."""
    return pad.done(pad.slip.without("incident"))


def _more(slip: Slip, **said: object) -> Slip:
    """The incident just begun, with more said of it."""
    begun = slip.last("incident") or {}
    kept = {k: v for k, v in begun.items() if k not in ("kind", "on", "bull", "by")}
    return slip.put("incident", **{**kept, **said})
