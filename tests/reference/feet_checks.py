"""The checks of the feet: what lifting, findings, blocks and wraps still ask for.

Days are ordinals; quotations are from the specification of the assessment. ``turnout`` is T, None
for a bull that is out; ``due_from`` is the turnout from which dues are counted, None where there
are none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, floor

from .state import Ask, Open, Story
from .values import FEET

TRIMMER = ("feet", "lift", "look", "clear", "block-off", "block-look")
VET = ("vet-exam", "vet-look", "vet-again")


@dataclass
class Check:
    """An outstanding check.

    ``floors``: days it cannot come before. ``before``: days it must lie before turnout. ``waits``:
    (check id, days) that must lie between that check and this one. ``tail``: what stands in the id
    behind the foot. ``body``: it asks about the body.
    """

    check: str
    floors: list[int]
    foot: str | None = None
    claw: str | None = None
    code: str | None = None
    feet: tuple[str, ...] = ()
    waits: list[tuple[str, int]] = field(default_factory=list)
    before: int = 0
    due: int | None = None
    advised_by: int | None = None
    who: str = "farmer"
    tail: str | None = None
    body: bool = False

    def __post_init__(self) -> None:
        # "trimmer `feet`, `lift`, `look`, `clear`, `block-off`, `block-look`; vet `vet-exam`,
        # `vet-look`; farmer the rest"
        if self.check in TRIMMER:
            self.who = "trimmer"
        if self.check in VET:
            self.who = "vet"

    @property
    def id(self) -> str:
        # "`id` is check:foot:claw:code with empty parts left out [...] (`vet-again`: its day and
        # what it is about behind it)"
        parts = (self.check, self.foot, self.claw, self.code, self.tail)
        return ":".join(part for part in parts if part)


def lifted_since(story: Story, foot: str, day: int) -> int | None:
    """The first lift of a foot on ``day`` or later."""
    return min((d for d, lifted in story.lifts if lifted == foot and d >= day), default=None)


def unmet_asks(story: Story) -> list[Ask]:
    # "*An ask outlives the run.* The feet asked for and not lifted on that day or later."
    return [ask for ask in story.asks if lifted_since(story, ask.foot, ask.since) is None]


def feet(story: Story, turnout: int, due_from: int | None) -> Iterator[Check]:
    oldest = turnout - story.rules["feet.oldest"]
    # "the feet without a lift in [T-feet.oldest, T]"
    fresh = {foot for day, foot in story.lifts if oldest <= day <= turnout}
    missing = tuple(foot for foot in FEET if foot not in fresh)
    if missing:
        check = Check("feet", [oldest], feet=missing)
        if due_from is not None:
            # "due group's turnout - feet.due"; "advised: all four by T-56"
            check.due = due_from - story.rules["feet.due"]
            check.advised_by = due_from - story.rules["feet.advised"]
        yield check


def lift(story: Story) -> Iterator[Check]:
    unmet = unmet_asks(story)
    if unmet:
        missing = tuple(foot for foot in FEET if foot in {ask.foot for ask in unmet})
        # "Due the earliest of: event + lame.lift (worst score: lame.lift_worst), over the events
        # that ask for a missing foot."
        yield Check("lift", [], feet=missing, due=min(ask.due for ask in unmet))


def block_off_from(story: Story, foot: str, claw: str) -> tuple[int, int]:
    """First day of block-off and its due, before the day of assessment is taken into account."""
    fitted = story.blocks[foot, claw][1]
    # "(on a claw that carries open holding findings: from the later of fitting and the earliest day
    # from which one of them has held, a rename counting on; due that + block.wrong)"
    held = [
        finding.held_since
        for key, finding in story.open.items()
        if finding.held_since is not None and key[:2] == (foot, claw)
    ]
    if held:
        first = max(fitted, min(held))
        story.meets("block on a claw that carries a finding")
        clocks = [f.clock for f in story.open.values() if f.key[:2] == (foot, claw)]
        story.meets("block by a finding that held before its clock", min(held) < min(clocks))
        return first, first + story.rules["block.wrong"]
    # "from fitting + block.least, due fitting + block.most"
    return fitted + story.rules["block.least"], fitted + story.rules["block.most"]


def look_day(story: Story, finding: Open) -> tuple[int, int]:
    """The day of a finding's next look, and the interval k that it came from."""
    series = story.rules["findings"][finding.key[2]].looks
    slack = Fraction(str(story.rules["look.slack"]))
    # "the first day clock + k of its series without a look at clock + k - floor(k/4) or later"
    for k in series:
        if not any(look >= finding.clock + k - floor(k * slack) for look in finding.looks):
            return finding.clock + k, k
    # "the series over: last look + k, its last interval"
    story.meets("series of looks over")
    return max(finding.looks) + series[-1], series[-1]


def clears(story: Story) -> Iterator[Check]:
    """Each holding finding's ``clear``, and its ``look`` where that is a check of its own."""
    slack = Fraction(str(story.rules["look.slack"]))
    for key, finding in sorted(story.open.items()):
        if not finding.holds:
            continue
        foot, claw, code = key
        row = story.rules["findings"][code]
        # "from the latest of plausible day and the first day of block-off of each block on that
        # foot (before D is taken into account)"
        blocks = [place for place in story.on_block() if place[0] == foot]
        first = max(
            finding.plausible(row, story.rules["clear.after_open"]),
            *(block_off_from(story, *place)[0] for place in blocks),
            0,
        )
        clear = Check("clear", [first], foot, claw, code)
        # "`clear` waits for `block-off` of that foot."
        clear.waits = [(f"block-off:{f}:{c}", 0) for f, c in blocks]
        day, k = look_day(story, finding)
        # "Where the look's day is before clear's first day (taken without D), a check `look` of
        # its own: from day - floor(k/4), due day + ceil(k/4), clear not before it and without due"
        if day < first:
            look = Check("look", [day - floor(k * slack)], foot, claw, code)
            look.due = day + ceil(k * slack)
            # "farmer [...] a `look` after 3 days or less"
            look.who = "farmer" if k <= 3 else "trimmer"
            clear.waits.append((look.id, 0))
            yield look
        else:
            # "otherwise clear is that look, due max(look's day, clear's first day) + ceil(k/4)"
            clear.due = max(day, first) + ceil(k * slack)
        yield clear


def blocks(story: Story) -> Iterator[Check]:
    for (foot, claw), (state, day) in sorted(story.blocks.items()):
        if state == "on":
            first, due = block_off_from(story, foot, claw)
            # "not after T - block.settle"
            off = Check("block-off", [first], foot, claw, due=due)
            off.before = story.rules["block.settle"]
            yield off
            # "And `block-look`, a lift of that foot on the day of block-off or later, without due."
            yield Check("block-look", [], foot, claw, waits=[(off.id, 0)])
        elif lifted_since(story, foot, day) is None:
            # "A block already off without such a lift leaves `block-look`, due off + block.look."
            yield Check("block-look", [], foot, claw, due=day + story.rules["block.look"])


def wraps(story: Story) -> Iterator[Check]:
    for foot, day in sorted(story.wraps.items()):
        # "per foot with a wrap on, `wrap-off`: [...] from its day + 1, due + wrap.most"
        yield Check("wrap-off", [day + 1], foot, due=day + story.rules["wrap.most"])
