"""A lift as it was said, to be mended as its feet are drawn: another foot, claw or zone, how bad,
another day. Pure: each change gives the lift after it; what nothing was wrong with stays said."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, NamedTuple

from readiness.entries.entry import Entry, entry_order
from readiness.shorthand import words
from readiness.shorthand.lexicon import FEET_LISTS
from readiness.system.errors import DataError
from readiness.system.grouped import grouped
from readiness.trade.codes import SEVERITIES, STAGED, STAGES, claw_words
from readiness.trade.feet import FEET, partner

Content = Mapping[str, Any]

BLOCKS = ("block-off", "block-on")
AT_THE_CRUSH = ("feet", *BLOCKS, "mobility", "condition", "weight", "body")
"""What is said of a bull while he stands there, and so is of one day."""


class Item(NamedTuple):
    """One thing said of a foot. ``at``: which content says it; ``key``: in which of its lists,
    ``place``: where in it; of a block "" and 0."""

    at: int
    key: str
    place: int
    said: Content

    @property
    def spot(self) -> tuple[int, str, int]:
        """Where it stands, whatever becomes of what it says."""
        return self[:3]

    @property
    def foot(self) -> str:
        foot: str = self.said["foot"]
        return foot

    @property
    def words(self) -> str:
        """It alone, in words: "LH inner: sole ulcer, moderate, zone 4." """
        if not self.key:
            return words(self.said)
        return words({"kind": "feet", "lifted": [self.foot], self.key: [self.said]})


@dataclass(frozen=True, slots=True)
class Lift:
    """``contents``: all that was said of him then, in its order; ``ids``: of the entries that say
    it, none where it is not saved yet."""

    contents: tuple[Content, ...]
    ids: tuple[str, ...] = ()

    @property
    def on(self) -> date:
        return date.fromisoformat(self.contents[0]["on"])

    @property
    def lifted(self) -> tuple[str, ...]:
        return self._feet("lifted")

    @property
    def refused(self) -> tuple[str, ...]:
        return self._feet("refused")

    def items(self) -> list[Item]:
        """What is said of the feet, foot after foot as they stand."""
        found = [item for at, said in enumerate(self.contents) for item in _items(at, said)]
        return sorted(found, key=lambda item: FEET.index(item.foot))

    def item(self, spot: tuple[int, str, int]) -> Item | None:
        return next((item for item in self.items() if item.spot == spot), None)

    def words(self) -> str:
        return " ".join(map(words, self.contents))

    # ---- mended --------------------------------------------------------------------------------

    def other_foot(self, foot: str, to: str) -> Lift:
        """All that was said of a foot is of another one; what was said of that one, of the first:
        neither is lost."""
        there = {foot: to, to: foot}
        return replace(self, contents=tuple(_renamed(said, there) for said in self.contents))

    def other_claws(self, foot: str) -> Lift:
        """Outer was inner and inner outer, in all that was said of this foot."""
        now = self
        for item in self.items():
            if item.foot == foot and "claw" in item.said:
                now = now._with(item, {**item.said, "claw": partner(item.said["claw"])})
        return now

    def moved(self, item: Item, **place: str) -> Lift:
        """This alone was on another ``foot`` (which was lifted then, too) or another ``claw``. The
        first stays lifted, unless nothing else shows that it was."""
        foot = place.get("foot")
        alone = [each for each in self.items() if each.foot == item.foot] == [item]
        if foot is not None and alone and foot not in self.lifted:
            return self.other_foot(item.foot, foot)
        now = self._with(item, {**item.said, **place})
        return now._lifting(item.at, foot) if foot is not None and item.key else now

    def graded(self, item: Item, by: int) -> Lift:
        """A finding was worse or less: its severity, of what goes by a stage that. Raises
        ``DataError`` where nothing is beyond, and for what is no finding."""
        if item.key != "findings":
            raise DataError("How bad it was is said of a finding: the arrows choose one.")
        staged = item.said["code"] == STAGED
        scale: Sequence[Any] = STAGES if staged else tuple(SEVERITIES)
        key = "stage" if staged else "severity"
        before = item.said.get(key)
        after = (scale.index(before) if before in scale else (-1 if by > 0 else len(scale))) + by
        if not 0 <= after < len(scale):
            raise DataError(f"It was {'worst' if by > 0 else 'least'} already.")
        return self._with(item, {**item.said, key: scale[after]})

    def zoned(self, item: Item, zone: int) -> Lift:
        """A finding was in this zone."""
        return self._with(item, {**item.said, "zone": zone})

    def coded(self, item: Item, code: str, claw: str = "") -> Lift:
        """What was found, or is healed, was another finding: on the ``claw`` said, else where it
        was, else on the skin, as far as it can be there. Raises ``DataError`` for what is no
        finding, and for a claw that is not said."""
        if item.key not in ("findings", "healed"):
            raise DataError("A code is said of a finding: the arrows choose one.")
        can_be = claw_words(code)
        claw = claw or (item.said["claw"] if item.said["claw"] in can_be else "")
        if not claw and len(can_be) > 1:
            raise DataError(f"On which claw? Write it before the code: o {code.lower()}.")
        said = {**item.said, "code": code, "claw": claw or can_be[0]}
        if said.get("was") == code:
            del said["was"]
        if code != STAGED:
            said.pop("stage", None)
        return self._with(item, said)

    def dated(self, day: date) -> Lift:
        """All of it was on another day."""
        on = day.isoformat()
        return replace(self, contents=tuple({**said, "on": on} for said in self.contents))

    # ---- within --------------------------------------------------------------------------------

    def _feet(self, key: str) -> tuple[str, ...]:
        return tuple(foot for foot in FEET if any(foot in c.get(key, ()) for c in self.contents))

    def _with(self, item: Item, said: Content) -> Lift:
        content = said
        if item.key:
            content = dict(self.contents[item.at])
            items = list(content[item.key])
            items[item.place] = said
            content[item.key] = items
        return self._put(item.at, content)

    def _lifting(self, at: int, foot: str) -> Lift:
        content = dict(self.contents[at])
        refused = [each for each in content.pop("refused", ()) if each != foot]
        content |= {"refused": refused} if refused else {}
        if foot not in content["lifted"]:
            content["lifted"] = [*content["lifted"], foot]
        return self._put(at, content)

    def _put(self, at: int, content: Content) -> Lift:
        return replace(self, contents=(*self.contents[:at], content, *self.contents[at + 1 :]))


@dataclass(frozen=True, slots=True)
class Mended:
    """A lift, and what is said in its place."""

    was: Lift
    now: Lift


def lifts_of(entries: Iterable[Entry]) -> list[Lift]:
    """The lifts that these entries of one bull say, the last one first: of each all that was said
    of him at the crush in the same saving and on the same day."""
    said = [entry for entry in entries if entry.kind in AT_THE_CRUSH]
    said.sort(key=entry_order)
    savings = grouped(said, lambda entry: (entry.day, entry.batch))
    found = [
        Lift(tuple(entry.body for entry in saving), tuple(entry.id for entry in saving))
        for saving in savings.values()
        if any(entry.kind in ("feet", *BLOCKS) for entry in saving)
    ]
    return found[::-1]


def _items(at: int, content: Content) -> Iterable[Item]:
    if content["kind"] in BLOCKS:
        yield Item(at, "", 0, content)
    elif content["kind"] == "feet":
        for key in FEET_LISTS:
            for place, said in enumerate(content.get(key, ())):
                yield Item(at, key, place, said)


def _renamed(content: Content, there: Mapping[str, str]) -> Content:
    """With each foot called by its other name; how he walked is not said of a foot in the hand."""
    if content["kind"] in BLOCKS:
        return {**content, "foot": there.get(content["foot"], content["foot"])}
    if content["kind"] != "feet":
        return content
    now = dict(content)
    for key in ("lifted", "refused"):
        if key in now:
            now[key] = [there.get(foot, foot) for foot in now[key]]
    for key in FEET_LISTS:
        if key in now:
            now[key] = [
                {**said, "foot": there.get(said["foot"], said["foot"])} for said in now[key]
            ]
    return now
