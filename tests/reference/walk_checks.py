"""The walk that counts, and the walk before it.

Days are ordinals. ``turnout`` is T, None
for a bull that is out.
"""

from __future__ import annotations

from collections.abc import Iterator

from .feet_checks import Check, block_off_from, lifted_since
from .state import Story


def walk_again(story: Story, turnout: int | None) -> Iterator[Check]:
    if story.run is None:
        return
    rules = story.rules
    off = [(block_off_from(story, *place)[0], place) for place in story.on_block()]
    # a week after he was last seen lame, and settled after each block that is still on
    day = story.run.last + rules["mobility.again"]
    day = max([day, *(first + rules["block.settle"] for first, _ in off)])
    # where the walk that counts comes as soon, it is that one (out: none counts, there is no T)
    if turnout is not None and day >= turnout - rules["mobility.oldest"]:
        return
    # nobody is late with a walk that would have said nothing
    check = Check("walk-again", [day], due=max(day, story.settled()) + rules["mobility.late"])
    check.waits.append(("lift", 0))
    # a walk that would say nothing is put off: by pain relief and blocks that are off until both
    # have settled, by blocks until they are off and settled, by wraps until they are off
    check.floors.append(story.settled())
    check.waits += [(f"block-off:{foot}:{claw}", rules["block.settle"]) for _, (foot, claw) in off]
    check.waits += [(f"wrap-off:{foot}", 0) for foot in story.wraps]
    yield check


def walk_floors(story: Story) -> list[int]:
    """What has happened that the walk that counts must not come before."""
    # the days on which something ended, or he came in
    rules = story.rules
    floors = [*story.seen_clear, *story.came_in, *story.unwrapped]
    # a vet's word that he is fit says nothing of how he walked before
    floors += [*story.body_ended, *story.unfit_ended]
    for day, back in story.hurt:
        # a back that may be strained takes longer
        floors.append(day + rules["incident.settle_back" if back else "incident.settle"])
    floors += [day + rules["trim.settle"] for day in story.trims]
    for (foot, _), (state, day) in story.blocks.items():
        if state == "off":
            # the foot lifted after a block
            floors.append(lifted_since(story, foot, day) or 0)
    return [*floors, story.settled()]


def good_walk(story: Story, turnout: int, others: list[Check], floors: list[int]) -> bool:
    """Whether the last score is the walk that counts."""
    # nothing of all this may be in the way of a last score that is sound, fresh and counts
    against = (
        story.run,
        story.walks_on(),
        [finding for finding in story.open.values() if finding.holds],
        stiff(story),
        [check for check in others if check.check in ("lift", "block-look")],
    )
    if not story.scores or any(against):
        return False
    day, sound, counts = story.scores[-1]
    oldest = turnout - story.rules["mobility.oldest"]
    return sound and counts and oldest <= day <= turnout and day >= max(floors, default=0)


def stiff(story: Story) -> bool:
    """A body finding of a joint or the back is open."""
    return any(part in ("joint", "back") for part, _ in story.body)


def mobility(story: Story, turnout: int, others: list[Check]) -> Iterator[Check]:
    floors = walk_floors(story)
    if good_walk(story, turnout, others, floors):
        return
    # what is planned comes before it as well as what has been; the vet's looks only where joint or
    # back may show in the walk
    floors.append(turnout - story.rules["mobility.oldest"])
    if story.run:
        floors.append(story.run.last + story.rules["mobility.again"])
    check = Check("mobility", floors)
    for other in others:
        if other.check == "block-off":
            check.waits.append((other.id, story.rules["block.settle"]))
        if other.check in ("lift", "block-look", "clear", "wrap-off"):
            check.waits.append((other.id, 0))
        if other.check in ("vet-look", "vet-again") and other.body and stiff(story):
            story.meets(f"walk waits for {other.check} about the body")
            check.waits.append((other.id, 0))
    yield check
