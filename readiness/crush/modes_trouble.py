"""After a fight or other trouble: what happened, whether he is lame, which limb, what is blamed,
and a part of him that is hurt, which is an entry of its own.

The foot comes first: most lameness sits there, whatever is blamed.
"""

from __future__ import annotations

from functools import partial

from readiness.crush.ask import FOOT_KEYS, Answer, Ask
from readiness.crush.modes_body import BODY_PART
from readiness.crush.pad import Pad
from readiness.crush.slip import Slip

ELSEWHERE = "Eyes, sheath, mouth, a joint hurt too? a says which."
SUSPECTS = {"f": "foot", "s": "shoulder", "t": "stifle", "b": "back", "o": "other"}


def _never_mind(pad: Pad) -> Pad:
    """There was no trouble."""
    return pad.done(pad.slip.without("incident"))


def _more(slip: Slip, **said: object) -> Slip:
    """The incident just begun, with more said of it."""
    begun = slip.last("incident") or {}
    kept = {k: v for k, v in begun.items() if k not in ("kind", "on", "bull", "by")}
    return slip.put("incident", **{**kept, **said})


NO_TROUBLE = Answer("Esc", "no trouble", do=_never_mind)
BLAMED = Ask(
    "What is suspected?",
    (
        *(Answer(key, what, None, {"suspect": what}, ELSEWHERE) for key, what in SUSPECTS.items()),
        Answer("a", "a part of him", BODY_PART),
        Answer("Enter", "nothing yet", told=ELSEWHERE),
        NO_TROUBLE,
    ),
    says=_more,
)
LIMB = Ask(
    "Which limb is hurt?",
    (
        *(Answer(key, foot, BLAMED, {"limb": foot}) for key, foot in FOOT_KEYS.items()),
        Answer("Enter", "cannot tell, or none", BLAMED),
        NO_TROUBLE,
    ),
    says=_more,
)
LAME = Ask(
    "Is he lame?",
    (
        Answer("y", "lame", LIMB, {"lame": True}),
        Answer("n", "not lame", LIMB, {"lame": False}),
        Answer("Enter", "not said", LIMB),
        NO_TROUBLE,
    ),
    says=_more,
)
FEVER = Ask(
    "Fever?",
    (
        Answer("y", "yes", LAME, {"fever": True}),
        Answer("n", "no", LAME, {"fever": False}),
        Answer("Enter", "not taken", LAME),
        NO_TROUBLE,
    ),
    says=_more,
)
CAUSE = Ask(
    "What happened to him?",
    (
        Answer("1", "fight", LAME, {"cause": "fight"}),
        Answer("2", "fall", LAME, {"cause": "fall"}),
        Answer("3", "transport", LAME, {"cause": "transport"}),
        Answer("4", "ill", FEVER, {"cause": "illness"}),
        Answer("5", "other trouble", LAME, {"cause": "other"}),
        Answer("Esc Enter", "nothing"),
    ),
    says=partial(Slip.put, kind="incident"),
)
