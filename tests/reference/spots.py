"""What one entry lists of one finding: how bad, where, and under which name before."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from .state import Key, Open
from .values import STAGES, Finding, counted

SLIGHT = 1


class Grade(NamedTuple):
    """How bad; None is not said."""

    severity: int | None
    stage: str | None


@dataclass
class Listing:
    """All items of one entry that name one finding; ``row`` is its row of the table."""

    key: Key
    items: list[dict[str, Any]]
    row: Finding

    @property
    def said(self) -> bool:
        return any("severity" in item for item in self.items)

    @property
    def zones(self) -> set[int]:
        return {item["zone"] for item in self.items if "zone" in item}

    def worst(self, known: Open | None) -> Grade:
        """What stands for all of them; ``known``: the finding as it is open under this name."""
        return max((self._grade(item, known) for item in self.items), key=self._badness)

    def zones_that_hold(self, known: Open | None) -> set[int]:
        """The zones of those items that would hold if they were alone."""
        holding = [item for item in self.items if self.row.holds(*self._grade(item, known))]
        return {item["zone"] for item in holding if "zone" in item}

    def names_all(self, finding: Open) -> bool:
        """Whether this is a look at all of it: no zone named, or every one in which it held."""
        return not self.zones or self.zones >= finding.zones

    def renames(self, was: str, saying: str) -> bool:
        """Whether what calls ``was`` by this name says that field itself."""
        return all(saying in item for item in self.items if item.get("was") == was)

    def _grade(self, item: dict[str, Any], known: Open | None) -> Grade:
        kept = self._lent(item, known) if known else Grade(None, None)
        return Grade(item.get("severity", kept.severity), item.get("stage", kept.stage))

    def _lent(self, item: dict[str, Any], known: Open) -> Grade:
        """What an item that does not say is taken to be like."""
        alone = len(self.items) == 1
        elsewhere = bool(known.where) and item.get("zone") not in (None, *known.where)
        if alone and not elsewhere:
            return Grade(known.severity, known.stage)
        # perhaps another spot than the one that is known: as bad as that, never as slight; slight
        # is also what is less than would hold
        slight = known.severity == SLIGHT or not self.row.holds(known.severity, None)
        mild = known.stage not in self.row.holds_stages
        return Grade(None if slight else known.severity, None if mild else known.stage)

    def _badness(self, grade: Grade) -> tuple[bool, int, bool, int]:
        # what holds; then the more severe, of two alike the one that is said; then the later stage
        stage = STAGES.index(grade.stage) if grade.stage else -1
        said = grade.severity is not None
        return self.row.holds(*grade), counted(grade.severity), said, stage


def claws(claw: str) -> tuple[str, ...]:
    # both claws are two findings
    return ("outer", "inner") if claw == "both" else (claw,)


def keys(item: dict[str, Any], code: str | None = None) -> list[Key]:
    return [(item["foot"], claw, code or item["code"]) for claw in claws(item["claw"])]
