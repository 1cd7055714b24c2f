"""What is still outstanding for one bull, worked out from the sentences for one turnout day.

Days are ordinals; quotations are from the specification of the assessment. ``turnout`` is T, None
for a bull that is out; ``due_from`` is the turnout from which dues are counted, None where there
are none.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .feet_checks import Check, asks, blocks, clears, feet, lift, lifted_since, unmet_asks
from .state import Story, day_of


def walk_again(story: Story, turnout: int | None) -> Iterator[Check]:
    if story.run is None:
        return
    # "when lame now and last lame day + mobility.again < T - mobility.oldest: from there, not
    # before `lift`, due + mobility.late" (for a bull that is out there is no T to compare with)
    day = story.run.last + story.rules["mobility.again"]
    if turnout is None or day < turnout - story.rules["mobility.oldest"]:
        due = day + story.rules["mobility.late"]
        yield Check("walk-again", [day], waits=[("lift", 0)], due=due)


def walk_floors(story: Story) -> list[int]:
    """What has happened that the walk that counts must not come before."""
    rules, floors = story.rules, list(story.seen_clear) + story.came_in
    floors += [day + rules["incident.settle"] for day in story.hurt]
    floors += [day + rules["trim.settle"] for day in story.trims]
    floors += [day + rules["pain.settle"] for day in story.pain]
    for (foot, _), (state, day) in story.blocks.items():
        if state == "off":
            # "block-off + block.settle, its block-look (the first lift of that foot from
            # block-off on)"
            floors += [day + rules["block.settle"], lifted_since(story, foot, day) or 0]
    return floors


def mobility(story: Story, turnout: int, others: list[Check]) -> Iterator[Check]:
    oldest, floors = turnout - story.rules["mobility.oldest"], walk_floors(story)
    lifting = [c for c in others if c.check in ("lift", "block-look")]
    holding = [finding for finding in story.open.values() if finding.holds]
    # "satisfied when the last score is sound and counts, not lame now, lies in [T-mobility.oldest,
    # T], no block is on, no holding finding open, no lift or block-look outstanding, and it is on
    # or after: [...]"
    if story.scores and not (story.run or story.on_block() or holding or lifting):
        day, sound, counts = story.scores[-1]
        if sound and counts and oldest <= day <= turnout and day >= max(floors, default=0):
            return
    # "Otherwise outstanding, not before all of these, planned ones included, last lame day +
    # mobility.again while lame now, and T-mobility.oldest."
    floors.append(oldest)
    if story.run:
        floors.append(story.run.last + story.rules["mobility.again"])
    check = Check("mobility", floors)
    for other in others:
        if other.check == "block-off":
            check.waits.append((other.id, story.rules["block.settle"]))
        if other.check in ("lift", "block-look", "clear"):
            check.waits.append((other.id, 0))
    yield check


def condition(story: Story, turnout: int) -> Iterator[Check]:
    rules, oldest = story.rules, turnout - story.rules["condition.oldest"]
    outside = max((day for day, inside in story.conditions if not inside), default=None)
    again = 0 if outside is None else outside + rules["condition.again"]
    check = Check("condition", [oldest, again])
    if story.conditions:
        day, inside = story.conditions[-1]
        # "satisfied when the last score is inside hold, in [T-condition.oldest, T], and at least
        # condition.again after the last score outside hold"
        if inside and oldest <= day <= turnout and day >= again:
            return
        # "`condition-again`, when the last is outside and that day + condition.again <
        # T - condition.oldest: from there, due + condition.late; condition not before it"
        if not inside and day + rules["condition.again"] < oldest:
            first = day + rules["condition.again"]
            yield Check("condition-again", [first], due=first + rules["condition.late"])
            check.waits.append(("condition-again", 0))
    yield check


def vet_exam(story: Story, turnout: int, due_from: int | None) -> Iterator[Check]:
    rules, oldest = story.rules, turnout - story.rules["vet.oldest"]
    last: dict[str, Any] = story.exams[-1] if story.exams else {"outcome": None}
    # "After unsatisfactory there is none: a person decides"
    if last["outcome"] == "unsatisfactory":
        return
    # "vet-exam is outstanding also where vet.required is false if the last was deferred"
    if not rules["vet.required"] and last["outcome"] != "deferred":
        return
    ill = max(story.ill, default=None)
    if last["outcome"] == "satisfactory":
        # "satisfied when the last is satisfactory, in [T-vet.oldest, T] and after the last
        # illness day"
        day = day_of(last["on"])
        if oldest <= day <= turnout and (ill is None or day > ill):
            return
    # "First day: T-vet.oldest, illness + 1, and after deferred `again_on` or exam + vet.again."
    check = Check("vet-exam", [oldest])
    if ill is not None:
        check.floors.append(ill + 1)
    if last["outcome"] == "deferred":
        again = last.get("again_on")
        check.floors.append(day_of(again) if again else day_of(last["on"]) + rules["vet.again"])
    if due_from is not None:
        # "vet.advised | 56 to 28 d | advised days before T"
        check.advised_by = due_from - rules["vet.advised"][1]
    yield check


def vet_look_asks(story: Story, today: int) -> Iterator[tuple[int, str | None]]:
    """The days on or after which a vet's look is asked for, each with the foot of its finding."""
    rules = story.rules
    for ask in story.vet_asks:
        # "while it is open or for vet.memory days"
        if ask.finding in story.open.values() or today - ask.day <= rules["vet.memory"]:
            yield ask.day, ask.foot
    for day in story.worst_scores:
        # "the worst mobility score, for vet.memory days"
        if today - day <= rules["vet.memory"]:
            yield day, None
    if story.run is None:
        return
    nothing = nothing_found(story)
    if nothing is not None:
        yield nothing, None
    # "lame now and more than lame.long days since the later of the run's first day and the last
    # vet's look (that day + lame.long)"
    since = max([story.run.first] + [day for day, _ in story.vet_looks])
    if today - since > rules["lame.long"]:
        yield since + rules["lame.long"], None


def nothing_found(story: Story) -> int | None:
    """Lame with nothing in the asked feet that could hold: the day on which that was known."""
    # "lame now, every asked foot lifted, no holding finding open, and since the run began no
    # finding listed on an asked foot but of codes that never hold (the day on which the last asked
    # foot was lifted, each taken at its first lift since asked)"
    if story.run is None or unmet_asks(story):
        return None
    if any(finding.holds for finding in story.open.values()):
        return None
    asked = asks(story)
    feet_asked = {ask.foot for ask in asked}
    for day, foot, code in story.listed:
        could_hold = not story.rules["findings"][code].never_holds
        if could_hold and foot in feet_asked and day >= story.run.first:
            return None
    return max(lifted_since(story, ask.foot, ask.since) or 0 for ask in asked)


def vet_look(story: Story, today: int) -> Iterator[Check]:
    # "a vet's look [...] on or after the day of each of the following; one that names a foot
    # answers findings of that foot only, and lameness"
    unmet = [
        day
        for day, foot in vet_look_asks(story, today)
        if not any(
            seen >= day and (foot is None or named is None or named == foot)
            for seen, named in story.vet_looks
        )
    ]
    if unmet:
        # "Due the earliest unmet + vet.look."
        yield Check("vet-look", [], due=min(unmet) + story.rules["vet.look"])


def quarantine_until(story: Story) -> int | None:
    """The first day out of quarantine of a bought-in bull."""
    # "bought-in bulls, from `arrived`"
    if story.bull.get("origin") != "bought":
        return None
    return day_of(story.bull["arrived"]) + int(story.rules["quarantine.days"])


def quarantine(story: Story, today: int) -> Iterator[Check]:
    # "`quarantine` while D < arrived + quarantine.days: from that day."
    free = quarantine_until(story)
    if free is not None and today < free:
        yield Check("quarantine", [free])


def own_rules(story: Story) -> list[dict[str, Any]]:
    """The farm's own checks that apply to this bull."""
    bought = story.bull.get("origin") == "bought"
    return [own for own in story.rules["checks"] if own.get("applies", "all") == "all" or bought]


def own_checks(story: Story, turnout: int) -> Iterator[Check]:
    for own in own_rules(story):
        first, last = turnout - own["from"], turnout - own["to"]
        said = story.own.get(own["name"], [])
        # "a pass in their window", "not followed by a later fail"
        good = any(
            result == "pass"
            and first <= day <= last
            and all(later != "fail" for _, later in said[place + 1 :])
            for place, (day, result) in enumerate(said)
        )
        if not good:
            yield Check(own["name"], [first], before=own["to"], who=own.get("who", "farmer"))


def outstanding(story: Story, today: int, turnout: int | None, due_from: int | None) -> list[Check]:
    """Everything outstanding, in the order of the specification."""
    checks = [*lift(story), *clears(story), *blocks(story), *walk_again(story, turnout)]
    if turnout is None:
        # "For a bull that is out, only reasons count, and lift, look, clear, block-off,
        # block-look, walk-again and vet-look, with no T"
        return [*checks, *vet_look(story, today)]
    return [
        *feet(story, turnout, due_from),
        *checks,
        *mobility(story, turnout, checks),
        *condition(story, turnout),
        *vet_exam(story, turnout, due_from),
        *vet_look(story, today),
        *quarantine(story, today),
        *own_checks(story, turnout),
    ]
