"""What still asks for the vet: the examination, his look, and his look again.

Days are ordinals. ``due_from`` is the
turnout from which dues are counted, None where there are none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from typing import Any

from .feet_checks import Check, lifted_since
from .figures import last_exam, too_low, wanted_again
from .state import Ask, Look, Run, Sick, Story, day_of


def person_decides(story: Story) -> bool:
    # the last examination failed, or a vet's no stands: no check of ours decides
    last = last_exam(story)
    last_bad = last is not None and last["outcome"] == "unsatisfactory"
    story.meets("unsatisfactory", last_bad)
    return last_bad or bool(story.unfit)


def exam_counts(story: Story, turnout: int) -> bool:
    """Whether the last examination is one that counts for that turnout."""
    rules = story.rules
    last: dict[str, Any] = last_exam(story) or {"outcome": None}
    if story.ill_still:
        # whoever is ill needs a vet to say that he is fit, whatever the rules ask for
        return False
    if not rules["vet.required"]:
        # not asked for, but what a vet left open is
        return last["outcome"] in (None, "satisfactory") and not too_low(story)
    if last["outcome"] != "satisfactory" or too_low(story):
        return False
    # good, fresh, well after any illness, and no figure too low that he does not stand by
    day, ill = day_of(last["on"]), max(story.ill, default=None)
    in_time = turnout - rules["vet.oldest"] <= day <= turnout
    settled = ill is None or day >= ill + rules["illness.settle"]
    story.meets("examined too soon after illness", not settled)
    said_ill = [k.day for k in story.looks if k.about == "illness" and k.outcome != "fit"]
    story.meets("examined too soon after a look about illness", not settled and ill in said_ill)
    return in_time and settled


def vet_exam(story: Story, turnout: int, due_from: int | None) -> Iterator[Check]:
    if person_decides(story) or exam_counts(story, turnout):
        return
    # not before the window, nor too soon after illness, nor before the vet wants him again
    rules = story.rules
    check = Check("vet-exam", [turnout - rules["vet.oldest"]])
    check.floors += [day + rules["illness.settle"] for day in story.ill]
    last = last_exam(story)
    if last is not None and last["outcome"] == "deferred":
        story.meets("deferred to a day" if last.get("again_on") else "deferred")
        check.floors.append(wanted_again(story, last))
    if due_from is not None:
        check.advised_by = due_from - rules["vet.advised"]
    yield check


def answers_lameness(look: Look, run: Run) -> bool:
    """Whether a look answers what that run of lameness asks."""
    # a look at one foot speaks for lameness only where that foot was asked for
    asked = {foot for day, foot in run.asked if day <= look.day}
    return look.matter == "feet" and (look.foot is None or look.foot in asked)


def seen_body(story: Story, sick: Sick) -> bool:
    # a look at his body, at all of it or this part, later than the finding
    return any(
        look.about == "body"
        and look.place > sick.place
        and (look.part is None or (look.part, look.limb) == sick.part)
        for look in story.looks
    )


def unmet_findings(story: Story, today: int) -> Iterator[int]:
    for ask in story.vet_asks:
        # open, or recent enough to be remembered
        lasts = ask.finding in story.open.values()
        story.meets("vet asked for what is open, past memory", lasts and today - ask.day > 120)
        if not lasts and today - ask.day > story.rules["vet.memory"]:
            continue
        # a look of that day or later, at that foot or at all
        foot = ask.finding.key[0]
        if not any(
            look.matter == "feet" and look.day >= ask.day and look.foot in (None, foot)
            for look in story.looks
        ):
            yield ask.day


def unmet_lameness(story: Story, today: int) -> Iterator[int]:
    asked: list[tuple[int, Run, str | None]] = [
        # the worst score, as long as it is remembered
        (step.day, run, step.limb)
        for step, run in story.worst_scores
        if today - step.day <= story.rules["vet.memory"]
    ]
    run = story.run
    if run is not None:
        asked += [(day, run, None) for day in refusals(story, run)]
        nothing = nothing_found(story, run)
        if nothing is not None:
            story.meets("lame, nothing found")
            asked.append((nothing, run, None))
        # too long lame since it began or since a vet last looked
        since = max([run.first] + [k.day for k in story.looks if answers_lameness(k, run)])
        if today - since > story.rules["lame.long"]:
            story.meets("lame for long")
            asked.append((since + story.rules["lame.long"], run, None))
    for day, of, limb in asked:
        after = [look for look in story.looks if look.day >= day and look.matter == "feet"]
        # of the limb on which he could hardly walk, only what looks at that limb or at all
        if not any(answers_lameness(k, of) and (not limb or k.foot in (None, limb)) for k in after):
            of_run = any(answers_lameness(look, of) for look in after)
            story.meets("worst score, a look at another lame foot", of_run)
            story.meets("look at a foot that lameness did not ask for", bool(after) and not of_run)
            yield day


def asked_in(story: Story, run: Run) -> list[Ask]:
    # by this run's events and by limbs suspected since it began
    return [ask for ask in story.asks if ask.made >= run.first]


def refusals(story: Story, run: Run) -> Iterator[int]:
    # each time an asked foot would not go up, until it does
    for day, foot in story.refused:
        asked = any(ask.foot == foot and day >= ask.since for ask in asked_in(story, run))
        if day >= run.first and asked and lifted_since(story, foot, day) is None:
            story.meets("asked foot refused")
            yield day


def nothing_found(story: Story, run: Run) -> int | None:
    """Lame with nothing in the asked feet that could hold: the day on which that was known."""
    # all asked feet were up and nothing in them can be why he is lame
    asked = asked_in(story, run)
    lifted = [lifted_since(story, ask.foot, ask.since) for ask in asked]
    if any(finding.holds for finding in story.open.values()):
        return None
    feet = {ask.foot for ask in asked}
    if any(foot in feet and day >= run.first for day, foot in story.could_hold):
        return None
    last = 0
    for day in lifted:
        if day is None:
            return None
        last = max(last, day)
    return last


def vet_look(story: Story, today: int) -> Iterator[Check]:
    # each part that is wrong, until a vet looks at it
    body = [sick.day for sick in story.body.values() if not seen_body(story, sick)]
    unmet = [*unmet_findings(story, today), *unmet_lameness(story, today), *body]
    if unmet:
        # at once, counted from the first that still waits
        due = min(unmet) + story.rules["vet.look"]
        yield Check("vet-look", [], due=due, body=bool(body))


def answered(story: Story, asking: Look) -> bool:
    # a later look about the same place or all of it; of illness and the rest an examination will do
    by_exam = asking.matter in ("illness", "other") and any(
        day_of(exam["on"]) > asking.day for exam in story.exams
    )
    by_look = any(
        look.day > asking.day and look.matter == asking.matter and look.answers(asking.names)
        for look in story.looks
    )
    story.meets("vet-again answered by an examination", by_exam)
    story.meets("vet-again answered by a look", by_look)
    return by_look or by_exam


def vet_again(story: Story) -> Iterator[Check]:
    same: Counter[str] = Counter()
    for look in story.looks:
        # one check for each look that wants another
        if look.outcome != "again":
            continue
        tail = f"{date.fromordinal(look.day)}:{look.about}" + f":{look.part}" * bool(look.part)
        foot = look.foot or look.limb
        check = Check("vet-again", [], foot, tail=tail)
        same[check.id] += 1
        if same[check.id] > 1:
            story.meets("two looks of a day say again of the same")
            check.tail = f"{tail}:{same[check.id]}"
        if answered(story, look):
            continue
        # the day that he gave, or the usual one; that same day would answer nothing
        story.meets("again on that very day", look.again_on == look.day)
        day = max(look.again_on or look.day + story.rules["vet.look_again"], look.day + 1)
        check.floors, check.due = [day], day + story.rules["vet.look"]
        check.body = look.about == "body"
        yield check
