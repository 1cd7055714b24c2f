"""The state that a bull's entries leave him in on a day."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field
from datetime import date

from readiness.history.findings import Feet
from readiness.history.records import (
    NEVER,
    NOTHING,
    Ahead,
    Ask,
    Block,
    BodyFinding,
    Condition,
    Exam,
    LameRun,
    Mark,
    Outing,
    Part,
    Tested,
    Trouble,
    VetLook,
    Walk,
    WorstWalk,
    Wrap,
)
from readiness.rules.model import Rules
from readiness.trade.ages import Birth
from readiness.trade.body import WALKED_ON
from readiness.trade.feet import FEET


def ordinal(text: str) -> int:
    """The ordinal of a day as an entry writes it, 2026-04-03."""
    return date.fromisoformat(text).toordinal()


def _no_lifts() -> dict[str, list[tuple[int, str]]]:
    return {foot: [] for foot in FEET}


@dataclass(slots=True)
class History:
    """What is known of one bull on a day. ``lifts``: foot → (day, entry), rising. ``measures``:
    the last of each, (foot, claw, what) → (day, mm): a wall measured says nothing of the sole."""

    rules: Rules
    key: str = ""
    profile: dict[str, object] = field(default_factory=dict)
    unbooked: Mark = NOTHING
    """His booking, where it was taken back and entries speak of him all the same."""
    at_odds: tuple[str, ...] = ()
    """What copies of the book say of him that cannot both be, in words."""
    born: Mark = NOTHING
    """The day he was born, or the last that it can have been, and the entry that said so last."""
    birth: Birth | None = None
    """Between which days he was born; None where nobody said."""
    arrived: Mark = NOTHING
    """The day of arrival that was last said, and the entry that says it."""
    back_again: Mark = NOTHING
    """Came in from hire, or though he had left."""
    group: str | None = None
    joined: Mark = NOTHING
    """When his group was last said, be it none."""
    role: str | None = None
    gone: bool = False
    out: Mark = NOTHING
    out_note: str = ""
    """What was noted when he went out; empty while he is in."""
    hired_out: bool = False
    owed: frozenset[str] = frozenset()
    """Of a bull that is out: the checks that he went out without, and still lacks."""
    last_in: Mark = NOTHING
    outings: list[Outing] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    lifts: dict[str, list[tuple[int, str]]] = field(default_factory=_no_lifts)
    refused: list[tuple[int, str]] = field(default_factory=list)
    feet: Feet = field(init=False)
    measures: dict[tuple[str, str, str], tuple[int, float]] = field(default_factory=dict)
    trim: Mark = NOTHING
    worked: dict[str, set[str]] = field(default_factory=dict)
    """Foot → what was done when it was last worked on."""
    blocks: dict[tuple[str, str], Block] = field(default_factory=dict)
    block_off: dict[tuple[str, str], Block] = field(default_factory=dict)
    wraps: dict[str, Wrap] = field(default_factory=dict)
    wrap_off: Mark = NOTHING
    run: LameRun | None = None
    spells: list[LameRun] = field(default_factory=list)
    lame_asks: list[Ask] = field(default_factory=list)
    """What lame events asked for and was not lifted since: an ask outlives its run."""
    limb_asks: list[Ask] = field(default_factory=list)
    worst_walks: list[WorstWalk] = field(default_factory=list)
    walk: Walk | None = None
    walks: list[Walk] = field(default_factory=list)
    condition: Condition | None = None
    conditions: list[Condition] = field(default_factory=list)
    outside: Mark = NOTHING
    hurt: Mark = NOTHING
    hurt_back: Mark = NOTHING
    illness: Mark = NOTHING
    ill: Mark = NOTHING
    """Ill, and no vet has said since that he is fit."""
    pain: Mark = NOTHING
    unsaid: tuple[int, str, str] | None = None
    """(day, product, entry) of what was given last, and neither itself nor its name says whether it
    relieves pain."""
    withdrawal: tuple[int, str, str] | None = None
    """(last day, product, entry) of the withdrawal that ends last."""
    exam: Exam | None = None
    vet_looks: list[VetLook] = field(default_factory=list)
    unfit: list[VetLook] = field(default_factory=list)
    again_looks: list[VetLook] = field(default_factory=list)
    body: dict[Part, BodyFinding] = field(default_factory=dict)
    watched: dict[Part, Mark] = field(default_factory=dict)
    body_clear: Mark = NOTHING
    """The last day on which a vet's word ended what changes how he walks."""
    checks: dict[str, list[Tested]] = field(default_factory=dict)
    ahead: dict[str, Ahead] = field(default_factory=dict)
    """Kind of entry → what was written of it before its day, and nothing of its kind was since."""
    weights: list[tuple[int, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.feet = Feet(self.rules)

    @property
    def farm(self) -> str | None:
        farm = self.profile.get("farm")
        return str(farm) if farm else None

    @property
    def origin(self) -> str:
        """Where he is from; homebred where nobody said."""
        return str(self.profile.get("origin", "homebred"))

    @property
    def weight(self) -> tuple[int, float] | None:
        """(day, kg) of when he was last weighed."""
        return self.weights[-1] if self.weights else None

    @property
    def origins(self) -> tuple[str, ...]:
        """Where he may be from: from elsewhere, where he arrived and nobody said from where."""
        if self.arrived and "origin" not in self.profile:
            return ("bought", "hired")
        return (self.origin,)

    @property
    def apart(self) -> Mark:
        """The last arrival or coming back, from which he is kept apart: who arrived was elsewhere
        before, wherever he was born."""
        return max(self.arrived, self.back_again)

    @property
    def masked_until(self) -> int:
        """The day before which a sound walk says little: pain relief, or a block just off."""
        return max((mark.day + days for mark, days, _ in self.masking() if mark), default=NEVER)

    def masking(self) -> list[tuple[Mark, int, str]]:
        """(what happened, days, rule): for so long a sound walk says little."""
        limits = self.rules.limits
        offs = [
            (Mark(block.day, block.entry), limits.block_settle, "block.settle")
            for block in self.block_off.values()
        ]
        return [*offs, (self.pain, limits.pain_settle, "pain.settle")]

    @property
    def wrong_on_legs(self) -> bool:
        """Whether something is wrong with his body that changes how he walks."""
        return any(part in WALKED_ON for part, _ in self.body)

    def last_lift(self, foot: str) -> int:
        """The last day this foot was lifted, ``NEVER`` where it was not."""
        lifts = self.lifts[foot]
        return lifts[-1][0] if lifts else NEVER

    def first_lift(self, foot: str, since: int) -> Mark:
        """The first lift of this foot on ``since`` or later."""
        lifts = self.lifts[foot]
        at = bisect_left(lifts, (since, ""))
        return Mark(*lifts[at]) if at < len(lifts) else NOTHING

    def missing_lifts(self) -> list[tuple[str, Ask]]:
        """(foot, who asks) for every foot asked for and not lifted since."""
        return [
            (foot, ask)
            for ask in (*self.lame_asks, *self.limb_asks)
            for foot in ask.feet
            if self.last_lift(foot) < ask.since
        ]

    def asked_in_run(self) -> list[Ask]:
        """Every demand to lift feet since the open run of lameness began, met or not."""
        run = self.run
        return (
            [] if run is None else [*run.asks, *(a for a in self.limb_asks if a.day >= run.first)]
        )
