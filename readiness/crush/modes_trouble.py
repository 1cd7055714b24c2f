"""What is wrong with him beside his feet: a part of him, and a fight or other trouble.

What is wrong with a part holds him until the vet has looked; it names nothing and advises nothing.
After trouble the foot comes first: most lameness sits there, whatever is blamed. A part that is
hurt is an entry of its own.
"""

from __future__ import annotations

from functools import partial

from readiness.crush.pad import FOOT_KEYS, Answer, Choice, Pad
from readiness.crush.slip import Slip
from readiness.trade.body import JOINT, PARTS, part_words

STATES = (
    ("+", "wrong", "wrong: it holds him until a vet says fit"),
    ("-", "watch", "keep an eye on it"),
    ("h", "right", "right again"),
)
ONLY_A_VET = "It was wrong before: only a vet's look ends that."


def _state(part: str, limb: str | None = None) -> Choice:
    """How the part is. ``limb``: of a joint, where it is said."""
    words = part_words(part, limb)
    unsaid = partial(Slip.without, kind="body", part=part, limb=limb)
    answers = (
        *(Answer(key, said, do=partial(_is, part, limb, state)) for key, state, said in STATES),
        Answer("Esc", "nothing said of it", says=unsaid),
    )
    return Choice(f"{words[:1].upper()}{words[1:]}: how is it?", answers)


def _is(part: str, limb: str | None, state: str, pad: Pad) -> Pad:
    was_wrong = (part, limb) in pad.before.wrong
    told = ONLY_A_VET if was_wrong and state != "wrong" else ""
    return pad.done(pad.slip.anew("body", {"part": part, "limb": limb}, state=state), told)


JOINT_LIMB = Choice(
    f"A {JOINT} of which limb?",
    (
        *(Answer(key, foot, _state(JOINT, foot)) for key, foot in FOOT_KEYS.items()),
        Answer("Enter", "cannot tell", _state(JOINT)),
        Answer("Esc", "none"),
    ),
)
_PARTS = tuple(
    Answer(str(number), part, JOINT_LIMB if part == JOINT else _state(part))
    for number, part in enumerate(PARTS, start=1)
)
_NONE = Answer("Esc Enter", "none")
PART = Choice("Which part of him?", (*_PARTS, _NONE))


# ---- a fight or other trouble --------------------------------------------------------------------

ELSEWHERE = "Eyes, sheath, mouth, a joint hurt too? a says which."
SUSPECTS = ("foot", "shoulder", "stifle", "back", "other")


def _more(slip: Slip, /, **said: object) -> Slip:
    """The incident just begun, with more said of it."""
    begun = slip.last("incident") or {}
    kept = {k: v for k, v in begun.items() if k not in ("kind", "on", "bull", "by")}
    return slip.put("incident", **{**kept, **said})


def _then(asks: str, *answers: Answer) -> Choice:
    return Choice(
        asks, (*answers, Answer("Esc", "no trouble", says=partial(Slip.without, kind="incident")))
    )


BLAMED = _then(
    "What is suspected?",
    *(
        Answer(str(number), what, None, partial(_more, suspect=what), ELSEWHERE)
        for number, what in enumerate(SUSPECTS, start=1)
    ),
    Answer("a", "a part of him", PART),
    Answer("Enter", "nothing yet", told=ELSEWHERE),
)
LIMB = _then(
    "Which limb is hurt?",
    *(Answer(key, foot, BLAMED, partial(_more, limb=foot)) for key, foot in FOOT_KEYS.items()),
    Answer("Enter", "cannot tell, or none", BLAMED),
)


def _whether(asks: str, field: str, next_: Choice, yes: str, no: str, unsaid: str) -> Choice:
    return _then(
        asks,
        Answer("1", yes, next_, partial(_more, **{field: True})),
        Answer("0", no, next_, partial(_more, **{field: False})),
        Answer("Enter", unsaid, next_),
    )


LAME = _whether("Is he lame?", "lame", LIMB, "lame", "not lame", "not said")
FEVER = _whether("Fever?", "fever", LAME, "yes", "no", "not taken")
CAUSES = {
    "fight": ("fight", LAME),
    "fall": ("fall", LAME),
    "transport": ("transport", LAME),
    "ill": ("illness", FEVER),
    "other trouble": ("other", LAME),
}
"""Words → the cause, and what is asked next."""
CAUSE = Choice(
    "What happened to him?",
    (
        *(
            Answer(str(number), words, then, partial(Slip.put, kind="incident", cause=cause))
            for number, (words, (cause, then)) in enumerate(CAUSES.items(), start=1)
        ),
        Answer("Esc Enter", "nothing"),
    ),
)
BODY_PART = Choice(
    "Which part of him?",
    (*_PARTS, Answer(str(len(_PARTS) + 1), "a fight, a fall, illness", CAUSE), _NONE),
)
