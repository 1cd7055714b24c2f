"""What a vet says, and what is seen of a bull's body, taken into his history."""

from __future__ import annotations

from collections.abc import Callable

from readiness.entries.entry import Entry
from readiness.history.records import (
    NEVER,
    NOTHING,
    BodyFinding,
    Exam,
    Figure,
    LeftOpen,
    Mark,
    Part,
    Trouble,
    VetLook,
)
from readiness.history.state import History, ordinal
from readiness.rules.model import Rules
from readiness.trade.body import WALKED_ON


def vet_exam(state: History, entry: Entry) -> None:
    """A breeding examination, with the figures that stand after it."""
    body, before = entry.body, state.exam
    again, seen = body.get("again_on"), bool(body.get("feet_seen"))
    until = ordinal(again) if again else None
    figures, left_open = _figures(state, entry), _left_open(state, entry)
    exam = Exam(entry.day, entry.id, body["outcome"], until, figures, left_open)
    if before is not None and before.day == exam.day and _worse(before, exam, state.rules):
        exam = before._replace(figures=figures, left_open=left_open)
    state.exam = exam
    if seen:
        _answer(state, VetLook(entry.day, entry.id, "foot"))
    state.again_looks = [
        asks
        for asks in state.again_looks
        if entry.day <= asks.day or asks.subject not in ("illness", "other")
    ]
    if body["outcome"] == "satisfactory":
        _fit_again(state, entry, lambda unfit: unfit.subject != "foot" or seen)
        _all_right(state, entry, list(state.body))
        state.watched.clear()
        state.ill = NOTHING


_OUTCOMES = ("satisfactory", "deferred", "unsatisfactory")
"""From the best to the worst."""


def _worse(before: Exam, exam: Exam, rules: Rules) -> bool:
    """Whether of two examinations of one day the one before says the worse, in whatever order they
    were written: the other is no later word."""

    def how_bad(of: Exam) -> tuple[int, int]:
        again = of.day + rules.limits.vet_again if of.again_on is None else of.again_on
        return _OUTCOMES.index(of.outcome), again if of.outcome == "deferred" else NEVER

    return how_bad(before) > how_bad(exam)


FIGURES = ("scrotum_cm", "motility_pct", "normal_pct")


def _figures(state: History, entry: Entry) -> dict[str, tuple[Figure, ...]]:
    """The figures that stand after an examination. One that it does not give is taken over from the
    examination before, while the one that measured it would still count: "satisfactory" without
    figures hides none. Of one day all are kept, so that none hides another."""
    day, body = entry.day, entry.body
    before = {} if state.exam is None else state.exam.figures
    oldest = day - state.rules.limits.vet_oldest
    found = {name: said for name, said in before.items() if said[0].day >= oldest}
    for name in FIGURES:
        if name in body:
            same_day = [said for said in found.get(name, ()) if said.day == day]
            found[name] = (*same_day, Figure(day, body[name], stood=False))
    if body["outcome"] == "satisfactory" and body.get("stands"):
        for name, told in found.items():
            found[name] = tuple(said._replace(stood=True) for said in told)
    return found


_MAY_BE_OPEN = ("collection", "morphology", "libido")


def _left_open(state: History, entry: Entry) -> tuple[LeftOpen, ...]:
    """What is open after an examination, taken over as a figure is. Of one day a libido that is not
    keen stands; semen that was got, or looked at, on the second try was got."""
    day, body = entry.day, entry.body
    before = () if state.exam is None else state.exam.left_open
    if not before and body.keys().isdisjoint(_MAY_BE_OPEN):
        return ()
    from readiness.trade import examination  # late: few examinations say of these

    new = [LeftOpen(day, field, said) for field, said in examination.left_open(body).items()]
    said = examination.settled(body) | {each.field for each in new}
    oldest = day - state.rules.limits.vet_oldest
    kept = (
        each
        for each in before
        if each.day >= oldest
        and (each.field not in said or (each.field == "libido" and each.day == day))
    )
    return tuple(dict.fromkeys([*kept, *new]))


def vet_look(state: History, entry: Entry) -> None:
    """A vet's look: what it is about, and what it ends or asks for."""
    body = entry.body
    again = body.get("again_on")
    look = VetLook(
        entry.day,
        entry.id,
        body["about"],
        body.get("outcome"),
        ordinal(again) if again else None,
        body.get("foot"),
        body.get("part"),
        body.get("limb"),
    )
    _answer(state, look)
    if look.about == "body":
        _body_seen(state, entry, look)
    if look.about == "illness":
        if look.outcome == "fit":
            state.ill = NOTHING
        else:
            state.illness = state.ill = Mark(entry.day, entry.id)
            state.troubles.append(Trouble(entry.day, "ill"))
    if look.outcome == "fit":
        _fit_again(state, entry, look.speaks_of)
    elif look.outcome == "unfit":
        state.unfit.append(look)
    elif look.outcome == "again":
        state.again_looks.append(look)


def _fit_again(state: History, entry: Entry, ended: Callable[[VetLook], bool]) -> None:
    """A vet's word ends his "unfit" of an earlier day: how he walked before it says nothing any
    more. Of two words of one day "unfit" stands, in whatever order they were written."""
    gone = [unfit for unfit in state.unfit if unfit.day < entry.day and ended(unfit)]
    if any(unfit.of_how_he_walks for unfit in gone):
        state.body_clear = Mark(entry.day, entry.id)
    state.unfit = [unfit for unfit in state.unfit if unfit not in gone]


def _answer(state: History, look: VetLook) -> None:
    """A look on a later day answers what an earlier one asked for again."""
    state.vet_looks.append(look)
    state.again_looks = [
        asks for asks in state.again_looks if look.day <= asks.day or not look.speaks_of(asks)
    ]


def _body_seen(state: History, entry: Entry, look: VetLook) -> None:
    named = [
        part
        for part in dict.fromkeys((*state.body, *state.watched))
        if look.names_no_place or part == (look.part, look.limb)
    ]
    for part in named:
        if part in state.body:
            state.body[part].looked = True
    if look.outcome == "fit":
        _all_right(state, entry, [part for part in named if part in state.body])
        for part in named:
            state.watched.pop(part, None)


def _all_right(state: History, entry: Entry, parts: list[Part]) -> None:
    """A vet's word ends what was wrong with these parts."""
    for part in parts:
        del state.body[part]
        if part[0] in WALKED_ON:
            state.body_clear = Mark(entry.day, entry.id)


def body(state: History, entry: Entry) -> None:
    """A part of his body: wrong, to be watched, or right again."""
    body = entry.body
    part: Part = (body["part"], body.get("limb"))
    if body["state"] == "wrong":
        state.body.setdefault(part, BodyFinding(*part, entry.day, entry.id))
    elif body["state"] == "watch":
        state.watched[part] = Mark(entry.day, entry.id)
    else:
        state.watched.pop(part, None)
