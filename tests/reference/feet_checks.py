"""The checks of the feet: what lifting, findings, blocks and wraps still ask for.

Days are ordinals. ``turnout`` is T, None
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
        # who does what, the farmer where nobody else
        if self.check in TRIMMER:
            self.who = "trimmer"
        if self.check in VET:
            self.who = "vet"

    @property
    def id(self) -> str:
        # check, foot, claw and code; behind a second look its day and what it is about
        parts = (self.check, self.foot, self.claw, self.code, self.tail)
        return ":".join(part for part in parts if part)


def lifted_since(story: Story, foot: str, day: int) -> int | None:
    """The first lift of a foot on ``day`` or later."""
    return min((d for d, lifted in story.lifts if lifted == foot and d >= day), default=None)


def unmet_asks(story: Story) -> list[Ask]:
    # a foot asked for stays asked for until lifted, sound or not
    return [ask for ask in story.asks if lifted_since(story, ask.foot, ask.since) is None]


def feet(story: Story, turnout: int, due_from: int | None) -> Iterator[Check]:
    oldest = turnout - story.rules["feet.oldest"]
    # lifted within the season's reach
    fresh = {foot for day, foot in story.lifts if oldest <= day <= turnout}
    missing = tuple(foot for foot in FEET if foot not in fresh)
    if missing:
        check = Check("feet", [oldest], feet=missing)
        if due_from is not None:
            # the last week before turnout is too late; eight weeks before is advised
            check.due = due_from - story.rules["feet.due"]
            check.advised_by = due_from - story.rules["feet.advised"]
        yield check


def lift(story: Story) -> Iterator[Check]:
    unmet = unmet_asks(story)
    if unmet:
        missing = tuple(foot for foot in FEET if foot in {ask.foot for ask in unmet})
        # the soonest of those still waiting for their foot
        yield Check("lift", [], feet=missing, due=min(ask.due for ask in unmet))


def block_off_from(story: Story, foot: str, claw: str) -> tuple[int, int]:
    """First day of block-off and its due, before the day of assessment is taken into account."""
    fitted = story.blocks[foot, claw][1]
    # a claw in trouble must not carry the block: off within days of the first day on which both
    # were so
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
    # first and last day of an ordinary block
    return fitted + story.rules["block.least"], fitted + story.rules["block.most"]


def look_day(story: Story, finding: Open) -> tuple[int, int]:
    """The day of a finding's next look, and the interval k that it came from."""
    series = story.rules["findings"][finding.key[2]].looks
    slack = Fraction(str(story.rules["look.slack"]))
    # the first look of the series not yet taken, a quarter of its interval early counting too
    for k in series:
        if not any(look >= finding.clock + k - floor(k * slack) for look in finding.looks):
            return finding.clock + k, k
    # after the last of the series, at its last interval
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
        # no sooner than it can have healed, nor than any block of that foot can come off
        blocks = [place for place in story.on_block() if place[0] == foot]
        first = max(
            finding.plausible(row, story.rules["clear.after_open"]),
            *(block_off_from(story, *place)[0] for place in blocks),
            0,
        )
        clear = Check("clear", [first], foot, claw, code)
        # the block off first
        clear.waits = [(f"block-off:{f}:{c}", 0) for f, c in blocks]
        day, k = look_day(story, finding)
        # a look before it can have healed is a check of its own, a quarter either way
        if day < first:
            look = Check("look", [day - floor(k * slack)], foot, claw, code)
            look.due = day + ceil(k * slack)
            # after so few days the farmer looks
            if k <= story.rules["look.farmer"]:
                look.who = "farmer"
            clear.waits.append((look.id, 0))
            yield look
        else:
            # else saying that it has healed is the look
            clear.due = max(day, first) + ceil(k * slack)
        yield clear


def blocks(story: Story) -> Iterator[Check]:
    for (foot, claw), (state, day) in sorted(story.blocks.items()):
        if state == "on":
            first, due = block_off_from(story, foot, claw)
            # he settles between the block and turnout
            off = Check("block-off", [first], foot, claw, due=due)
            off.before = story.rules["block.settle"]
            yield off
            # that foot lifted once the block is off
            yield Check("block-look", [], foot, claw, waits=[(off.id, 0)])
        elif lifted_since(story, foot, day) is None:
            # off, but nobody has lifted the foot since
            yield Check("block-look", [], foot, claw, due=day + story.rules["block.look"])


def wraps(story: Story) -> Iterator[Check]:
    for foot, day in sorted(story.wraps.items()):
        # a wrap left on harms: off from the day after, and soon
        yield Check("wrap-off", [day + 1], foot, due=day + story.rules["wrap.most"])
