"""What to have in the car: counted from what is open today. The trimmer decides at the foot."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from readiness.engine.results import Check
from readiness.history import History
from readiness.history.finding import Finding
from readiness.trade.feet import FEET, partner

_LOOKS = ("look", "clear")


class Bring(NamedTuple):
    """Counts of what may be used up."""

    blocks: int
    wraps: int
    dressings: int


def bring_for(stops: Iterable[tuple[History, Iterable[Check]]]) -> Bring:
    """For these bulls and the checks that are to be done on them: rules ``bring.*``."""
    blocks = wraps = dressings = 0
    for state, checks in stops:
        rules = state.rules.visits
        lame = {foot for check in checks if check.check == "lift" for foot in check.feet}
        open_ = _looked_at(state, checks)
        claws = {
            (finding.foot, finding.claw)
            for finding in open_
            if _of_horn(finding) and finding.foot not in lame
            and (finding.foot, partner(finding.claw)) not in state.blocks
        }  # fmt: skip
        wrapped = [f for f in open_ if "wrap" in state.worked.get(f.foot, ())]
        dressed = [
            f for f in open_
            if "dress" in state.worked.get(f.foot, ()) or not _of_horn(f)
        ]  # fmt: skip
        # Lame, and nobody knows in which foot: it is one.
        blocks += rules.bring_block * ((1 if lame == set(FEET) else len(lame)) + len(claws))
        wraps += rules.bring_wrap * len(wrapped)
        dressings += rules.bring_dressing * len(dressed)
    return Bring(blocks, wraps, dressings)


def _of_horn(finding: Finding) -> bool:
    return finding.claw != "skin"


def _looked_at(state: History, checks: Iterable[Check]) -> list[Finding]:
    """The findings that hold and are looked at, each once."""
    keys = {(c.foot, c.claw, c.code) for c in checks if c.check in _LOOKS}
    return [finding for key, finding in state.feet.open.items() if key in keys and finding.holds]
