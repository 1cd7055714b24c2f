"""The checks on the bull as a whole: how he walks, his condition, his examination, quarantine; and
all that is outstanding."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from readiness.engine.feet_checks import feet_plans, routine_lift
from readiness.engine.own import own_plans
from readiness.engine.plan import Case, Plan
from readiness.engine.vet import vet_looks
from readiness.history import History
from readiness.history.records import Exam, Mark
from readiness.trade.ages import months_after
from readiness.trade.bulls import came_by_note


class Lasting(NamedTuple):
    """What hangs on no turnout, and so is worked out once for whatever turnouts are asked about.

    ``feet``: the checks on the feet, but for the routine lift; ``looks``: the vet's; ``rest``:
    quarantine and age. ``walk``, ``score``: the walk and the condition score that count, be they
    still to come or not. ``waiting``: a walk counts only after another check.
    """

    feet: list[Plan]
    looks: list[Plan]
    rest: list[Plan]
    walk: Plan
    score: Plan
    waiting: bool


def lasting(case: Case) -> Lasting:
    """What is outstanding whatever the turnout."""
    feet, looks = feet_plans(case), [*vet_looks(case)]
    walk = _walk(case, feet, looks)
    score = Plan(
        "condition", "condition.oldest", "farmer", "score his condition",
        oldest=case.limits.condition_oldest,
    )  # fmt: skip
    _scored_after(score, case)
    waiting = case.state.wrong_on_legs or any(wait.day is None for wait in walk.waits)
    return Lasting(feet, looks, [*_quarantine(case), *_age(case)], walk, score, waiting)


def outstanding(case: Case, known: Lasting | None = None) -> list[Plan]:
    """The checks that are outstanding, in the order in which their days follow each other.
    ``known``: of this bull on this day."""
    fixed = known or lasting(case)
    walks = _walk_again(case, fixed.feet)
    if case.turnout is None:
        return [*fixed.feet, *walks, *fixed.looks]
    return [
        *routine_lift(case, case.turnout), *fixed.feet, *walks,
        *_mobility(case, fixed), *_condition(case, fixed), *_vet_exam(case), *fixed.looks,
        *fixed.rest, *own_plans(case),
    ]  # fmt: skip


def _walk_again(case: Case, feet: list[Plan]) -> Iterator[Plan]:
    state, run, limits = case.state, case.state.run, case.limits
    if run is None:
        return
    offs = [plan for plan in feet if plan.check == "block-off"]
    first = max(
        [run.last.day + limits.mobility_again, *(off.first + limits.block_settle for off in offs)]
    )
    if case.turnout is not None and first >= case.turnout - limits.mobility_oldest:
        return
    masked = list(_masking(state))
    # Nobody is late with a walk that could not count yet.
    counts = max([first, *(mark.day + days for mark, days, _, _ in masked)])
    plan = Plan(
        "walk-again", "mobility.again", "farmer", "walk him again",
        since=run.first, due=counts + limits.mobility_late,
    )  # fmt: skip
    _behind(plan, feet, ("lift", "wrap-off"))
    for off in offs:
        plan.behind(off, limits.block_settle, "block.settle", "settles after the block")
    plan.after(run.last, limits.mobility_again, plan.rule, "last lame")
    for mark, days, rule, text in masked:
        plan.after(mark, days, rule, text)
    yield plan


def _behind(plan: Plan, others: list[Plan], checks: tuple[str, ...]) -> None:
    for other in sorted((o for o in others if o.check in checks), key=lambda o: o.id):
        plan.behind(other, 0, other.rule, _BEHIND[other.check])


_BEHIND = {
    "lift": "walks after the lift",
    "clear": "walks once it is seen healed",
    "block-look": "walks once the foot was looked at",
    "wrap-off": "walks without a wrap",
    "vet-look": "walks once the vet has looked",
    "vet-again": "walks once the vet has looked again",
}


def _walk(case: Case, feet: list[Plan], looks: list[Plan]) -> Plan:
    """The walk that counts: after everything that could still change how he walks."""
    state, limits = case.state, case.limits
    plan = Plan(
        "mobility", "mobility.oldest", "farmer", "score his walk", oldest=limits.mobility_oldest
    )
    _behind(plan, feet, ("lift", "clear"))
    for off in feet:
        if off.check == "block-off":
            plan.behind(off, limits.block_settle, "block.settle", "settles after the block")
    _behind(plan, feet, ("block-look", "wrap-off"))
    if state.wrong_on_legs:
        _behind(plan, [look for look in looks if look.of_body], ("vet-look", "vet-again"))
    for mark, days, rule, text in settling(state):
        plan.after(mark, days, rule, text)
    return plan


def _mobility(case: Case, fixed: Lasting) -> Iterator[Plan]:
    """The walk that counts is to come, unless the last one was sound and nothing came after it."""
    state, walk = case.state, case.state.walk
    assert case.turnout is not None
    if (
        walk is None
        or walk.lame
        or not walk.counts
        or fixed.waiting
        or state.run is not None
        or walk.day < case.turnout - case.limits.mobility_oldest
        or walk.day < fixed.walk.first
    ):
        yield fixed.walk


def settling(state: History) -> Iterator[tuple[Mark, int, str, str]]:
    """(what happened, days, rule, words): the walk that counts comes no sooner after each."""
    limits = state.rules.limits
    yield from _masking(state)
    for block in state.block_off.values():
        looked = state.first_lift(block.foot, block.day)
        yield looked, 0, "block.look", "the foot was looked at"
    yield state.hurt, limits.incident_settle, "incident.settle", "settles after the knock"
    back = limits.incident_settle_back
    yield state.hurt_back, back, "incident.settle_back", "settles after a strained back"
    yield state.trim, limits.trim_settle, "trim.settle", "settles after trimming"
    yield state.last_in, 0, "mobility.oldest", "came in"
    clear = Mark(state.feet.clear_day, state.feet.clear_entry)
    yield clear, 0, "clear.after_open", "seen healed"
    yield state.wrap_off, 0, "wrap.most", "the wrap came off"
    yield state.body_clear, 0, "vet.look", "the vet saw him right"
    if state.run is not None:
        yield (
            state.run.last,
            limits.mobility_again,
            "mobility.again",
            "sound this long after he was last lame",
        )


def _masking(state: History) -> Iterator[tuple[Mark, int, str, str]]:
    words = {"block.settle": "settles after the block", "pain.settle": "pain relief wears off"}
    for mark, days, rule in state.masking():
        yield mark, days, rule, words[rule]


def _scored_after(plan: Plan, case: Case) -> None:
    """The score that counts comes no sooner than these."""
    state, days = case.state, case.limits.condition_again
    plan.after(state.outside, days, "condition.again", "time to change condition")
    plan.after(state.last_in, 0, "condition.oldest", "scored since he came in")


def _condition(case: Case, fixed: Lasting) -> Iterator[Plan]:
    state, limits, turnout = case.state, case.limits, case.turnout
    assert turnout is not None
    last, plan = state.condition, fixed.score
    again = state.outside.day + limits.condition_again if state.outside else 0
    if last is not None and last.outside and again < turnout - limits.condition_oldest:
        first = Plan(
            "condition-again", "condition.again", "farmer", "score his condition again",
            since=last.day, due=again + limits.condition_late,
        )  # fmt: skip
        first.after(state.outside, limits.condition_again, first.rule, "scored again after this")
        plan = Plan(plan.check, plan.rule, plan.who, plan.text, oldest=plan.oldest)
        plan.behind(first, 0, first.rule, "scored again before the score that counts")
        _scored_after(plan, case)
        yield first
    if (
        last is None
        or last.outside
        or last.day < state.last_in.day
        or last.day < turnout - limits.condition_oldest
        or last.day < again
    ):
        yield plan


def exam_stands(state: History, turnout: int) -> bool:
    """Whether the last examination lets him go on ``turnout``: satisfactory, not too old, late
    enough after an illness, and without a figure that the vet does not stand by. One who is ill was
    said to be fit by nobody since."""
    exam, limits = state.exam, state.rules.limits
    return (
        exam is not None
        and exam.outcome == "satisfactory"
        and not state.ill
        and exam.day >= turnout - limits.vet_oldest
        and (not state.illness or exam.day >= state.illness.day + limits.illness_settle)
        and not doubtful_figures(state)
    )


def person_decides(state: History) -> bool:
    """Whether a vet's word stands that no check ends: a person decides."""
    exam = state.exam
    return bool(state.unfit) or (exam is not None and exam.outcome == "unsatisfactory")


def lacks_exam(state: History, turnout: int) -> bool:
    """Whether no examination lets him go, and one is asked for: by the rules, by the vet, or as he
    is ill."""
    exam = state.exam
    left_open = exam is not None and (exam.outcome == "deferred" or bool(doubtful_figures(state)))
    asked = left_open or bool(state.ill) or state.rules.limits.vet_required
    return asked and not exam_stands(state, turnout)


def _vet_exam(case: Case) -> Iterator[Plan]:
    assert case.turnout is not None
    if not person_decides(case.state) and lacks_exam(case.state, case.turnout):
        yield exam_plan(case)


def exam_plan(case: Case) -> Plan:
    """The examination that is to come, after what has happened."""
    state, limits, exam = case.state, case.limits, case.state.exam
    plan = Plan(
        "vet-exam", "vet.oldest", "vet", "breeding examination by the vet",
        oldest=limits.vet_oldest,
        advised_by=None if case.promised is None else case.promised - limits.vet_advised,
    )  # fmt: skip
    if exam is not None and exam.outcome == "deferred":
        again = exam.again_on - exam.day if exam.again_on is not None else limits.vet_again
        again = max(again, 1)  # of one day the worse word stands
        plan.after(Mark(exam.day, exam.entry), again, "vet.again", "the vet deferred him")
        plan.since = exam.day
    plan.after(state.illness, limits.illness_settle, "illness.settle", "after his illness")
    return plan


class Low(NamedTuple):
    """A figure beside the last examination that is under its least. ``stood``: the vet stands by
    it all the same."""

    rule: str
    text: str
    stood: bool


def least_figure(state: History, name: str, day: int) -> float:
    """The least that a figure of an examination on this day should be, at his age then."""
    limits = state.rules.limits
    if name == "scrotum_cm":
        return state.rules.least_scrotum(state.birth, day)
    return {"motility_pct": limits.motility_least, "normal_pct": limits.normal_least}[name]


_FIGURES = (
    ("scrotum_cm", "scrotum.least", "scrotum {:g} cm, least {:g} at his age"),
    ("motility_pct", "motility.least", "motility {:g} %, least {:g}"),
    ("normal_pct", "normal.least", "normal sperm {:g} %, least {:g}"),
)


def figure_rules(exam: Exam) -> tuple[str, ...]:
    """The rules that judge the figures which stand after an examination: none of what it lacks."""
    return tuple(rule for name, rule, _ in _FIGURES if exam.figures.get(name))


def low_figures(state: History) -> list[Low]:
    """The figures under their least beside "satisfactory", by what is known of his birth; of those
    of one name that the vet stands by, and of those that he does not, the lowest."""
    exam = state.exam
    if exam is None or exam.outcome != "satisfactory":
        return []
    found = []
    for name, rule, words in _FIGURES:
        for stood in (False, True):
            of_name = [said for said in exam.figures.get(name, ()) if said.stood == stood]
            lowest = min(of_name, key=lambda said: said.value, default=None)
            if lowest is not None:
                least = least_figure(state, name, lowest.day)
                if lowest.value < least:
                    found.append(Low(rule, words.format(lowest.value, least), stood))
    return found


def doubtful_figures(state: History) -> list[Low]:
    """The figures under their least by which the vet does not say that he stands."""
    return [low for low in low_figures(state) if not low.stood]


def _quarantine(case: Case) -> Iterator[Plan]:
    state, limits = case.state, case.limits
    if in_quarantine(state, case.on):
        plan = Plan(
            "quarantine", "quarantine.days", "farmer", "quarantine ends", since=state.apart.day
        )
        plan.after(state.apart, limits.quarantine_days, plan.rule, "in quarantine since he came")
        yield plan


def in_quarantine(state: History, on: int) -> bool:
    """Whether a bull that came, or came back from hire, is still apart."""
    return bool(state.apart) and on < state.apart.day + state.rules.limits.quarantine_days


def came_unsaid(state: History) -> bool:
    """Whether he came from elsewhere by the note of him alone, and nobody said on which day."""
    profile = state.profile
    return (
        "origin" not in profile and not state.arrived and came_by_note(str(profile.get("note", "")))
    )


def birthday(state: History) -> int | None:
    """The day he was born, None where nobody knows that day."""
    return state.born.day if state.birth and state.birth.known else None


def old_enough(state: History) -> int | None:
    """The day from which he is surely old enough to go, None where nobody knows of his birth."""
    return months_after(state.born.day, state.rules.limits.age_least) if state.born else None


def _age(case: Case) -> Iterator[Plan]:
    day, born = old_enough(case.state), case.state.born
    if day is not None and case.on < day:
        plan = Plan("age", "age.least", "farmer", "old enough to go", since=birthday(case.state))
        plan.after(born, day - born.day, plan.rule, "too young until then")
        yield plan
