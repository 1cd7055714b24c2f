"""One bull in plain sentences: how he stands, why a check is asked for, the steps of his chain."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine.bull_checks import birthday, figure_rules, old_enough
from readiness.engine.care import cares, withdrawals
from readiness.engine.own import own_checks, passes
from readiness.engine.results import Assessment, Check
from readiness.entries.entry import Entry
from readiness.herd.card import Card
from readiness.history import History
from readiness.history.records import Block
from readiness.report.check_days import too_late_words
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.body import part_words
from readiness.trade.feet import FEET, spot_words
from readiness.trade.scales import score_words
from readiness.trade.words import (
    day_words,
    days_words,
    list_words,
    number_words,
    sentence,
    when_words,
)

STATUS = {
    "reason": "HOLD for a reason",
    "checks": "HOLD, checks to come",
    "go": "GO",
    "care": "GO, but",
}
_ENTRY = {
    "bull": "arrived",
    "feet": "feet lifted",
    "block-on": "block fitted",
    "block-off": "block off",
    "mobility": "walked",
    "condition": "condition scored",
    "vet-exam": "vet's examination",
    "vet-look": "vet's look",
    "treatment": "treated",
}


def person(card: Card, on: int) -> str:
    """Breed, age and weight, as far as they are known."""
    profile = card.state.profile
    parts = [plain(str(profile["breed"]))] if profile.get("breed") else []
    if card.state.birth:
        parts.append(card.state.birth.age_words(on))
    if card.state.weight is not None:
        day, kg = card.state.weight
        parts.append(f"{number_words(kg)} kg on {day_words(day, on)}")
    return ", ".join(part for part in parts if part) or "breed and age unknown"


def standing_in(card: Card, on: int, room: int | None = None) -> str:
    """Farm, group, role and turnout; where that is wider than ``room`` without the farm, then
    without how many days are left: the day of turnout stands whatever else does not."""
    bull = card.assessment
    farm = [plain(bull.farm)] if bull.farm else []
    if card.state.gone:
        return ", ".join([*farm, "has left"])
    if bull.group is None or bull.turnout is None:
        return ", ".join([*farm, "in no group"])
    group = [plain(bull.group), *(["in reserve"] if bull.role == "reserve" else [])]
    day, when = f"turnout {day_words(bull.turnout, on)}", when_words(bull.turnout, on)
    said = [[*farm, *group, day, when], [*group, day, when], [*group, day], [day, when]]
    lines = [", ".join(parts) for parts in said]
    return next((line for line in lines if room is None or cells(line) <= room), day)


def outlook(bull: Assessment, on: int) -> str:
    """How he stands against turnout, in a sentence that promises nothing."""
    if bull.outlook == "working" and bull.status == "HOLD":
        return "He is out, and held."
    if bull.status == "GO":
        out = bull.outlook == "working"
        stands = "He is out with the females" if out else _READY
        but = "; ".join(said.text for said in cares(bull))
        return plain(f"{stands}, but: {but}.") if but else f"{stands}."
    if bull.earliest_ready is None:
        return no_day(bull)
    day = bull.earliest_ready
    ready = "today" if day == on else f"on {day_words(day, on)}"
    said = f"Could go {ready}, if all is done and every check passes"
    if bull.turnout is None or bull.slack_days is None:
        return f"{said}; he has no turnout."
    turnout = day_words(bull.turnout, on)
    if bull.slack_days < 0:
        return f"{said}: {days_words(-bull.slack_days)} too late for turnout on {turnout}."
    tight = ", which is tight" if bull.outlook == "tight" else ""
    return f"{said}: {days_words(bull.slack_days)} to spare before turnout on {turnout}{tight}."


Rests = tuple[str, tuple[str, ...]]
"""What a GO rests on, in words, and the rules by which it counts."""
_READY = "Nothing is outstanding and nothing holds him"
_NO_DAY = {
    "vet-decides": "The vet's word stands against him: a person decides, and no day is given.",
    "not-booked": "His booking was taken back, yet entries speak of him: a person decides.",
    "at-odds": "Copies of the book say of him what cannot both be: a person decides.",
    "wrong-group": "He was said not to be safe with heifers: another group, or another bull.",
}


def no_day(bull: Assessment) -> str:
    """Why no day is given on which he could go."""
    return _NO_DAY.get(bull.outlook, "No day can be given: a person decides.")


def standing(card: Card, on: int) -> list[str]:
    """How he stands, what his GO rests on, and each withdrawal that runs: a sentence each."""
    bull = card.assessment
    said = (outlook(bull, on), rests_on(card, on), *withdrawal_lines(bull))
    return [words for words in said if words]


def rests_on(card: Card, on: int) -> str:
    """What his GO rests on, with its days, and what was never seen; empty where he is not GO."""
    rests = list(resting(card, on))
    return plain(f"His GO rests on: {'; '.join(words for words, _ in rests)}.") if rests else ""


def resting(card: Card, on: int) -> Iterator[Rests]:
    """Each thing that his GO rests on: what was seen last of what he is asked for, what held him
    and was over of late, and the rules by which that counts. Nothing where he is not GO."""
    if not card.state.gone and card.assessment.status == "GO":
        yield from _seen_feet(card.state, on)
        yield from _seen_of_him(card.state, on)
        yield from _over(card, on)
        yield from _ended(card.state, on)


def _seen_feet(state: History, on: int) -> Iterator[Rests]:
    lifted: dict[int, list[str]] = {}
    for foot in FEET:
        lifted.setdefault(state.last_lift(foot), []).append(foot)
    counts = ("feet.oldest", "feet.due")
    for day, feet in sorted(lifted.items()):
        named = "all four feet" if len(feet) == len(FEET) else list_words(feet)
        yield f"{named} lifted {day_words(day, on)}" if day else f"{named} never lifted", counts
    for day, foot in state.refused:
        if day > state.last_lift(foot):
            yield f"{foot} would not lift {day_words(day, on)}", counts
    for found in state.feet.open.values():
        name = f"{state.rules.findings[found.code].name} {spot_words(found.foot, found.claw)}"
        seen = f"{name} there, which holds nobody, seen {day_words(found.looked, on)}"
        yield seen, (f"look.days.{found.code}",)


def _seen_of_him(state: History, on: int) -> Iterator[Rests]:
    walk, scored, exam = state.walk, state.condition, state.exam
    if walk is None:
        yield "no walk", ("mobility.oldest",)
    else:
        lame = (f"mobility.lame.{walk.scale}", f"mobility.advise.{walk.scale}")
        score = _score(walk.score, walk.scale, state.rules.default_mobility)
        seen = f"walk {score} on {day_words(walk.day, on)}"
        yield seen, ("mobility.oldest", *lame)
    if scored is None:
        yield "no condition", ("condition.oldest",)
    else:
        score = _score(scored.score, scored.scale, state.rules.default_condition)
        seen = f"condition {score} on {day_words(scored.day, on)}"
        yield seen, ("condition.oldest", f"condition.hold.{scored.scale}")
    if exam is None:
        yield "no vet's examination", ("vet.required",)
    else:
        seen = f"vet's examination on {day_words(exam.day, on)}, {exam.outcome}"
        yield seen, ("vet.required", "vet.oldest", *figure_rules(exam))
    for own in own_checks(state):
        passed = passes(state, own.name)
        how = f"passed {day_words(passed[-1].day, on)}" if passed else "not passed"
        yield f"{own.name} {how}", (own.name,)


def _score(score: float, scale: str, usual: str) -> str:
    """A score, with its scale where that is not the farm's usual one."""
    return number_words(score) if scale == usual else score_words(score, scale)


def _over(card: Card, on: int) -> Iterator[Rests]:
    """What held him and was over when somebody looked, of late, in the order of its days."""
    state = card.state
    found = [*_cleared(state, on), *_came_off(state, on), *_said_against(card, on)]
    for run in state.spells:
        limb = f" {run.limb}" if run.limb else ""
        words = f"lame{limb} from {day_words(run.first, on)}, sound {day_words(run.ended, on)}"
        found.append((run.ended, (words, ("mobility.again",))))
    if state.body_clear:
        words = f"the vet saw him right {day_words(state.body_clear.day, on)}"
        found.append((state.body_clear.day, (words, ("vet.look",))))
    yield from (rests for day, rests in sorted(found) if day >= _late(state, on))


_AGAINST = {
    "vet-exam": ("outcome", ("unsatisfactory", "deferred"), "vet.required"),
    "vet-look": ("outcome", ("unfit",), "vet.look"),
    "body": ("state", ("wrong",), "vet.look"),
    "check": ("result", ("fail",), ""),
}
"""Kind of entry → its field, what of it is against him, and the rule by which it held him ("": of a
check its own)."""


def _said_against(card: Card, on: int) -> Iterator[tuple[int, Rests]]:
    """What was said against him and answered since."""
    from readiness.shorthand import words  # the board needs none

    own = {each.name for each in own_checks(card.state)}
    for entry in card.entries:
        field, against, rule = _AGAINST.get(entry.kind, ("", (), ""))
        rule = rule or str(entry.body.get("check"))
        if entry.body.get(field) in against and entry.day <= on and (rule in own or "." in rule):
            said = words(entry.body).rstrip(".")
            yield entry.day, (f"{said[0].lower()}{said[1:]} {day_words(entry.day, on)}", (rule,))


def _late(state: History, on: int) -> int:
    """The first day of which it is still told what ended on it: a lift of that day counts."""
    return on - state.rules.limits.feet_oldest


def _cleared(state: History, on: int) -> Iterator[tuple[int, Rests]]:
    """The findings that held him and do no more."""
    for (foot, claw, code), clear in state.feet.cleared.items():
        said, day = "held him until {}", clear.day
        if clear.healed:
            stable = state.feet.stable.get((foot, claw, code)) == day
            said = "seen fit to work {}, though not gone" if stable else "seen healed {}"
        name = f"{state.rules.findings[code].name} {spot_words(foot, claw)}"
        rules = (f"clear.days.{code}", "clear.after_open")
        yield day, (f"{name} {said.format(day_words(day, on))}", rules)


def _came_off(state: History, on: int) -> Iterator[tuple[int, Rests]]:
    """The blocks that came off or were lost, and the last wrap."""
    for block in state.block_off.values():
        yield block.day, (block_off_words(block, on), ("block.settle", "block.look"))
    if state.wrap_off:
        words = f"wrap off {day_words(state.wrap_off.day, on)}"
        yield state.wrap_off.day, (words, ("wrap.most",))


def block_off_words(block: Block, on: int) -> str:
    """ "block LH outer off 2 Nov", of one that came off or was lost."""
    how = "lost" if block.lost else "off"
    return f"block {spot_words(block.foot, block.claw)} {how} {day_words(block.day, on)}"


def _ended(state: History, on: int) -> Iterator[Rests]:
    """What ended by the calendar alone, of late: of older ones all know."""
    limits = state.rules.limits
    ended = {("old enough", "age.least"): old_enough(state)}
    if state.apart:
        over = state.apart.day + limits.quarantine_days
        ended["quarantine over", "quarantine.days"] = over
    for (what, rule), since in ended.items():
        if since is not None and _late(state, on) <= since <= on:
            yield f"{what} since {day_words(since, on)}", (rule,)


def withdrawal_lines(bull: Assessment) -> list[str]:
    """Each withdrawal that runs, as a sentence: until when, of what."""
    return [sentence(plain(said.text)) for said in withdrawals(bull)]


def check_why(check: Check, bull: Assessment, on: int) -> str:
    """Why and how: that no day fits, what it waits for, since when, an advised day that is past."""
    parts = [too_late] if (too_late := too_late_words(check)) else []
    waits = [other.text for other in bull.outstanding if other.id in check.after]
    if waits:
        parts.append(f"after: {', '.join(waits)}")
    if check.since is not None:
        parts.append(f"since {day_words(check.since, on)}")
    if check.advised_by is not None and check.advised_by != check.plan_by:
        parts.append(f"advised by {day_words(check.advised_by, on)}")
    return "; ".join(parts)


def chain(card: Card, on: int) -> str:
    """The steps that give the earliest day, as one line of days."""
    bull = card.assessment
    links, ready = bull.chain, bull.earliest_ready
    if not links or ready is None:
        return ""
    names = {entry.id: _entry(entry) for entry in card.entries}
    names |= {check.id: check.text for check in bull.outstanding}
    names |= {"today": "today", "turnout": "could go"}
    if links[0].to == "age":
        names[links[0].frm] = "born" if birthday(card.state) else "born at the latest"
    # They lead to that day; the first need not be the day of its entry: he was born before he was
    # booked.
    day = ready - sum(link.days for link in links)
    steps = [f"{names.get(links[0].frm, links[0].frm)} {day_words(day, on)}"]
    for link in links:
        day += link.days
        if link.days:
            steps.append(f"{days_words(link.days)} ({link.text})")
        steps.append(f"{names.get(link.to, link.to)} {day_words(day, on)}")
    return plain(" → ".join(steps))


def _entry(entry: Entry) -> str:
    if entry.kind == "incident":
        return str(entry.body["cause"])
    if entry.kind == "body":
        return f"{part_words(entry.body['part'], entry.body.get('limb'))} seen"
    if entry.kind == "moved":
        hired = " from hire" if entry.body.get("reason") == "hired" else ""
        return f"moved {entry.body['act']}{hired if entry.body['act'] == 'in' else ''}"
    if entry.kind == "check":
        return str(entry.body["check"])
    return _ENTRY.get(entry.kind, entry.kind)
