"""A part of him beside his feet: which, and whether it is wrong, to watch, or right again.

What is wrong there holds him until the vet has looked; it names nothing and advises nothing.
"""

from __future__ import annotations

from functools import partial

from readiness.crush.ask import FOOT_KEYS, Answer, Choice
from readiness.crush.pad import Pad
from readiness.crush.slip import Slip
from readiness.trade.body import JOINT, PARTS, part_words

STATES = (
    ("w", "wrong", "wrong: it holds him until a vet says fit"),
    ("k", "watch", "keep an eye on it"),
    ("r", "right", "right again"),
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
BODY_PART = Choice(
    "Which part of him?",
    (
        *(
            Answer(str(number), part, JOINT_LIMB if part == JOINT else _state(part))
            for number, part in enumerate(PARTS, start=1)
        ),
        Answer("Esc Enter", "none"),
    ),
)
