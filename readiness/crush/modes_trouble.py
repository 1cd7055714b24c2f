"""After a fight or other trouble: what happened, whether he is lame, which limb, what is blamed,
and a part of him that is hurt, which is an entry of its own.

The foot comes first: most lameness sits there, whatever is blamed.
"""

from __future__ import annotations

from functools import partial

from readiness.crush.ask import FOOT_KEYS, Answer, Choice
from readiness.crush.modes_body import BODY_PART
from readiness.crush.slip import Slip

ELSEWHERE = "Eyes, sheath, mouth, a joint hurt too? a says which."
SUSPECTS = {"f": "foot", "s": "shoulder", "t": "stifle", "b": "back", "o": "other"}


def _more(slip: Slip, **said: object) -> Slip:
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
        Answer(key, what, None, partial(_more, suspect=what), ELSEWHERE)
        for key, what in SUSPECTS.items()
    ),
    Answer("a", "a part of him", BODY_PART),
    Answer("Enter", "nothing yet", told=ELSEWHERE),
)
LIMB = _then(
    "Which limb is hurt?",
    *(Answer(key, foot, BLAMED, partial(_more, limb=foot)) for key, foot in FOOT_KEYS.items()),
    Answer("Enter", "cannot tell, or none", BLAMED),
)
LAME = _then(
    "Is he lame?",
    Answer("y", "lame", LIMB, partial(_more, lame=True)),
    Answer("n", "not lame", LIMB, partial(_more, lame=False)),
    Answer("Enter", "not said", LIMB),
)
FEVER = _then(
    "Fever?",
    Answer("y", "yes", LAME, partial(_more, fever=True)),
    Answer("n", "no", LAME, partial(_more, fever=False)),
    Answer("Enter", "not taken", LAME),
)
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
