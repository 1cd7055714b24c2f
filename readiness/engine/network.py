"""A simple temporal network: events, and bounds ``lower ≤ to − frm ≤ upper`` in whole days.

Dechter, Meiri & Pearl, "Temporal constraint networks", Artificial Intelligence 49 (1991): the
first possible day of an event is the longest path to it, its last the shortest; a cycle of
positive length means that no days fit. *Anchors* are events whose day is given; bounds never move
them, so that an event whose ``first`` lies after its ``last`` shows by how much no day fits.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

FAR = 1 << 40
"""Beyond every day in use: an event that nothing bounds."""


class Bound(NamedTuple):
    """``lower ≤ to − frm ≤ upper``; either end may be open. ``rule`` and ``text`` say why."""

    frm: str
    to: str
    lower: int | None
    upper: int | None
    rule: str = ""
    text: str = ""


class Step(NamedTuple):
    """One bound at work: ``to`` is not before ``frm`` and ``days``."""

    frm: str
    to: str
    days: int
    bound: Bound


class Contradiction(Exception):
    """A cycle of bounds that no days can meet; ``cycle`` lists them in order."""

    def __init__(self, cycle: tuple[Bound, ...]) -> None:
        super().__init__(" → ".join(f"{b.frm} to {b.to} ({b.rule or b.lower})" for b in cycle))
        self.cycle = cycle


class Earliest(NamedTuple):
    """``day``: event → its first possible day (−``FAR`` where nothing bounds it).

    ``binding``: event → the step that gives it that day.
    """

    day: Mapping[str, int]
    binding: Mapping[str, Step]

    def path(self, event: str) -> tuple[Step, ...]:
        """The steps, from an anchor on, that give ``event`` its first day."""
        steps: list[Step] = []
        while event in self.binding:
            step = self.binding[event]
            steps.append(step)
            event = step.frm
        return tuple(reversed(steps))


class Network:
    """Events and bounds. Among equally long paths the one whose bounds were added first is told,
    as long as bounds are added in an order in which days can be worked out one after another."""

    __slots__ = ("anchors", "bounds")

    def __init__(self) -> None:
        self.anchors: dict[str, int] = {}
        self.bounds: list[Bound] = []

    def anchor(self, name: str, day: int) -> None:
        """An event whose day is given."""
        self.anchors[name] = day

    def add(
        self,
        frm: str,
        to: str,
        lower: int | None = None,
        upper: int | None = None,
        rule: str = "",
        text: str = "",
    ) -> None:
        """The bound ``lower ≤ to − frm ≤ upper``."""
        self.bounds.append(Bound(frm, to, lower, upper, rule, text))

    def earliest(self) -> Earliest:
        """The first possible day of every event: the longest path to it.

        Raises ``Contradiction`` where bounds between events that are not anchored form a cycle
        that cannot be met. Bounds that contradict an anchor raise nothing and do not move it.
        """
        return _longest(self._steps(), self._events(), self.anchors)

    def latest(self) -> Mapping[str, int]:
        """The last possible day of every event: the shortest path (``FAR`` where nothing bounds
        it). Raises ``Contradiction`` like ``earliest``: it is the same, with time turned round."""
        steps = [Step(to, frm, days, bound) for frm, to, days, bound in reversed(self._steps())]
        turned = {event: -day for event, day in self.anchors.items()}
        return {e: -day for e, day in _longest(steps, self._events(), turned).day.items()}

    def fits(self) -> bool:
        """Whether every event has a day."""
        first, last = self.earliest().day, self.latest()
        return all(day <= last[event] for event, day in first.items()) and self._anchors_fit()

    def _anchors_fit(self) -> bool:
        given = self.anchors
        return all(
            given[to] - given[frm] >= days
            for frm, to, days, _ in self._steps()
            if frm in given and to in given
        )

    def _events(self) -> dict[str, int]:
        day = {bound.to: -FAR for bound in self.bounds}
        for bound in self.bounds:
            day.setdefault(bound.frm, -FAR)
        return day

    def _steps(self) -> list[Step]:
        steps: list[Step] = []
        for bound in self.bounds:
            frm, to, lower, upper, _, _ = bound
            if lower is not None:
                steps.append(Step(frm, to, lower, bound))
            if upper is not None:
                steps.append(Step(to, frm, -upper, bound))
        return steps


def _longest(steps: list[Step], day: dict[str, int], anchors: Mapping[str, int]) -> Earliest:
    """Longest paths by Bellman-Ford: as many rounds as there are events, at the most."""
    day.update(anchors)
    free = [step for step in steps if step.to not in anchors]
    binding: dict[str, Step] = {}
    for _ in range(len(day) + 1):
        moved = ""
        for step in free:
            frm, to, days, _bound = step
            if day[frm] + days > day[to] and day[frm] > -FAR:
                day[to] = day[frm] + days
                binding[to] = step
                moved = to
        if not moved:
            return Earliest(day, binding)
    raise Contradiction(_cycle(binding, moved))


def _cycle(binding: Mapping[str, Step], event: str) -> tuple[Bound, ...]:
    """The cycle that keeps raising ``event``: walk far enough back to be on it, then once round."""
    for _ in range(len(binding)):
        event = binding[event].frm
    start = event
    cycle: list[Bound] = []
    while not cycle or event != start:
        step = binding[event]
        cycle.append(step.bound)
        event = step.frm
    return tuple(reversed(cycle))
