"""The first question: every answer begins here and leads back here. And turning to the feet: what
became of what was open there, then the foot in the hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from readiness.crush.before import Before, Open
from readiness.crush.modes_block import begin_block
from readiness.crush.modes_finding import severity, stage
from readiness.crush.modes_foot import HOW, OnClaw, OnFoot
from readiness.crush.modes_scores import WEIGHT, condition_score, walk_score
from readiness.crush.modes_trouble import BODY_PART, CAUSE
from readiness.crush.pad import FOOT_KEYS, NOWHERE, Answer, Asking, Choice, Mode, Pad
from readiness.crush.slip import Slip
from readiness.trade.codes import SEVERITIES
from readiness.trade.feet import FEET
from readiness.trade.words import list_words

MOST_SEVERE = max(SEVERITIES)


def begin_foot(pad: Pad, foot: str) -> Pad:
    """Turn to a foot: first what became of what holds him there, then what is new."""
    holding = pad.before.unanswered(pad.slip, (foot,))
    return pad.go(AskFinding(tuple(holding), foot) if holding else OnFoot(foot))


def sound(pad: Pad) -> Pad:
    """The feet not spoken of are lifted and sound; what is open on them is asked for."""
    rest = pad.slip.untouched
    return _lifted(pad, pad.slip.lift(*rest), "" if rest else "All four are said already.")


def trimmed(pad: Pad) -> Pad:
    """The feet not refused are lifted and trimmed."""
    return _lifted(pad, pad.slip.trim(*(foot for foot in FEET if foot not in pad.slip.refused)))


def _lifted(pad: Pad, slip: Slip, told: str = "") -> Pad:
    asked = pad.before.unanswered(slip)
    return pad.go(AskFinding(tuple(asked)), slip) if asked else pad.done(slip, told)


@dataclass(frozen=True, slots=True)
class AskFinding(Asking):
    """What became of a finding that holds him: the first of ``queue``; then the foot that was
    turned to, or (``foot`` empty) the first question.

    Its keys are none of those that follow "all sound" by habit (walk, condition, Enter): fingers
    that go on as with a sound bull answer nothing for him.
    """

    queue: tuple[Open, ...]
    foot: str = ""

    @property
    def place(self) -> tuple[str, str]:
        return self.queue[0].foot, self.queue[0].claw

    def question(self, pad: Pad) -> str:
        words = self.queue[0].words
        return f"{words[:1].upper()}{words[1:]}: and now?"

    def offers(self, pad: Pad) -> Iterator[Answer]:
        found, heal = self.queue[0], partial(pad.slip.heal, *self._key())
        yield Answer("h", "healed", do=lambda pad: self._on(pad, heal()))
        yield Answer("o", "open still", do=lambda pad: self._on(pad, pad.slip.find(*self._key())))
        if found.staged or found.severity is not None:
            yield Answer("v", "worse", do=partial(self._changed, 1))
            yield Answer("l", "less", do=partial(self._changed, -1))
        else:
            asked = severity(self._key(), self._rest(pad, listed=True))
            yield Answer("v", "how bad", asked, lambda slip: slip.find(*self._key()))
        yield Answer("f", "fit to work, not gone", do=lambda pad: self._on(pad, heal(stable=True)))
        if self.foot:
            yield Answer("x", "would not lift", says=lambda slip: slip.refuse(self.foot))
        yield Answer("Esc", "not looked at", self._rest(pad, listed=False))

    def _changed(self, by: int, pad: Pad) -> Pad:
        """Worse or less than it was."""
        found, place = self.queue[0], self._key()
        if found.staged:
            return pad.go(stage(place, self._rest(pad, listed=True)), pad.slip.find(*place))
        now = (found.severity or 0) + by
        if not now:
            return pad.tell("It is slight already: h healed, o open still.")
        return self._on(pad, pad.slip.find(*place, severity=min(now, MOST_SEVERE)))

    def _on(self, pad: Pad, slip: Slip) -> Pad:
        listed = slip.finding(*self._key()) is not None
        return pad.go(self._rest(pad, listed=listed), slip)

    def _key(self) -> tuple[str, str, str]:
        found = self.queue[0]
        return found.foot, found.claw, found.code

    def _rest(self, pad: Pad, *, listed: bool) -> Mode:
        """The next question: another finding; then the claw just spoken of, where it has one to
        work on; then the foot."""
        if len(self.queue) > 1:
            return replace(self, queue=self.queue[1:])
        if not self.foot:
            return pad.top
        return OnClaw(*self._key(), asks=HOW) if listed else OnFoot(self.foot)


# ---- the first question --------------------------------------------------------------------------


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
        yield Answer("s", "the others sound" if said else "all four sound", do=sound)
        yield Answer("1-4", "a foot")
        yield Answer("t", "trimmed", do=trimmed)
        yield Answer("b", "block", do=begin_block)
        yield Answer("f", "", WHICH_FOOT)
        yield Answer("w", "walk", do=lambda pad: pad.go(walk_score(pad)))
        yield Answer("c", "condition", do=lambda pad: pad.go(condition_score(pad)))
        yield Answer("k", "weight", WEIGHT)
        yield Answer("i", "fight or trouble", CAUSE)
        yield Answer("a", "a part of him", BODY_PART)

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        return begin_foot(pad, FOOT_KEYS[key]) if key in FOOT_KEYS else None


WHICH_FOOT = Choice(
    "Which foot?",
    (
        *(Answer(key, foot, do=partial(begin_foot, foot=foot)) for key, foot in FOOT_KEYS.items()),
        Answer("Esc Enter", "none"),
    ),
)
