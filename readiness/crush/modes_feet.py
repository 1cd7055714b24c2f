"""Turning to the feet: what became of what was open there, then the foot in the hand."""

from __future__ import annotations

from dataclasses import dataclass, replace

from readiness.crush.before import Open
from readiness.crush.modes_finding import severity, stage
from readiness.crush.modes_foot import HOW, OnClaw, OnFoot
from readiness.crush.pad import Key, Mode, Pad
from readiness.crush.slip import Slip
from readiness.trade.codes import SEVERITIES
from readiness.trade.feet import FEET

MOST_SEVERE = max(SEVERITIES)
_COMPARED = (Key("v", "worse"), Key("l", "less"))


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
class AskFinding:
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

    def keys(self, pad: Pad) -> list[Key]:
        return [
            Key("h", "healed"),
            Key("o", "open still"),
            *([Key("v", "how bad")] if self._never_said() else _COMPARED),
            Key("f", "fit to work, not gone"),
            *([Key("x", "would not lift")] if self.foot else []),
            Key("Esc", "not looked at"),
        ]

    def press(self, pad: Pad, key: str) -> Pad | None:
        found, slip = self.queue[0], pad.slip
        place = (found.foot, found.claw, found.code)
        if key == "escape":
            return self._on(pad, slip, answered=False)
        if key == "x" and self.foot:
            return pad.done(slip.refuse(self.foot))
        if key in ("h", "f"):
            return self._on(pad, slip.heal(*place, stable=key == "f"))
        if key == "o":
            return self._on(pad, slip.find(*place))
        return self._changed(pad, key) if key in ("v", "l") else None

    def _changed(self, pad: Pad, key: str) -> Pad | None:
        """Worse or less than it was; where that was never said, how bad it is."""
        found, place = self.queue[0], self._key()
        slip = pad.slip.find(*place)
        if found.staged:
            return pad.go(stage(place, self._rest(pad, listed=True)), slip)
        if found.severity is None:
            asked = severity(place, self._rest(pad, listed=True))
            return pad.go(asked, slip) if key == "v" else None
        if key == "l" and found.severity == 1:
            return pad.tell("It is slight already: h healed, o open still.")
        now = found.severity + (1 if key == "v" else -1)
        return self._on(pad, slip.find(*place, severity=min(now, MOST_SEVERE)))

    def _on(self, pad: Pad, slip: Slip, *, answered: bool = True) -> Pad:
        listed = answered and slip.finding(*self._key()) is not None
        return pad.go(self._rest(pad, listed=listed), slip)

    def _never_said(self) -> bool:
        return self.queue[0].severity is None and not self.queue[0].staged

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
