"""The first question: every answer begins here and leads back here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from readiness.crush import modes_feet as feet
from readiness.crush.ask import FOOT_KEYS, NOWHERE, Answer, Ask
from readiness.crush.before import Before
from readiness.crush.modes_block import begin_block
from readiness.crush.modes_body import BODY_PART
from readiness.crush.modes_scores import WEIGHT, condition_score, walk_score
from readiness.crush.modes_trouble import CAUSE
from readiness.crush.pad import Key, Pad
from readiness.crush.slip import Slip
from readiness.trade.words import list_words


def pad_for(before: Before, slip: Slip) -> Pad:
    """A pad at its first question."""
    return Pad(before, slip, Top(), Top())


@dataclass(frozen=True, slots=True)
class Top:
    """Nothing in particular is asked: every answer begins here."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        if not pad.slip:
            return "What is seen and done?"
        missing = self._missing(pad)
        if not missing:
            return "What else? Enter saves."
        return f"What else? Not yet: {', '.join(missing)}. Enter saves."

    def _missing(self, pad: Pad) -> list[str]:
        """What one may have forgotten: feet, once one is lifted, and what is asked for today."""
        left = pad.slip.untouched if pad.slip.lifted else ()
        feet_left = [f"{list_words(left)} lifted"] if left else []
        wanted = [word for kind, word in pad.before.wanted if not pad.slip.last(kind)]
        return [*feet_left, *wanted]

    def keys(self, pad: Pad) -> list[Key]:
        said = (*pad.slip.lifted, *pad.slip.refused)
        rest = "the others sound" if said else "all four sound"
        return [
            Key("s", rest),
            Key("1-4", "a foot"),
            Key("t", "trimmed"),
            Key("b", "block"),
            Key("w", "walk"),
            Key("c", "condition"),
            Key("k", "weight"),
            Key("i", "fight or trouble"),
            Key("a", "a part of him"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        if key in FOOT_KEYS:
            return feet.begin_foot(pad, FOOT_KEYS[key])
        return _ANSWERS[key](pad) if key in _ANSWERS else None


WHICH_FOOT = Ask(
    "Which foot?",
    (
        *(
            Answer(key, foot, do=partial(feet.begin_foot, foot=foot))
            for key, foot in FOOT_KEYS.items()
        ),
        Answer("Esc Enter", "none"),
    ),
)
_ANSWERS: dict[str, Callable[[Pad], Pad]] = {
    "s": feet.sound,
    "t": feet.trimmed,
    "b": begin_block,
    "f": lambda pad: pad.go(WHICH_FOOT),
    "w": lambda pad: pad.go(walk_score(pad)),
    "c": lambda pad: pad.go(condition_score(pad)),
    "k": lambda pad: pad.go(WEIGHT),
    "i": lambda pad: pad.go(CAUSE),
    "a": lambda pad: pad.go(BODY_PART),
}
