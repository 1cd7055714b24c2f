"""The wrong bull: what was said of one, half entered or saved, is said of another. Pure."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from readiness.crush.effects import Batch, Fetch, Give, Go, KeepDraft, Saved
from readiness.crush.pad import Pad, Steps
from readiness.crush.saving import put_through
from readiness.crush.session import Session
from readiness.crush.slip import Slip
from readiness.crush.top import AskFinding
from readiness.engine.results import Assessment
from readiness.herd.card import Card

HALF_SAID, EARLIER, LAST = "h", "e", "s"
"""The keys that say which words: half entered of the bull in the crush; saved of him, before others
were; saved last."""


def may_be_given(session: Session) -> dict[str, Batch | None]:
    """What may have been said of the wrong bull: the key that says it → what was saved; None: what
    is half said of the bull in the crush."""
    found: dict[str, Batch | None] = {}
    if session.pad is not None and session.pad.slip:
        found[HALF_SAID] = None
    if session.saves:
        last, gone = session.saves[-1], {batch.of for batch in session.saves}
        his = [b for b in session.saves if b.key == session.key and b.said not in gone]
        if his and his[-1] is not last:
            found[EARLIER] = his[-1]
        found[LAST] = last
    return found


def is_sure(session: Session, batch: Batch | None) -> bool:
    """Whether these words alone are meant where no others may be: those of the bull in the crush,
    or, while he who came next stands there, those saved last. Whoever was brought in front by hand
    and is not he would see another bull's words go."""
    return batch is None or session.key in (None, batch.key, batch.next)


def whose(session: Session, batch: Batch | None) -> str:
    """ "saved of 00417 Corran"."""
    key = batch.key if batch else session.key
    how = "half entered" if batch is None else "saved"
    how += " earlier" if batch is not None and batch is not session.saves[-1] else ""
    return f"{how} of {session.called(key or '')}"


def given_words(session: Session, batch: Batch | None) -> str:
    """Whose it was, and what: "saved of 00417 Corran: all ok; walk 0"."""
    pad = batch.pad if batch else session.pad
    assert pad is not None
    return f"{whose(session, batch)}: {pad.slip.line(pad.before.scales)}"


def give(session: Session, batch: Batch | None, key: str) -> Session:
    """To this bull."""
    if key == (batch.key if batch else session.key):
        return session.say(f"It is said of {session.called(key)} already.")
    if batch is not None:
        return session.do(Give(batch, key))
    if key in session.drafts:
        name = session.called(key)
        return session.say(f"{name} is half entered himself: save or take that back first.")
    return session.do(Fetch(key, session.pad.slip)) if session.pad else session


# ---- what came of it -----------------------------------------------------------------------------


def given(session: Session, key: str, card: Card | None, slip: Slip) -> Session:
    """What was half said of the bull in the crush is half said of the one of this card, who stands
    there instead. What holds him is asked for; what cannot be of him is said beside it."""
    was, pad, name = session.key, session.pad, session.called(key)
    if card is None or was is None or pad is None:
        return session.say(f"{name} is not on the book any more: nothing is given.")
    bull = card.assessment.bull
    now = session.with_race(session.race.pick(key)).stand(card, of(slip, bull), _steps(pad, bull))
    now = now.keep(now.line)
    pads = {whose: left for whose, left in now.pads.items() if whose != was}
    drafts = {whose: draft for whose, draft in now.drafts.items() if whose != was}
    now = replace(now, drafts=drafts, pads=pads, came=None).do(KeepDraft(was, "", slip.on))
    told = f"What was half entered of {now.called(was)} is said of {name}, not saved."
    now = now.say(f"{told} {now.called(was)} comes next.")
    asked = now.pad.before.unanswered(now.pad.slip) if now.pad else ()
    return replace(now, pad=now.pad.go(AskFinding(tuple(asked)))) if now.pad and asked else now


def of(slip: Slip, bull: str) -> Slip:
    """The same said of the bull of this tag."""
    return replace(slip, bull=bull, contents=tuple({**c, "bull": bull} for c in slip.contents))


def _steps(pad: Pad, bull: str) -> Steps:
    """The steps in which something was said, as said of the bull of this tag: what was asked
    between them was asked of another."""
    later = (*(slip for slip, _ in pad.steps[1:]), pad.slip)
    said = zip(pad.steps, later, strict=True) if pad.steps else ()
    return tuple((of(slip, bull), pad.top) for (slip, _), after in said if slip != after)


def gave(
    session: Session, batch: Batch, his: Batch, last: Saved, after: Collection[Assessment]
) -> Session:
    """What was saved of one bull is in the book as said of another. ``his``: what stands there
    now; ``after``: how both stand. The first waits again: he was not through."""
    handled = {key: done for key, done in session.handled.items() if key != batch.key}
    now = put_through(replace(session, handled=handled, last=last), his, *after)
    here = now.key == his.key and not (now.pad and now.pad.slip)
    race = now.race.done(his.key) if here or now.key != his.key else now.race
    now = now.with_race(race.join([batch.key])).do(Go.READ)
    comes = now.race.first if here or now.key is None else now.key
    his = replace(his, next=comes, of=batch.said)
    now = replace(now, saves=(*now.saves, his))
    told = (
        f"Said of {now.called(his.key)} now; {now.called(batch.key)} waits again. u takes it back."
    )
    return (now.turn(now.race.first) if here or now.key is None else now).say(told)
