"""The feet of the bull in the crush, mended as they are drawn: what is half entered, and what was
saved before. Pure."""

from __future__ import annotations

from dataclasses import replace

from readiness.crush.by_form import in_book
from readiness.crush.effects import Go, Instead, Saved
from readiness.crush.lift import BLOCKS, Lift, Mended, lifts_of
from readiness.crush.session import NO_BULL, UNREAD, Session
from readiness.crush.top import AskFinding
from readiness.trade.words import sentence

NO_LIFT = "No lift of his is half entered or written down yet."


def lifts(session: Session) -> list[Lift]:
    """Those of the bull in the crush, the last one first: what is half entered before the rest."""
    pad, card = session.pad, session.card
    if pad is None or card is None:
        return []
    half = any(said["kind"] in ("feet", *BLOCKS) for said in pad.slip.contents)
    return [*([Lift(pad.slip.contents)] if half else []), *lifts_of(card.entries)]


def begin_mend(session: Session) -> Session:
    """Ask what was another foot, worse, or another day."""
    if session.pad is None or session.unread:
        return session.say(UNREAD if session.unread else NO_BULL)
    if session.readonly:
        return session.say("Nothing is mended: the book was opened to be read only.")
    return session.do(Go.MEND) if lifts(session) else session.say(NO_LIFT)


def mended(session: Session, what: Mended | None) -> Session:
    """What is half entered says it now, and what holds him on the feet that it now speaks of is
    asked for; what was saved is withdrawn and said anew."""
    pad, key = session.pad, session.key
    if what is None or pad is None or key is None:
        return session
    if what.was.ids:
        return session.do(Instead(key, what.was.ids, what.now.contents))
    slip = replace(pad.slip, contents=what.now.contents, on=what.now.on)
    asked = tuple(pad.before.unanswered(slip))
    return session.take(pad.go(AskFinding(asked) if asked else pad.top, slip, "Mended."))


def mended_in_book(session: Session, key: str, last: Saved) -> Session:
    """What was mended of this bull is in the book. Where he was done, whoever waits first stands in
    the crush again: what is said next is said of that one."""
    now = in_book(session, last)
    if key != now.key or now.line or now.unread or key not in now.through:
        return now
    first = now.race.first
    comes = f"{now.called(first)} stands in the crush." if first else "Nobody else waits."
    return now.turn(first).say(f"{sentence(last.title)} {comes}")
