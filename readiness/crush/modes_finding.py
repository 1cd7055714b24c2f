"""Which finding it is, and what is asked of one besides: its zone, its stage, its size; and
measures of the horn, in millimetres."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from readiness.crush.pad import CLAW_KEYS, Answer, Choice, Mode, Number, Pad
from readiness.crush.slip import Slip
from readiness.trade.codes import CODES, SEVERITIES, STAGE_NAMES, STAGES, claw_words
from readiness.trade.feet import HORN_CLAWS, MEASURES, ZONES, spot_words

Finding = tuple[str, str, str]
"""Its foot, claw and code."""
TEN = 10
FAR_ZONES = {str(zone - TEN): zone for zone in ZONES if zone >= TEN}
"""Last digit → zone, of those that take two."""

_NAME = {code: each.name.replace("(", "").split() for code, each in CODES.items()}


def codes_like(claw: str, typed: str) -> list[str]:
    """The codes that can be here and begin as typed; then those with such a word in their name."""
    here = [code for code in CODES if claw in claw_words(code)]
    by_code = [code for code in here if code.startswith(typed.upper())]
    by_name = [code for code in here if any(word.startswith(typed) for word in _NAME[code])]
    return list(dict.fromkeys((*by_code, *by_name)))


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


def stage(found: Finding, after: Mode) -> Choice:
    """The stage of digital dermatitis; then ``after``."""
    stages = (
        Answer(str(number), f"{each} {STAGE_NAMES[each]}", after, _says(found, stage=each))
        for number, each in enumerate(STAGES)
    )
    foot, _, code = found
    answers = (*stages, Answer("Enter Esc", "unknown", after))
    return Choice(f"{foot} {CODES[code].name}: which stage?", answers, found[:2])


def grades(found: Finding, after: Mode) -> Iterator[Answer]:
    """How bad it may be."""
    for number, words in SEVERITIES.items():
        yield Answer(str(number), words, after, _says(found, severity=number))


def severity(found: Finding, after: Mode) -> Choice:
    """How bad the finding is; then ``after``."""
    answers = (*grades(found, after), Answer("Enter Esc", "as it is", after))
    return Choice(f"{_named(found)}: how bad?", answers, found[:2])


def size(found: Finding, after: Mode) -> Number:
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
        Answer(keys, claw, measure(foot, claw, after))
        for keys, claw in CLAW_KEYS.items()
        if claw in HORN_CLAWS
    )
    none = Answer("Esc Enter", "none", after)
    return Choice(f"{foot}: measure which claw?", (*claws, none), (foot, ""))


def measure(foot: str, claw: str, after: Mode) -> Choice:
    """What is measured, then how much, until there is no more; then ``after``."""
    spot = spot_words(foot, claw)

    def amount(what: str, pad: Pad) -> Pad:
        says = partial(Slip.measure, foot=foot, claw=claw, key=what)
        again = measure(foot, claw, after)
        return pad.go(Number(f"{spot} {MEASURES[what]}", "mm", "mm", says, again, (foot, claw)))

    answers = (Answer(word[0], word, do=partial(amount, key)) for key, word in MEASURES.items())
    no_more = Answer("Enter Esc", "no more", after)
    return Choice(f"{spot}: measure what?", (*answers, no_more), (foot, claw))
