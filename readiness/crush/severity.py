"""How bad a finding is, where that decides: of which codes it is asked, and what is so while it is
not said. A severity not said is not a slight one."""

from __future__ import annotations

from dataclasses import replace

from readiness.crush.before import Before
from readiness.crush.slip import Content, Slip
from readiness.engine.say import UNSAID_HOLDS, place
from readiness.history.finding import claws_of
from readiness.trade.codes import severity_words


def severity_of(before: Before, found: Content) -> int | None:
    """As this item says; else as it was, if it has its old name; of both claws the worse. None
    where of a claw it was never said."""
    said: int | None = found.get("severity")
    if said or "was" in found:
        return said
    places = ((found["foot"], claw, found["code"]) for claw in claws_of(found["claw"]))
    known = [before.known(*place) for place in places]
    grades = [each.severity if each else None for each in known]
    return None if None in grades else max(filter(None, grades))


def asked(before: Before, found: Content) -> bool:
    """Whether it matters how bad this one is and nobody has said so yet."""
    return found["code"] in before.grades and severity_of(before, found) is None


def how(before: Before, found: Content) -> str:
    """How bad it is, in words; empty where that is not said and does not matter."""
    severity = severity_of(before, found)
    if severity is None and found["code"] not in before.grades:
        return ""
    holds = severity is None and before.grades[found["code"]]
    return UNSAID_HOLDS if holds else severity_words(severity)


def unsaid(before: Before, slip: Slip) -> list[str]:
    """A line for each finding on the slip whose severity matters and is not said."""
    return [
        f"{found['code']} {place(found['foot'], claw)}: {how(before, found)}"
        for said in slip.all_of("feet")
        for found in said.get("findings", ())
        if asked(before, found)
        for claw in claws_of(found["claw"])
        if severity_of(before, {**found, "claw": claw}) is None
    ]


def without_asked(before: Before, slip: Slip, in_hand: tuple[str, str]) -> Slip:
    """Without the findings on this foot and claw of which it may yet be said how bad they are."""

    def kept(content: Content) -> Content:
        findings = [
            found
            for found in content.get("findings", ())
            if (found["foot"], found["claw"]) != in_hand or not asked(before, found)
        ]
        return {**content, "findings": findings} if "findings" in content else content

    return replace(slip, contents=tuple(map(kept, slip.contents)))
