"""Which finding it is, and what is asked of one besides: its zone, its stage, its size; and
measures of the horn, in millimetres."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from readiness.crush.before import Open, severity_of
from readiness.crush.pad import CLAW_KEYS, Answer, Choice, Mode, Number, Pad
from readiness.crush.slip import Slip
from readiness.trade.codes import (
    CODES,
    SEVERITIES,
    STAGE_NAMES,
    STAGED,
    STAGES,
    claw_words,
)
from readiness.trade.feet import HORN_CLAWS, MEASURES, SKIN_ZONES, ZONES, spot_words

Finding = tuple[str, str, str]
"""Its foot, claw and code."""
TEN = 10
SKIN_ZONE = "0"
"""The zone between the claws, by its key."""
SKIN_ZONES_WORDS = ", ".join(
    f"{zone if zone < TEN else f'. {zone - TEN}'} {ZONES[zone]}" for zone in SKIN_ZONES
)
FAR_ZONES = {str(zone - TEN): zone for zone in ZONES if zone >= TEN}
"""Last digit → zone, of those that take two."""

HOW_BAD, WHICH_STAGE = ": how bad?", ": which stage?"

_NAME = {code: each.name.replace("(", "").split() for code, each in CODES.items()}


def codes_like(claw: str, typed: str) -> list[str]:
    """The codes that can be here and begin as typed; then those with such a word in their name."""
    here = [code for code in CODES if claw in claw_words(code)]
    by_code = [code for code in here if code.startswith(typed.upper())]
    by_name = [code for code in here if any(word.startswith(typed) for word in _NAME[code])]
    return list(dict.fromkeys((*by_code, *by_name)))


def spelled(claw: str, typed: str) -> str:
    """The code that the key of the claw and what is typed after it spell, "" where none: "i d" may
    be ID, of the skin between the claws, and nothing of the inner claw."""
    key = next(key for key, each in CLAW_KEYS.items() if each == claw)
    code = f"{key}{typed}".upper()
    return code if code in CODES else ""


def healed_here(foot: str, after: Mode, pad: Pad) -> Iterator[Answer]:
    """The key that heals what is open on this foot and holds nobody, where something is."""
    if open_here(pad, foot):
        yield Answer("h", "healed", do=partial(_heal_here, foot, after))


def _heal_here(foot: str, after: Mode, pad: Pad) -> Pad:
    """It is gone; of several it has to be said which."""
    found = open_here(pad, foot)
    if len(found) > 1:
        return pad.refuse("Which of them? First its claw and its letters, then h.")
    [gone] = found
    words = f"{spot_words(foot, gone.claw)}: {CODES[gone.code].name}, healed."
    return pad.go(after, pad.slip.heal(foot, gone.claw, gone.code), words)


def open_here(pad: Pad, foot: str) -> list[Open]:
    """What is open on this foot, holds nobody and was not spoken of."""
    return [
        each
        for each in pad.before.open
        if each.foot == foot
        and not each.holds
        and not pad.slip.speaks_of(foot, each.claw, each.code)
    ]


def far_zone(found: Finding, after: Mode, otherwise: Mode) -> Choice:
    """A zone from ten on, by its last digit; then ``after``, and where none is said ``otherwise``.

    One digit alone is a zone at once, so that the next can say how bad it is: a one and a two are
    never zone twelve.
    """
    words = "; ".join(f"{zone} {ZONES[zone]}" for zone in FAR_ZONES.values())
    zones = (
        Answer(key, f"zone {zone}", after, _says(found, zone=zone))
        for key, zone in FAR_ZONES.items()
    )
    answers = (*zones, Answer("Esc Enter", "another", otherwise))
    return Choice(f"{_named(found)}: {words}?", answers, found[:2])


def grades(found: Finding, after: Mode) -> Iterator[Answer]:
    """How bad it may be: its severity, or the stage of what goes by that."""
    if found[2] == STAGED:
        for number, each in enumerate(STAGES):
            words = f"{each} {STAGE_NAMES[each]}"
            yield Answer(str(number), words, after, _says(found, stage=each))
        return
    for number, words in SEVERITIES.items():
        yield Answer(str(number), words, after, _says(found, severity=number))


def how_bad(found: Finding, after: Mode) -> Choice:
    """How bad the finding is; then ``after``."""
    answers = (*grades(found, after), Answer("Enter Esc", "as it is", after))
    asks = WHICH_STAGE if found[2] == STAGED else HOW_BAD
    return Choice(f"{_named(found)}{asks}", answers, found[:2])


def size_of(found: Finding, after: Mode) -> Number:
    """How large the finding is, in millimetres; then ``after``."""
    return Number(_named(found), "mm", "size_mm", _says(found), after, found[:2])


def _named(found: Finding) -> str:
    foot, claw, code = found
    return f"{spot_words(foot, claw)} {CODES[code].name}"


def _says(found: Finding, **more: Any) -> Callable[..., Slip]:
    foot, claw, code = found
    return partial(Slip.find, foot=foot, claw=claw, code=code, **more)


# ---- measures ------------------------------------------------------------------------------------


def measure_claw(foot: str, after: Mode) -> Choice:
    """Which claw is measured; then ``after``."""
    claws = (
        Answer(key, claw, measure(foot, claw, after))
        for key, claw in CLAW_KEYS.items()
        if claw in HORN_CLAWS
    )
    none = Answer("Esc Enter", "none", after)
    return Choice(f"{foot}: measure which claw?", (*claws, none), (foot, ""))


def measure(foot: str, claw: str, after: Mode, code: str = "") -> Choice:
    """What is measured (``code``: the finding in hand may be), then how much, until there is no
    more; then ``after``."""
    spot = spot_words(foot, claw)

    def horn(what: str, pad: Pad) -> Pad:
        says = partial(Slip.measure, foot=foot, claw=claw, key=what)
        again = measure(foot, claw, after, code)
        return pad.go(Number(f"{spot} {MEASURES[what]}", "mm", "mm", says, again, (foot, claw)))

    answers = [
        Answer(str(number), word, do=partial(horn, key))
        for number, (key, word) in enumerate(MEASURES.items(), start=1)
        if claw in HORN_CLAWS
    ]
    if code:
        size = size_of((foot, claw, code), after)
        answers.append(Answer(str(len(MEASURES) + 1), f"the {CODES[code].name}", size))
    no_more = Answer("Enter Esc", "no more", after)
    return Choice(f"{spot}: measure what?", (*answers, no_more), (foot, claw))


def changed(key: Finding, after: Mode, by: int, pad: Pad) -> Pad:
    """Worse or less than it was; where that was never said, and of what goes by its stage, how bad
    it is now is asked."""
    foot, claw, code = key
    found = pad.slip.finding(*key) or {"foot": foot, "claw": claw, "code": code}
    severity = None if code == STAGED else severity_of(pad.before, found)
    if severity is None:
        return pad.go(how_bad(key, after), pad.slip.find(*key))
    if not 0 < severity + by <= max(SEVERITIES):
        return pad.refuse(f"It is {SEVERITIES[severity]} already.")
    now = severity + by
    words = f"{spot_words(foot, claw)}: {CODES[code].name}, now {SEVERITIES[now]}."
    return pad.go(after, pad.slip.find(*key, severity=now), words)
