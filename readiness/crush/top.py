"""The first question: every answer begins here and leads back here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from readiness.crush import modes_feet as feet
from readiness.crush.before import Before
from readiness.crush.modes_block import begin_block
from readiness.crush.modes_scores import WEIGHT, condition_score, walk_score
from readiness.crush.modes_trouble import BODY_PART, CAUSE
from readiness.crush.pad import FOOT_KEYS, NOWHERE, Answer, Asking, Choice, Pad
from readiness.crush.slip import Slip
from readiness.trade.words import list_words


def pad_for(before: Before, slip: Slip) -> Pad:
    """A pad at its first question."""
    return Pad(before, slip, Top(), Top())


@dataclass(frozen=True, slots=True)
class Top(Asking):
    """Nothing in particular is asked: every answer begins here."""

    place = NOWHERE

    def question(self, pad: Pad) -> str:
        if not pad.slip:
            return "What is seen and done?"
        # What one may have forgotten: feet, once one is lifted, and what is asked for today.
        left = pad.slip.untouched if pad.slip.lifted else ()
        missing = [f"{list_words(left)} lifted"] if left else []
        missing += [word for kind, word in pad.before.wanted if not pad.slip.last(kind)]
        not_yet = f" Not yet: {', '.join(missing)}." if missing else ""
        return f"What else?{not_yet} Enter saves."

    def offers(self, pad: Pad) -> Iterator[Answer]:
        said = (*pad.slip.lifted, *pad.slip.refused)
        yield Answer("s", "the others sound" if said else "all four sound", do=feet.sound)
        yield Answer("1-4", "a foot")
        yield Answer("t", "trimmed", do=feet.trimmed)
        yield Answer("b", "block", do=begin_block)
        yield Answer("f", "", WHICH_FOOT)
        yield Answer("w", "walk", do=lambda pad: pad.go(walk_score(pad)))
        yield Answer("c", "condition", do=lambda pad: pad.go(condition_score(pad)))
        yield Answer("k", "weight", WEIGHT)
        yield Answer("i", "fight or trouble", CAUSE)
        yield Answer("a", "a part of him", BODY_PART)

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        return feet.begin_foot(pad, FOOT_KEYS[key]) if key in FOOT_KEYS else None


WHICH_FOOT = Choice(
    "Which foot?",
    (
        *(
            Answer(key, foot, do=partial(feet.begin_foot, foot=foot))
            for key, foot in FOOT_KEYS.items()
        ),
        Answer("Esc Enter", "none"),
    ),
)
