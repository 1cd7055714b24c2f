"""What is saved or taken back, and the session as it goes on from that."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from readiness.crush.before import before_of
from readiness.crush.effects import Back, Batch, Go, Save, Saved, Undo
from readiness.crush.session import HALF, NO_BULL, Session
from readiness.engine.results import Assessment
from readiness.herd.card import Card
from readiness.herd.done import Done
from readiness.report.rows import check_words
from readiness.trade.words import list_words, sentence

NOT_THROUGH = "neither lifted nor walked today"
"""Why he waits who was let in with a group, and was only weighed or scored."""


def save(session: Session) -> Session:
    """Save what is said of the bull in the crush; the next one comes."""
    pad, key = session.pad, session.key
    if pad is None or session.card is None or key is None:
        return session.say(NO_BULL)
    if session.readonly:
        return session.take(pad.tell("Not saved: the book was opened to be read only."))
    if session.unread:
        return session.take(pad.tell("Not saved: the line cannot be read yet: l mends it."))
    if not pad.slip:
        return session.take(pad.tell("Nothing is said of him yet: s all sound, n the next bull."))
    return session.do(Save(session.card, pad.slip, session.line, session.race.done(key).first))


def undo(session: Session) -> Session:
    """Take back what was last saved from this device: at once what was saved here; what another
    screen wrote is shown first."""
    return session.do(Undo(session.saves[-1].ids if session.saves else frozenset()))


# ---- what came of it -----------------------------------------------------------------------------


def saved(
    session: Session,
    key: str,
    ids: Collection[str],
    last: Saved,
    following: Card | None,
    after: Assessment | None = None,
) -> Session:
    """What is said of the bull in the crush is in the book. ``after``: how he stands then;
    ``following``: the card of the one who came next then."""
    assert session.pad is not None
    batch = Batch(key, session.pad, frozenset(ids), frozenset(ids))
    drafts = {of: draft for of, draft in session.drafts.items() if of != key}
    now = replace(session, last=last, drafts=drafts)
    now = put_through(now, batch, after)
    now = now.with_race(now.race.done(key)).say("")
    checks = now.waits(after) if after is not None else []
    if checks or (after is not None and key in now.let and key not in now.handled):
        asked = list_words(dict.fromkeys(map(check_words, checks))) or NOT_THROUGH
        now = now.with_race(now.race.join([key]))
        now = now.say(f"{now.called(key)} waits again: {asked}. x when he comes: not today.")
    saves = (*now.saves, replace(batch, next=now.race.first))
    words, now = now.message, replace(now, saves=saves, card=None, pad=None)
    if following is not None and following.assessment.key == now.race.first:
        now = now.say(words).stand(following)
        # Where what stands there is another's, it has to be said that he is saved.
        told = f"{sentence(last.title)} {now.message}"
        return now.say(told) if now.pad and now.pad.slip else now
    return now.turn(now.race.first).say(words)


def put_through(session: Session, batch: Batch, *after: Assessment | None) -> Session:
    """He has been through, where what was saved says so; ``after``: how bulls stand now."""
    done = session.handled.get(batch.key, Done()).and_then(batch.pad.slip.contents)
    handled = {**session.handled, batch.key: done} if done.through else session.handled
    anew, board = {bull.key: bull for bull in after if bull is not None}, session.board
    if board is not None and anew:
        board = replace(board, bulls=tuple(anew.get(bull.key, bull) for bull in board.bulls))
    return replace(session, handled=handled, board=board)


def taken_back(session: Session, back: Back, card: Card | None, *, here: bool) -> Session:
    """He stands in the crush again, with what was said of him, to be said better; not where
    something else is half said of him. ``here``: it was saved here last. ``card``: his; where it
    was of several, that of the bull in the crush."""
    batch = session.saves[-1] if here and session.saves else None
    saves = session.saves[:-1] if batch else session.saves
    now = replace(session, last=back.saved, saves=saves).say("")
    was = next((each for each in saves if batch and each.said == batch.of), None)
    if back.again and batch is not None and was:  # what had been given stands of the first again
        his = replace(was, ids=(was.ids - was.said) | back.again, said=back.again)
        now = replace(now, saves=tuple(his if each is was else each for each in saves))
        again = f"What was said of {now.called(batch.key)} is said of {now.called(was.key)} again."
        now = now.say(again)
    if card is None:
        return now
    if not back.key:
        return now.refreshed(card).do(Go.READ) if now.card is not None else now.stand(card)
    handled = {key: done for key, done in now.handled.items() if key != back.key}
    still = {back.key: back.done} if back.done is not None else {}
    now = replace(now, handled=handled | still).with_race(now.race.pick(back.key))
    if back.key in now.drafts or back.slip is None:
        now = now.stand(card)
        return now.keep(now.unread or now.line)
    steps = batch.pad.steps if batch is not None and _alike(batch, back, card) else ()
    now = now.stand(card, back.slip, steps)
    how = now.pad.takes_back if now.pad else ""
    return now.keep(now.line).say(f"{now.called(back.key)} {HALF} again, not saved: {how}")


def _alike(batch: Batch, back: Back, card: Card) -> bool:
    """Whether what was taken back is what these keys had said."""
    scales = before_of(card, batch.pad.slip.on).scales
    was, slip = batch.pad.slip, back.slip
    return slip is not None and (was.on, was.line(scales)) == (slip.on, slip.line(scales))
