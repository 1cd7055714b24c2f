"""A bull's feet drawn for a page: what is open on each, which claw carries a block."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.history import History
from readiness.history.finding import Finding
from readiness.history.records import NEVER
from readiness.report.foot_svg import foot_name, foot_svg
from readiness.report.page import Words
from readiness.trade.codes import CODES, finding_words
from readiness.trade.feet import AS_HE_STANDS, FOOT_NAMES, ZONES, spot_words
from readiness.trade.words import day_words

SIGNS = (
    f"{AS_HE_STANDS}; hatched: holds him; dotted: does not; 1 slight, 2 "
    "moderate, 3 severe, M a stage; in brackets: the place was not said."
)


def drawn_feet(state: History, feet: Iterable[str], on: int) -> list[Words]:
    """These feet as they are in ``state``, drawn."""
    return [_drawn(state, foot, on) for foot in feet]


def feet_with_something(state: History, feet: Iterable[str]) -> list[str]:
    """Those of the feet that have an open finding or carry a block."""
    marked = {finding.foot for finding in state.feet.open.values()}
    marked |= {block.foot for block in state.blocks.values()}
    return [foot for foot in feet if foot in marked]


def codes_words(drawn: Iterable[Finding]) -> list[str]:
    """The codes that stand in drawings, in words: "SU sole ulcer"."""
    return [f"{code} {CODES[code].name}" for code in sorted({finding.code for finding in drawn})]


def _drawn(state: History, foot: str, on: int) -> Words:
    found = [finding for finding in state.feet.open.values() if finding.foot == foot]
    blocked = [block.claw for block in state.blocks.values() if block.foot == foot]
    words = [_finding_words(finding) for finding in found]
    words += [f"block on {claw} claw" for claw in blocked]
    last = state.last_lift(foot)
    said = f"{foot_name(foot)}: {'; '.join(words) or 'nothing open'}"
    return {
        "foot": foot,
        "name": FOOT_NAMES[foot],
        "lifted": "never lifted" if last == NEVER else f"lifted {day_words(last, on)}",
        "svg": foot_svg(foot, found, blocked, said),
    }


def _finding_words(finding: Finding) -> str:
    severity = finding.severity if finding.stage is None else None
    said = finding_words(finding.code, severity, finding.stage)
    where = spot_words(finding.foot, finding.claw).removeprefix(f"{finding.foot} ")
    zone = "" if finding.zone is None else f", {ZONES[finding.zone]}"
    return f"{where}: {said}{zone}" if finding.claw != "skin" else f"{said}{zone}"
