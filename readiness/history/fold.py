"""A bull's entries, folded one by one into the state he is in.

Pure: entries and rules in, a ``History`` out. The entries of one bull come in the order of
``entry_order``; struck ones are already gone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import product
from typing import Any
from unicodedata import combining, normalize

from readiness.entries.entry import SEEN, Entry, written_ahead
from readiness.history import vet
from readiness.history.finding import claws_of
from readiness.history.records import (
    NEVER,
    NOTHING,
    Ask,
    Block,
    Condition,
    LameRun,
    Mark,
    Outing,
    Tested,
    Trouble,
    Walk,
    WorstWalk,
    Wrap,
)
from readiness.history.state import History, ordinal
from readiness.rules.model import Rules
from readiness.trade.ages import birth_in, said_of_bull
from readiness.trade.bulls import IN_A_LIMB
from readiness.trade.feet import FEET, MEASURES

Handler = Callable[[History, Entry], None]


def history(entries: Iterable[Entry], rules: Rules, day: int, key: str = "") -> History:
    """Fold the entries of one bull, in ``entry_order``, up to ``day`` (an ordinal)."""
    state = History(rules, key)
    for entry in entries:
        if entry.day > day:
            break
        advance(state, entry)
    return state


def advance(state: History, entry: Entry) -> None:
    """Take in the next entry; also of a bull that has left: he may come in again, and what was
    found on him meanwhile, or written before somebody wrote that he left, is true all the same."""
    if (handler := _HANDLERS.get(entry.kind)) is None:
        return
    if entry.kind in SEEN:
        if written_ahead(entry) > state.rules.limits.seen_ahead:
            _unseen(state, entry, handler)
            return
        if state.ahead:
            state.ahead.pop(entry.kind, None)
    handler(state, entry)


def _unseen(state: History, entry: Entry, handler: Handler) -> None:
    """What somebody must have seen, and wrote before its day: it clears nothing."""
    from readiness.history.unseen import what_is_wrong  # seldom, and the board starts fast

    if (told := what_is_wrong(state, entry)) is not None:
        handler(state, told)


def while_here(entries: Iterable[Entry]) -> Iterator[Entry]:
    """Those of one bull's entries that were written of him here: none from his leaving until he
    comes in again."""
    gone = False
    for entry in entries:
        if entry.kind == "moved" and entry.body["act"] != "out":
            gone = entry.body["act"] == "left"
        if not gone or entry.kind == "bull":
            yield entry


def _bull(state: History, entry: Entry) -> None:
    state.profile = said_of_bull(state.profile, entry.body)
    if entry.withdrawn:
        state.unbooked = Mark(entry.day, entry.id)
    state.at_odds = entry.at_odds or state.at_odds
    if birth := birth_in(entry.body):
        state.born, state.birth = Mark(birth.last, entry.id), birth
    if "arrived" in entry.body:
        state.arrived = Mark(ordinal(entry.body["arrived"]), entry.id)


def _weight(state: History, entry: Entry) -> None:
    state.weights.append((entry.day, entry.body["kg"]))


def _join(state: History, entry: Entry) -> None:
    state.group = entry.body.get("group")
    state.joined = Mark(entry.day, entry.id)
    state.role = entry.body.get("role") or state.role or "worker"
    if state.out and state.outings[-1].group is None:
        state.outings[-1] = state.outings[-1]._replace(group=state.group)


def _feet(state: History, entry: Entry) -> None:
    day, body = entry.day, entry.body
    lifted = body.get("lifted", ())
    for foot in lifted:
        state.lifts[foot].append((day, entry.id))
    state.refused += [(day, foot) for foot in body.get("refused", ())]
    state.feet.lift(day, entry.id, body)
    acts: dict[str, set[str]] = {}
    for done in body.get("work", ()):
        acts.setdefault(done["foot"], set()).add(done["act"])
        if done["act"] in ("trim", "pare"):
            state.trim = Mark(day, entry.id)
    state.worked.update(acts)
    for foot in acts.keys() | (state.wraps.keys() & set(lifted)):
        _wrap(state, entry, foot, acts.get(foot, set()))
    for measure in body.get("measures", ()):
        for claw, what in product(claws_of(measure["claw"]), measure.keys() & MEASURES.keys()):
            state.measures[measure["foot"], claw, what] = (day, measure[what])
    if state.lame_asks:
        state.lame_asks = [
            ask for ask in state.lame_asks if any(state.last_lift(f) < ask.since for f in ask.feet)
        ]


def _wrap(state: History, entry: Entry, foot: str, acts: set[str]) -> None:
    """A wrap is off once the foot is lifted on a later day, or unwrapped (though nobody wrote that
    it was put on); one that is put on then is another one."""
    wrap = state.wraps.get(foot)
    if "unwrap" in acts or (wrap is not None and wrap.day < entry.day):
        state.wraps.pop(foot, None)
        state.wrap_off = Mark(entry.day, entry.id)
    if "wrap" in acts:
        state.wraps.setdefault(foot, Wrap(foot, entry.day, entry.id))


def _block_on(state: History, entry: Entry) -> None:
    place = (entry.body["foot"], entry.body["claw"])
    state.blocks[place] = Block(*place, entry.day, entry.id)
    state.block_off.pop(place, None)


def _block_off(state: History, entry: Entry) -> None:
    place = (entry.body["foot"], entry.body["claw"])
    state.blocks.pop(place, None)  # one whose fitting nobody wrote came off all the same
    lost = bool(entry.body.get("lost"))
    state.block_off[place] = Block(*place, entry.day, entry.id, lost)


def _lame(
    state: History, entry: Entry, feet: tuple[str, ...], *, worst: bool = False, own: bool = False
) -> LameRun:
    """A lame event. ``own``: it asks for feet from its own day, as one does on a limb that its run
    has not asked for. Else a lift since the run began answers, if it is not too long ago."""
    limb, run = entry.body.get("limb"), state.run
    if run is None:
        run = state.run = LameRun(entry.day, entry.day)
    elif run.mild:
        run.base, run.mild = entry.day, NOTHING
    run.lame = Mark(entry.day, entry.id)
    state.troubles.append(Trouble(entry.day, "lame"))
    run.limb = limb or run.limb
    newly = limb is not None and not run.asked_for(limb, entry.day)
    since = max(run.base, entry.day - state.rules.limits.lame_long)
    ask = Ask(feet, entry.day if worst or own or newly else since, entry.day, worst, entry.id)
    run.asks.append(ask)
    state.lame_asks.append(ask)
    return run


def _mobility(state: History, entry: Entry) -> None:
    body = entry.body
    scale = state.rules.mobility[body["scale"]]
    score, limb = body["score"], body.get("limb")
    carrying = {foot for foot, _ in state.blocks} | state.wraps.keys()
    lame, best = score >= scale.lame, score == scale.low
    counts = lame or not carrying
    state.walk = Walk(entry.day, entry.id, scale.id, score, limb, lame, counts)
    state.walks.append(state.walk)
    if lame:
        if limb:
            feet: tuple[str, ...] = (limb,)
        else:
            feet = tuple(foot for foot in FEET if foot in carrying) if carrying else FEET
        worst = score >= scale.worst
        run = _lame(state, entry, feet, worst=worst, own=bool(carrying))
        if worst:
            state.worst_walks.append(WorstWalk(entry.day, entry.id, run, limb))
    elif counts:
        _sound(state, entry, best)


def _sound(state: History, entry: Entry, best: bool) -> None:
    """A sound walk that counts ends lameness late enough: at once if it is the best of its scale,
    else at the second one, as long again after the first: he walks so by nature."""
    run, again = state.run, state.rules.limits.mobility_again
    if run is None or entry.day < max(run.lame.day + again, state.masked_until):
        return
    if best or (run.mild and entry.day >= run.mild.day + again):
        run.ended = entry.day
        state.spells.append(run)
        state.run = None
    elif not run.mild:
        run.mild = Mark(entry.day, entry.id)


def _condition(state: History, entry: Entry) -> None:
    scale = state.rules.condition[entry.body["scale"]]
    score = entry.body["score"]
    outside = not scale.hold[0] <= score <= scale.hold[1]
    state.condition = Condition(entry.day, entry.id, scale.id, score, outside)
    state.conditions.append(state.condition)
    if outside:
        state.outside = Mark(entry.day, entry.id)


def _incident(state: History, entry: Entry) -> None:
    body = entry.body
    limb = body.get("limb")
    mark = Mark(entry.day, entry.id)
    if body["cause"] != "illness" or body.get("lame") or limb or "suspect" in body:
        state.hurt = mark
        state.troubles.append(Trouble(entry.day, "injured"))
        if body.get("suspect") == "back":
            state.hurt_back = mark
    if body["cause"] == "illness" or body.get("fever"):
        state.illness = state.ill = mark
        state.troubles.append(Trouble(entry.day, "ill"))
    if body.get("lame"):
        _lame(state, entry, (limb,) if limb else FEET, own=True)
    if limb or body.get("suspect") in IN_A_LIMB:
        feet = (limb,) if limb else FEET
        state.limb_asks.append(Ask(feet, entry.day, entry.day, False, entry.id))


def _treatment(state: History, entry: Entry) -> None:
    body = entry.body
    if relieves_pain(body, state.rules):
        state.pain = Mark(entry.day, entry.id)
    elif "pain_relief" not in body:
        state.unsaid = (entry.day, body["product"], entry.id)
    if until := body.get("withdrawal_until"):
        last = ordinal(until)
        if state.withdrawal is None or last >= state.withdrawal[0]:
            state.withdrawal = (last, body["product"], entry.id)


PAIN = {"pain", "pains", "painful"}
"""What is given for this, in so many letters, relieves it: paint does not."""


def relieves_pain(body: Mapping[str, Any], rules: Rules) -> bool:
    """Whether a treatment relieves pain: as it says, or else by a word in product or reason."""
    if "pain_relief" in body:
        return bool(body["pain_relief"])
    texts = [_bare(body["product"]), _bare(body.get("reason", ""))]
    letters = ["".join(filter(str.isalnum, text)) for text in texts]
    words = ("".join(filter(str.isalnum, _bare(word))) for word in rules.limits.pain_words)
    named = any(word in text for word in words for text in letters)
    return named or not PAIN.isdisjoint(re.findall(r"[^\W\d_]+", " ".join(texts)))


def _bare(text: str) -> str:
    """In small letters without accents; however it is parted: pain relief, pain-relief."""
    return "".join(letter for letter in normalize("NFKD", text.casefold()) if not combining(letter))


def _check(state: History, entry: Entry) -> None:
    body, until = entry.body, entry.body.get("valid_until")
    last = ordinal(until) if until else None
    reading = body.get("reading", "")
    tested = Tested(entry.day, body["result"] == "pass", entry.id, last, reading)
    state.checks.setdefault(body["check"].casefold(), []).append(tested)


def _moved(state: History, entry: Entry) -> None:
    act, reason = entry.body["act"], entry.body.get("reason")
    mark = Mark(entry.day, entry.id)
    if act == "left":
        state.gone = True
    elif act == "out":
        if not state.out:  # said again, he is out since the first day
            state.out, state.out_note = mark, entry.body.get("note", "")
            state.outings.append(Outing(entry.day, NEVER, state.group, hired=False))
        state.hired_out |= reason == "hired"
        state.outings[-1] = state.outings[-1]._replace(hired=state.hired_out)
        if reason == "lame":
            _lame(state, entry, FEET, own=True)
    else:
        if state.hired_out or state.gone or reason == "hired":
            state.back_again = mark
        if state.out:
            state.outings[-1] = state.outings[-1]._replace(back=entry.day)
        state.out_note = ""
        state.out, state.last_in, state.hired_out, state.gone = NOTHING, mark, False, False
        if reason == "lame":
            _lame(state, entry, FEET, own=True)


_HANDLERS: dict[str, Handler] = {
    "bull": _bull,
    "weight": _weight,
    "join": _join,
    "feet": _feet,
    "block-on": _block_on,
    "block-off": _block_off,
    "mobility": _mobility,
    "condition": _condition,
    "vet-exam": vet.vet_exam,
    "vet-look": vet.vet_look,
    "body": vet.body,
    "incident": _incident,
    "treatment": _treatment,
    "check": _check,
    "moved": _moved,
}
