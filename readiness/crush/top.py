"""The first question: every answer begins here and leads back here. And turning to the feet: what
became of what was open there, then the foot in the hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from readiness.crush.before import Before, Open
from readiness.crush.modes_block import begin_block, block_of
from readiness.crush.modes_finding import changed
from readiness.crush.modes_foot import HOW, OnClaw, OnFoot
from readiness.crush.modes_scores import WEIGHT, condition_score, walk_score
from readiness.crush.modes_trouble import BODY_PART
from readiness.crush.modes_work import ACT_KEYS
from readiness.crush.pad import CLAW_KEYS, FOOT_KEYS, NOWHERE, Answer, Asking, Mode, Pad
from readiness.crush.slip import Slip
from readiness.trade.codes import CODES
from readiness.trade.feet import FEET, feet_words, spot_words
from readiness.trade.words import day_words, list_words


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
    feet = [foot for foot in FEET if foot not in pad.slip.refused]
    return _lifted(pad, pad.slip.trim(*feet), f"Trimmed: {feet_words(feet)}.")


def _lifted(pad: Pad, slip: Slip, told: str = "") -> Pad:
    asked = pad.before.unanswered(slip)
    return pad.go(AskFinding(tuple(asked)), slip) if asked else pad.done(slip, told)


@dataclass(frozen=True, slots=True)
class AskFinding(Asking):
    """What became of a finding that holds him: the first of ``queue``; then the foot that was
    turned to, or (``foot`` empty) the first question.

    Its keys mean nothing elsewhere, and none that follows "all sound" by habit (walk, condition,
    Enter) means anything here: fingers that go on as with a sound bull answer nothing for him.
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
        found = self.queue[0]
        yield Answer("h", "healed", do=partial(self._gone, words="healed"))
        yield Answer("=", "as it was", do=self._as_it_was)
        graded = found.staged or found.severity is not None
        yield Answer("+", "worse" if graded else "how bad", do=partial(self._changed, 1))
        yield Answer("-", "less" if graded else "", do=partial(self._changed, -1))
        words = "fit to work though not gone"
        yield Answer("f", words, do=partial(self._gone, words=words, stable=True))
        if self.foot:
            yield Answer("x", "would not lift", says=lambda slip: slip.refuse(self.foot))
        if any(foot == found.foot for foot, _ in pad.before.blocks):
            yield Answer("b", "block", do=partial(block_of, found.foot, self))
        yield Answer("Esc", "not looked at", self._rest(pad, listed=False))

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        """Nothing that means the same anywhere answers here."""
        return None

    def _gone(self, pad: Pad, words: str, *, stable: bool = False) -> Pad:
        slip = pad.slip.heal(*self._key(), stable=stable)
        return pad.go(self._rest(pad, listed=False), slip, self._said(words))

    def _as_it_was(self, pad: Pad) -> Pad:
        slip = pad.slip.find(*self._key())
        return pad.go(self._rest(pad, listed=True), slip, self._said("as it was"))

    def _changed(self, by: int, pad: Pad) -> Pad:
        """Worse or less than it was."""
        after = changed(self._key(), self._rest(pad, listed=True), by, pad)
        return after.refuse(f"{after.said} h healed, = as it was.") if after.refused else after

    def _said(self, words: str) -> str:
        foot, claw, code = self._key()
        return f"{spot_words(foot, claw)}: {CODES[code].name}, {words}."

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
        asks = "" if self.queue[0].staged or self.queue[0].severity is not None else HOW
        return OnClaw(*self._key(), asks=asks) if listed else OnFoot(self.foot)


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
        # What one may have forgotten: the other feet, once one is lifted, and what is asked for.
        untouched = pad.slip.untouched
        asked = [foot for foot in untouched if foot in pad.before.feet]
        left = untouched if pad.slip.lifted else asked
        missing = [f"{list_words(left)} lifted"] if left else []
        missing += [word for kind, word in pad.before.wanted if not pad.slip.last(kind)]
        not_yet = f" Not yet: {', '.join(missing)}." if missing else ""
        # Half entered on another day, it is saved under that one: nobody should add today's to it.
        today, day = pad.before.on, pad.slip.on
        under = f" under {day_words(day, today)}" if today is not None and day != today else ""
        return f"What else?{not_yet} Enter saves{under}."

    def offers(self, pad: Pad) -> Iterator[Answer]:
        said = (*pad.slip.lifted, *pad.slip.refused)
        yield Answer("s", "the others sound" if said else "all four sound", do=sound)
        yield Answer("1-4", "a foot")
        yield Answer("t", "trimmed", do=trimmed)
        yield Answer("b", "block", do=begin_block)
        yield Answer("w", "walk", do=lambda pad: pad.go(walk_score(pad)))
        yield Answer("c", "condition", do=lambda pad: pad.go(condition_score(pad)))
        yield Answer("k", "weight", WEIGHT)
        yield Answer("a", "a part of him, fight, illness", BODY_PART)

    def otherwise(self, pad: Pad, key: str) -> Pad | None:
        if key in FOOT_KEYS:
            return begin_foot(pad, FOOT_KEYS[key])
        return pad.refuse(FOOT_FIRST) if key in OF_A_FOOT else None


OF_A_FOOT = (*CLAW_KEYS, *ACT_KEYS, "r", "z")
"""Keys that mean something only with a foot in the hand."""
FOOT_FIRST = "That is said of a foot: first its digit, 1-4."
