"""What one entry lists of one finding: how bad, where, and under which name before."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from .state import Key, Open, Zone
from .values import STAGES, Finding, counted

SLIGHT = 1
NO_LESION = "M0"
OTHER = "XX"  # whatever has no name of its own: another thing each time


class Grade(NamedTuple):
    """How bad; None is not said."""

    severity: int | None
    stage: str | None


@dataclass
class Listing:
    """All items of one entry that name one finding; ``row`` is its row of the table.

    ``beside``: items of that name in the entry that do not stand for it.
    """

    key: Key
    items: list[dict[str, Any]]
    row: Finding
    beside: list[dict[str, Any]] = field(default_factory=list)

    @property
    def said(self) -> bool:
        return any("severity" in item for item in self.items)

    @property
    def alone(self) -> bool:
        return len(self.items) + len(self.beside) == 1

    @property
    def zones(self) -> set[Zone]:
        return self._zones(self.items)

    @property
    def named_zones(self) -> set[Zone]:
        return self.zones - {None}

    def _zones(self, items: Iterable[dict[str, Any]]) -> set[Zone]:
        # one spot without a zone speaks of no zone; one of several lies in one that nobody named
        return {item.get("zone") for item in items if not self.alone or "zone" in item}

    def standing_for(self, olds: set[str]) -> Listing:
        """What is left of it where the items that rename ``olds`` speak of those alone."""
        items = [item for item in self.items if item.get("was") not in olds]
        return Listing(self.key, items, self.row, [i for i in self.items if i not in items])

    def worst(self, known: Open | None) -> Grade:
        """What stands for all of them; ``known``: the finding as it is open under this name."""
        return max((self._grade(item, known) for item in self.items), key=self._badness)

    def zones_that_hold(self, known: Open | None) -> set[Zone]:
        """The zones of those items that would hold if they were alone."""
        return self._zones(i for i in self.items if self.row.holds(*self._grade(i, known)))

    def names_all(self, finding: Open) -> bool:
        """Whether this is a look at all of it: no zone named, or every one in which it held."""
        return not self.named_zones or self.zones >= finding.zones

    def renames(self, was: str, saying: str) -> bool:
        """Whether what calls ``was`` by this name says that field itself."""
        return all(saying in item for item in self.items if item.get("was") == was)

    def _grade(self, item: dict[str, Any], known: Open | None) -> Grade:
        kept = self._lent(item, known) if known else Grade(None, None)
        return Grade(item.get("severity", kept.severity), item.get("stage", kept.stage))

    def _lent(self, item: dict[str, Any], known: Open) -> Grade:
        """What an item that does not say is taken to be like."""
        # slight is also what is less than would hold
        slight = known.severity == SLIGHT or not self.row.holds(known.severity, None)
        severity = None if slight else known.severity
        same = self._same(item, known)
        stage = known.stage if self._keeps_stage(item, known, same) else None
        # what had another name until now need not be as slight as this one, nor need another spot
        # than the one that is known: as bad as that, never as mild
        anew = "was" in item or self.key[2] == OTHER
        return Grade(known.severity if same and not anew else severity, stage)

    def _same(self, item: dict[str, Any], known: Open) -> bool:
        # a spot alone, and not elsewhere than what is known
        elsewhere = bool(known.where) and item.get("zone") not in (None, *known.where)
        return self.alone and not elsewhere

    def _keeps_stage(self, item: dict[str, Any], known: Open, same: bool) -> bool:
        # what is found is no M0; what had another name is of another stage
        if known.stage == NO_LESION or "was" in item:
            return False
        # and nobody says how severe a spot is that is over, nor need another be over
        return known.stage in self.row.holds_stages or (same and "severity" not in item)

    def not_kept(self, known: Open) -> list[str]:
        """The corners in which a spot of that very place is not taken to be like what is known."""
        item, code = self.items[0], self.key[2]
        if not self._same(item, known):
            return []
        no_stage = known.stage is not None and "stage" not in item
        mild = no_stage and known.stage not in self.row.holds_stages
        slight = known.severity == SLIGHT and "severity" not in item
        corners = {
            "found, of what was no lesion": no_stage and known.stage == NO_LESION,
            "renamed to dermatitis that is open, no stage said": no_stage and "was" in item,
            "severe, of what was over": mild
            and known.stage != NO_LESION
            and "severity" in item
            and "was" not in item,
            "what has no name, slight before": code == OTHER and slight and "was" not in item,
        }
        return [corner for corner, really in corners.items() if really]

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
