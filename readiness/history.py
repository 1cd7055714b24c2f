"""A bull's history: his entries up to a day, folded into the state he is in on that day.

Pure: entries and rules in, a ``History`` out. The entries of one bull come in the order of
``entry_order``; struck ones are already gone.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable
from datetime import date
from itertools import product

from readiness.entry import FEET, Entry
from readiness.findings import Feet, claws_of
from readiness.records import (
    NEVER,
    NOTHING,
    Ask,
    Block,
    Condition,
    Exam,
    LameRun,
    Mark,
    VetLook,
    Walk,
)
from readiness.rules.model import Rules
from readiness.trade.feet import MEASURES


class History:
    """What is known of one bull on a day. ``lifts``: foot → (day, entry), rising. ``measures``:
    the last of each, (foot, claw, what) → (day, mm): a wall measured says nothing of the sole."""

    __slots__ = (
        "arrived", "block_off", "blocks", "checks", "condition", "conditions", "exam", "feet",
        "gone", "group", "hurt", "hurt_limb", "illness", "incident_asks", "key", "last_in", "lifts",
        "measures", "out", "outside", "pain", "profile", "role", "rules", "run", "spells", "trim",
        "vet_looks", "walk", "walks", "weight", "worked", "worst_walks",
    )  # fmt: skip

    def __init__(self, rules: Rules, key: str = "") -> None:
        self.rules = rules
        self.key = key
        self.profile: dict[str, object] = {}
        self.arrived = NOTHING
        self.group: str | None = None
        self.role: str | None = None
        self.gone = False
        self.out = NOTHING
        self.last_in = NOTHING
        self.lifts: dict[str, list[tuple[int, str]]] = {foot: [] for foot in FEET}
        self.feet = Feet(rules)
        self.measures: dict[tuple[str, str, str], tuple[int, float]] = {}
        self.trim = NOTHING
        self.worked: dict[str, frozenset[str]] = {}
        """Foot → what was done when it was last worked on."""
        self.blocks: dict[tuple[str, str], Block] = {}
        self.block_off: dict[tuple[str, str], Block] = {}
        self.run: LameRun | None = None
        self.spells: list[LameRun] = []
        self.incident_asks: list[Ask] = []
        self.worst_walks: list[Mark] = []
        self.walk: Walk | None = None
        self.walks: list[Walk] = []
        self.condition: Condition | None = None
        self.conditions: list[Condition] = []
        self.outside = NOTHING
        self.hurt = NOTHING
        self.hurt_limb: str | None = None
        self.illness = NOTHING
        self.pain = NOTHING
        self.exam: Exam | None = None
        self.vet_looks: list[VetLook] = []
        self.checks: dict[str, list[tuple[int, bool, str]]] = {}
        self.weight: tuple[int, float] | None = None

    @property
    def farm(self) -> str | None:
        farm = self.profile.get("farm")
        return str(farm) if farm else None

    def last_lift(self, foot: str) -> int:
        """The last day this foot was lifted, ``NEVER`` where it was not."""
        lifts = self.lifts[foot]
        return lifts[-1][0] if lifts else NEVER

    def first_lift(self, foot: str, since: int) -> Mark:
        """The first lift of this foot on ``since`` or later."""
        lifts = self.lifts[foot]
        at = bisect_left(lifts, (since, ""))
        return Mark(*lifts[at]) if at < len(lifts) else NOTHING

    def asks(self) -> list[Ask]:
        """Every demand to lift feet, met or not: of the open run, and of incidents with a limb."""
        return [*(self.run.asks if self.run else ()), *self.incident_asks]


def history(entries: Iterable[Entry], rules: Rules, day: int, key: str = "") -> History:
    """Fold the entries of one bull, in ``entry_order``, up to ``day`` (an ordinal)."""
    state = History(rules, key)
    handlers = _HANDLERS
    for entry in entries:
        if entry.day > day or state.gone:
            break
        if (handler := handlers.get(entry.kind)) is not None:
            handler(state, entry)
    return state


def advance(state: History, entry: Entry) -> None:
    """Take in the next entry. One after he left changes nothing."""
    handler = _HANDLERS.get(entry.kind)
    if handler is not None and not state.gone:
        handler(state, entry)


def _ordinal(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def _bull(state: History, entry: Entry) -> None:
    state.profile.update(entry.body)
    if "arrived" in entry.body:
        state.arrived = Mark(_ordinal(entry.body["arrived"]), entry.id)


def _weight(state: History, entry: Entry) -> None:
    state.weight = (entry.day, entry.body["kg"])


def _join(state: History, entry: Entry) -> None:
    state.group = entry.body.get("group")
    state.role = entry.body.get("role") or state.role or "worker"


def _feet(state: History, entry: Entry) -> None:
    day, body = entry.day, entry.body
    for foot in body.get("lifted", ()):
        state.lifts[foot].append((day, entry.id))
    state.feet.lift(day, entry.id, body)
    work = body.get("work", ())
    for foot in {done["foot"] for done in work}:
        state.worked[foot] = frozenset(done["act"] for done in work if done["foot"] == foot)
    if any(done["act"] in ("trim", "pare") for done in work):
        state.trim = Mark(day, entry.id)
    for measure in body.get("measures", ()):
        for claw, what in product(claws_of(measure["claw"]), measure.keys() & MEASURES.keys()):
            state.measures[measure["foot"], claw, what] = (day, measure[what])


def _block_on(state: History, entry: Entry) -> None:
    place = (entry.body["foot"], entry.body["claw"])
    state.blocks[place] = Block(*place, entry.day, entry.id)
    state.block_off.pop(place, None)


def _block_off(state: History, entry: Entry) -> None:
    place = (entry.body["foot"], entry.body["claw"])
    if state.blocks.pop(place, None) is not None:
        lost = bool(entry.body.get("lost"))
        state.block_off[place] = Block(*place, entry.day, entry.id, lost)


def _lame(state: History, entry: Entry, feet: tuple[str, ...], worst: bool) -> None:
    limb, run = entry.body.get("limb"), state.run
    if run is None:
        run = state.run = LameRun(entry.day, entry.id, entry.day, entry.id, [])
    run.last, run.last_entry = entry.day, entry.id
    run.limb = limb or run.limb
    run.asks.append(Ask(feet, run.first, entry.day, worst, entry.id))


def _mobility(state: History, entry: Entry) -> None:
    body = entry.body
    scale = state.rules.mobility[body["scale"]]
    score, limb, blocks, run = body["score"], body.get("limb"), state.blocks, state.run
    lame = score >= scale.lame
    state.walk = Walk(entry.day, entry.id, scale.id, score, limb, lame, lame or not blocks)
    state.walks.append(state.walk)
    if lame:
        if limb:
            feet: tuple[str, ...] = (limb,)
        else:
            feet = tuple(f for f in FEET if any(f == p[0] for p in blocks)) if blocks else FEET
        worst = score >= scale.worst
        if worst:
            state.worst_walks.append(Mark(entry.day, entry.id))
        _lame(state, entry, feet, worst)
    elif run and not blocks and entry.day >= run.last + state.rules.limits.mobility_again:
        state.spells.append(run)
        state.run = None


def _condition(state: History, entry: Entry) -> None:
    scale = state.rules.condition[entry.body["scale"]]
    score = entry.body["score"]
    outside = not scale.hold[0] <= score <= scale.hold[1]
    state.condition = Condition(entry.day, entry.id, scale.id, score, outside)
    state.conditions.append(state.condition)
    if outside:
        state.outside = Mark(entry.day, entry.id)


def _vet_exam(state: History, entry: Entry) -> None:
    body = entry.body
    again = body.get("again_on")
    state.exam = Exam(
        entry.day,
        entry.id,
        body["outcome"],
        _ordinal(again) if again else None,
        body.get("scrotum_cm"),
        body.get("motility_pct"),
        body.get("normal_pct"),
    )
    if body.get("feet_seen"):
        state.vet_looks.append(VetLook(entry.day, None))


def _vet_look(state: History, entry: Entry) -> None:
    if entry.body["about"] in ("foot", "lame"):
        state.vet_looks.append(VetLook(entry.day, entry.body.get("foot")))


def _incident(state: History, entry: Entry) -> None:
    body = entry.body
    limb = body.get("limb")
    if body["cause"] in ("fight", "fall") or body.get("lame") or limb:
        state.hurt, state.hurt_limb = Mark(entry.day, entry.id), limb
    if body["cause"] == "illness" or body.get("fever"):
        state.illness = Mark(entry.day, entry.id)
    if body.get("lame"):
        _lame(state, entry, (limb,) if limb else FEET, worst=False)
    if limb:
        state.incident_asks.append(Ask((limb,), entry.day, entry.day, False, entry.id))


def _treatment(state: History, entry: Entry) -> None:
    if entry.body.get("pain_relief"):
        state.pain = Mark(entry.day, entry.id)


def _check(state: History, entry: Entry) -> None:
    said = (entry.day, entry.body["result"] == "pass", entry.id)
    state.checks.setdefault(entry.body["check"], []).append(said)


def _moved(state: History, entry: Entry) -> None:
    act = entry.body["act"]
    if act == "left":
        state.gone = True
    elif act == "out":
        state.out = Mark(entry.day, entry.id)
    else:
        state.out, state.last_in = NOTHING, Mark(entry.day, entry.id)
        if entry.body.get("reason") == "lame":
            _lame(state, entry, FEET, worst=False)


_HANDLERS: dict[str, Callable[[History, Entry], None]] = {
    "bull": _bull,
    "weight": _weight,
    "join": _join,
    "feet": _feet,
    "block-on": _block_on,
    "block-off": _block_off,
    "mobility": _mobility,
    "condition": _condition,
    "vet-exam": _vet_exam,
    "vet-look": _vet_look,
    "incident": _incident,
    "treatment": _treatment,
    "check": _check,
    "moved": _moved,
}
