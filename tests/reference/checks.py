"""What is still outstanding for one bull, worked out from the rules for one turnout day.

Days are ordinals. ``turnout`` is T, None
for a bull that is out; ``due_from`` is the turnout from which dues are counted, None where there
are none.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .feet_checks import Check, blocks, clears, feet, lift, wraps
from .figures import grown
from .state import Story, day_of
from .vet_checks import vet_again, vet_exam, vet_look
from .walk_checks import mobility, walk_again


def condition(story: Story, turnout: int) -> Iterator[Check]:
    rules, oldest = story.rules, turnout - story.rules["condition.oldest"]
    outside = max((day for day, inside in story.conditions if not inside), default=None)
    again = 0 if outside is None else outside + rules["condition.again"]
    # a score outside sets the next one that counts off
    # at work he loses condition: what was scored before he came in says nothing any more
    came_in = max(story.came_in, default=0)
    check = Check("condition", [oldest, again, came_in])
    if story.conditions:
        day, inside = story.conditions[-1]
        # inside, fresh enough, since he came in, and long enough after any that was outside
        story.meets("condition of before he came in", inside and oldest <= day < came_in)
        if inside and oldest <= day <= turnout and day >= max(again, came_in):
            return
        # where the score that counts is still far off, one before it
        if not inside and day + rules["condition.again"] < oldest:
            first = day + rules["condition.again"]
            yield Check("condition-again", [first], due=first + rules["condition.late"])
            check.waits.append(("condition-again", 0))
    yield check


def quarantine_until(story: Story) -> int | None:
    """The first day out of quarantine."""
    arrived, origin = story.bull.get("arrived"), story.bull.get("origin")
    story.meets("arrived, from where is not said", bool(arrived) and origin is None)
    story.meets("arrived, though born here", bool(arrived) and origin == "homebred")
    # who arrived was elsewhere, whatever else is said of him; so was who comes back from hire
    came = [day_of(arrived)] if arrived else []
    came += [story.back_again] if story.back_again is not None else []
    return max(came) + int(story.rules["quarantine.days"]) if came else None


def quarantine(story: Story, today: int) -> Iterator[Check]:
    # this long he stands apart
    free = quarantine_until(story)
    if free is not None and today < free:
        yield Check("quarantine", [free])


def age(story: Story, today: int) -> Iterator[Check]:
    # until he is grown enough, on the calendar
    old_enough = grown(story)
    if old_enough is not None and today < old_enough:
        yield Check("age", [old_enough])


def own_rules(story: Story) -> list[dict[str, Any]]:
    """The farm's own checks that apply to this bull."""
    kinds = {"all"} | origins(story)
    return [own for own in story.rules["checks"] if own.get("applies", "all") in kinds]


def origins(story: Story) -> set[str]:
    """What he may be: homebred, bought, hired."""
    if "origin" in story.bull:
        return {story.bull["origin"]}
    # one who arrived, nobody says from where, may be either of these; else he is taken as born here
    return {"bought", "hired"} if story.bull.get("arrived") else {"homebred"}


def own_checks(story: Story, turnout: int, due_from: int | None) -> Iterator[Check]:
    for own in own_rules(story):
        # passed not too long ago and not too close to turnout; one kind of pass is for life
        ever, lag = own.get("from", "ever") == "ever", own.get("lag", 0)
        first, last = 0 if ever else turnout - own["from"], turnout - lag
        # a test holds for so many days from its own: turnout must not come after them
        if "valid" in own:
            first = max(first, turnout - own["valid"])
        said = story.own.get(own["name"].casefold(), [])
        # nor after the day to which this very test is said to hold
        out_of_date = [until is not None and turnout > until for _, _, until in said]
        story.meets("own check: held, and no longer at turnout", any(out_of_date))
        good = any(
            result == "pass"
            and first <= day <= last
            and not out_of_date[place]
            # a fail of that day says more than a pass of it
            and all(other != "fail" for then, other, _ in said if then >= day)
            for place, (day, result, _) in enumerate(said)
        )
        if not good:
            check = Check(own["name"], [first], before=lag, who=own.get("who", "farmer"))
            # on the day of a fail he passes no more
            check.floors += [day + 1 for day, result, _ in said if result == "fail"]
            check.due = None if due_from is None else due_from - own.get("to", 0)
            yield check


# what a bull must not go out without
def before_going_out(story: Story) -> set[str]:
    """The names of the checks that going out does not clear."""
    return {"feet", "mobility", "condition", "vet-exam"} | {o["name"] for o in own_rules(story)}


def outstanding(story: Story, today: int, turnout: int | None, due_from: int | None) -> list[Check]:
    """Everything outstanding, in the order of their days."""
    checks = [*lift(story), *clears(story), *blocks(story), *wraps(story)]
    looks = [*vet_look(story, today), *vet_again(story)]
    again = list(walk_again(story, turnout))
    if turnout is None:
        # out: what his feet, his walk and the vet still want; a second look is wanted by the vet as
        # well
        return [*checks, *again, *looks]
    return [
        *feet(story, turnout, due_from),
        *checks,
        *again,
        *mobility(story, turnout, [*checks, *looks]),
        *condition(story, turnout),
        *vet_exam(story, turnout, due_from),
        *looks,
        *quarantine(story, today),
        *age(story, today),
        *own_checks(story, turnout, due_from),
    ]
