"""What is odd in an entry after all that was said of the bull before it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from readiness.engine import say
from readiness.engine.advice import weight_lost
from readiness.engine.assess import assess
from readiness.engine.bull_checks import doubtful_figures
from readiness.entries.entry import Entry
from readiness.history import History, advance, ordinal
from readiness.history.finding import claws_of
from readiness.history.groups import Group
from readiness.history.records import Exam
from readiness.history.vet import FIGURES
from readiness.trade.ages import birth_in
from readiness.trade.bulls import FOR_GOOD
from readiness.trade.codes import STAGED
from readiness.trade.females import speaks_of_heifers
from readiness.trade.readings import reads_otherwise

Body = Mapping[str, Any]
NOT_SAID_SAFE = "nobody has said whether he is safe with them"
GroupOf = Callable[[History, int], Group | None]


def no_group(_state: History, _day: int) -> None:
    """Of a bull whose groups nobody knows."""


def by_history(
    body: Body, kind: str, day: int, before: History, group_of: GroupOf = no_group
) -> list[str]:
    """Warnings about one entry of ``day``, given his history before it."""
    if before.gone and not (kind == "moved" and body["act"] == "in"):
        return [
            "he has left: he is on no board until somebody writes that he came in again, or the "
            "leaving is taken back"
        ]
    if kind == "bull":
        return [*_bull(body, day, before, group_of)]
    if kind == "join":
        return [*_join(body, day, before, group_of)]
    if kind == "moved" and body["act"] == "out":
        return [*_out(body, day, before, group_of)]
    look = _BY_KIND.get(kind)
    return [*look(body, day, before)] if look is not None else []


def _feet(body: Body, day: int, before: History) -> list[str]:
    return [
        *_missing(body.get("healed", ()), "code", "healed", before),
        *_missing((f for f in body.get("findings", ()) if "was" in f), "was", "renamed", before),
        *_too_soon(body, day, before),
        *_ungraded(body, before),
        *_unstaged(body, before),
        *_no_wrap(body, before),
    ]


def _missing(items: Iterable[Body], field: str, what: str, before: History) -> Iterator[str]:
    for item in items:
        for claw in claws_of(item["claw"]):
            if (item["foot"], claw, item[field]) not in before.feet.open:
                which = say.found(item[field], item["foot"], claw)
                yield f"{what}: {which}: no such finding was open there"


def _too_soon(body: Body, day: int, before: History) -> Iterator[str]:
    for tried in before.feet.tried(day, body):
        foot, claw, code = tried.key
        where = say.found(code, foot, claw)
        if tried.elsewhere:
            yield (
                f"{where}: this speaks of another zone than the one that holds him: list every "
                "spot, or say healed; until then this counts as a look, and he is held"
            )
        elif day < tried.plausible:
            yield (
                f"{where} cannot be believed gone before "
                f"{say.day(tried.plausible, day)}: this counts as a look, and he is held until a "
                "lift from that day on says so again"
            )
        else:
            yield (
                f"{where} keeps its name: say how bad it is under the new one; until then this "
                "counts as a look, and he is held"
            )


def _ungraded(body: Body, before: History) -> Iterator[str]:
    """Where the severity decides and nobody has said it, he is held."""
    for item in body.get("findings", ()):
        rule = before.rules.findings[item["code"]]
        if "severity" in item or rule.holds_from <= 1:
            continue
        for claw in claws_of(item["claw"]):
            known = before.feet.open.get((item["foot"], claw, item["code"]))
            if known is None or known.severity is None:
                yield f"{say.found(item['code'], item['foot'], claw)}: {say.UNSAID_HOLDS}"


def _unstaged(body: Body, before: History) -> Iterator[str]:
    """A stage that nobody has said, now or before, is taken for one that holds him."""
    for item in body.get("findings", ()):
        if item["code"] != STAGED or "stage" in item:
            continue
        for claw in claws_of(item["claw"]):
            known = before.feet.open.get((item["foot"], claw, item["code"]))
            if known is None or known.stage is None:
                yield f"{item['foot']} DD has no stage: it holds him"


def _no_wrap(body: Body, before: History) -> Iterator[str]:
    for done in body.get("work", ()):
        if done["act"] == "unwrap" and done["foot"] not in before.wraps:
            yield f"no wrap on {done['foot']} was written down: it counts as off from this day"


def _block_on(body: Body, day: int, before: History) -> list[str]:
    foot, claw = body["foot"], body["claw"]
    there = [f for f in before.feet.open.values() if (f.foot, f.claw) == (foot, claw)]
    names = ", ".join(before.rules.findings[finding.code].name for finding in there)
    found = []
    if there:
        found.append(
            f"{say.place(foot, claw)} carries an open finding ({names}): a block belongs on the "
            "sound claw; take it off"
        )
    if (foot, claw) in before.blocks:
        fitted = say.day(before.blocks[foot, claw].day, day)
        found.append(f"a block has been on {say.place(foot, claw)} since {fitted}: counted as new")
    return found


def _block_off(body: Body, day: int, before: History) -> list[str]:
    if (body["foot"], body["claw"]) in before.blocks:
        return []
    where = say.place(body["foot"], body["claw"])
    return [f"no block on {where} was written down: it counts as off from this day"]


def _mobility(body: Body, day: int, before: History) -> list[str]:
    scale, run = before.rules.mobility[body["scale"]], before.run
    if body["score"] >= scale.lame:
        return []
    for carried, name in ((before.blocks, "block"), (before.wraps, "wrap")):
        if carried:
            return [f"not lame, but on a {name}: no walk counts until the {name} is off"]
    again = before.rules.limits.mobility_again
    if run is None:
        return []
    if day < run.lame.day + again:
        first = say.day(run.lame.day + again, day)
        return [f"sound too soon after he was last lame to count: score him again from {first}"]
    if day < before.masked_until:
        first = say.day(before.masked_until, day)
        return [f"sound, but after pain relief or a block: it ends no lameness before {first}"]
    best = body["score"] == scale.low
    if not best and not (run.mild and day >= run.mild.day + again):
        first = say.day((run.mild.day or day) + again, day)
        return [
            f"sound, but not {scale.low}, the best of the scale: he counts as lame until he walks "
            f"{scale.low}, or as well as today from {first} on"
        ]
    return []


def _out(body: Body, day: int, before: History, group_of: GroupOf) -> Iterator[str]:
    """A bull let out on hold is what this program is there to prevent."""
    if body.get("reason") in FOR_GOOD:
        yield f"out, and {body['reason']}: who is gone for good has left; he counts as at work"
    if before.out:
        yield f"he is out since {say.day(before.out.day, day)} already: this changes nothing"
        return
    group = group_of(before, day)
    found = assess(
        before,
        day,
        turnout=day,
        group=group.name if group else None,
        role=before.role,
        heifers=group is not None and group.heifers,
    )
    if found.status == "GO":
        return
    why = [reason.text for reason in found.reasons]
    asked = ("lift", "vet-look", "vet-again")  # said among the reasons
    lacks = [check.text for check in found.outstanding if check.check not in asked]
    held = f"on hold: {'; '.join(why)}" if why else "on hold"
    undone = f"; not done: {'; '.join(lacks)}" if lacks else ""
    yield f"goes out {held}{undone}. Going out clears nothing"


def _join(body: Body, day: int, before: History, group_of: GroupOf) -> Iterator[str]:
    """A bull who is out with others; one put to heifers: whether he is safe with them, quiet enough
    and not too heavy."""
    if before.out and before.group is not None and body.get("group") != before.group:
        yield (
            f"he is out with {before.group} since {say.day(before.out.day, day)}: where he is not "
            "any more, write that he came in"
        )
    joined = replace(before, group=body.get("group"))
    group = group_of(joined, day)
    if group is None or not (group.heifers or speaks_of_heifers(group.name)):
        return
    name = f"{group.name} {'is a group of heifers' if group.heifers else 'has heifers in its name'}"
    profile, limits = before.profile, before.rules.limits
    heavy = limits.heavy_kg
    if profile.get("heifer_safe") is False:
        held = ": he is held there" if group.heifers and limits.heifers_safe else ""
        yield f"{name}, and he is said not to be safe with them{held}"
    elif "heifer_safe" not in profile:
        yield f"{name}, and {NOT_SAID_SAFE}"
    if profile.get("temper") == "dangerous":
        yield f"{name}, and he is dangerous"
    if before.weight is not None and before.weight[1] >= heavy:
        yield f"{name}, and he weighs {say.number(before.weight[1])} kg (heavy from {heavy})"


def _bull(body: Body, day: int, before: History, group_of: GroupOf) -> Iterator[str]:
    """A bull written down again: another name or birth may be another bull, another farm takes him
    out of his group."""
    was = before.profile
    name, birth = body.get("name"), birth_in(body)
    if name and str(was.get("name", name)).casefold() != name.casefold():
        yield f"his name was {was['name']} until now, {name} here: is this the same bull?"
    if birth and before.birth and birth.denies(before.birth):
        known = before.birth.words
        yield f"born {known} until now, {birth.words} here: is this the same bull?"
    if was.get("heifer_safe") is False and body.get("heifer_safe"):
        yield "not safe with heifers until now, safe here: be sure of it"
    came = ordinal(body["arrived"]) if "arrived" in body else before.arrived.day
    if came < before.arrived.day:
        yield (
            f"arrived {say.day(before.arrived.day, day)} until now, {say.day(came, day)} here: be "
            "sure of it, his quarantine hangs on it"
        )
    if before.farm and body.get("farm", before.farm) != before.farm:
        group = group_of(replace(before, profile={**was, **body}), day)
        where = f"in the group {group.name}" if group else "in no group until he joins one"
        now = f"by the rules of that farm, and {where}"
        yield f"he goes from {before.farm} to {body['farm']}: he is {now}"


def _left(body: Body, day: int, before: History) -> list[str]:
    """Sold or culled while a medicine's withdrawal runs."""
    ends = before.withdrawal
    if body["act"] != "left" or body.get("reason") not in ("sold", "culled"):
        return []
    if ends is None or day > ends[0]:
        return []
    return [
        f"leaves before the withdrawal ({ends[1]}) ends on {say.day(ends[0], day)}: not for "
        "slaughter before, and whoever takes him must know"
    ]


WORSE_COUNTS = (
    "written for this day, too: the worse of the two counts, until a later day; take back what was "
    "a slip"
)


def _vet_exam(body: Body, day: int, before: History) -> list[str]:
    """Passed with a figure too low, which holds him; another word of that day; passed after he had
    failed, without a figure: a slip of the pen, or a person's decision."""
    after = History(before.rules, birth=before.birth, exam=before.exam)
    advance(after, Entry(day, "", 0, "", "vet-exam", "", body))
    found = [
        f"{figure.text}: it holds him until the vet stands by it"
        for figure in doubtful_figures(after)
    ]
    exam = before.exam
    if exam is not None and exam.day == day:
        return [*found, *_of_one_day(body, exam)]
    if (
        body["outcome"] == "satisfactory"
        and exam is not None
        and exam.outcome == "unsatisfactory"
        and not any(figure in body for figure in FIGURES)
    ):
        failed = say.day(exam.day, day)
        found.append(
            f"satisfactory after unsatisfactory on {failed}, without a figure: is this right?"
        )
    return found


def _of_one_day(body: Body, exam: Exam) -> Iterator[str]:
    """What an examination of the same day says otherwise."""
    if exam.outcome != body["outcome"]:
        yield f"{exam.outcome} is {WORSE_COUNTS}"
    for name, told in exam.figures.items():
        other = [f"{said.value:g}" for said in told if said.day == exam.day]
        if name in body and other and f"{body[name]:g}" not in other:
            yield f"{name.split('_')[0]} {' and '.join(other)} is {WORSE_COUNTS}"


def _weight(body: Body, day: int, before: History) -> list[str]:
    """Much less than he weighed a while ago: he is ill, or a digit is missing."""
    text = weight_lost([*before.weights, (day, body["kg"])], before.rules.limits, day)
    return [f"{text}: is this right?"] if text else []


def _check(body: Body, day: int, before: History) -> list[str]:
    name, passed, odd = body["check"], body["result"] == "pass", []
    for tested in before.checks.get(name.casefold(), ())[-1:]:
        if tested.day == day and tested.passed != passed:
            said = "passed" if tested.passed else "failed"
            odd.append(f"{name}: {said} is {WORSE_COUNTS}")
    if passed and (word := reads_otherwise(body.get("reading", ""))):
        odd.append(
            f"{name} is written as passed, and they wrote {word}: where he failed, say failed"
        )
    if all(own.name.casefold() != name.casefold() for own in before.rules.checks):
        what = "it holds nobody" if passed else "it is said beside him, and holds nobody"
        odd.append(f"the rules know no check named {name}: kept, and {what}")
    return odd


_BY_KIND: dict[str, Callable[[Body, int, History], list[str]]] = {
    "feet": _feet,
    "block-on": _block_on,
    "block-off": _block_off,
    "mobility": _mobility,
    "moved": _left,
    "weight": _weight,
    "vet-exam": _vet_exam,
    "check": _check,
}
