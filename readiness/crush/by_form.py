"""What a form says, of the bull in the crush or of a group. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from readiness.crush.effects import Go, OpenForm, Saved, Write
from readiness.crush.session import NO_BULL, UNREAD, Session
from readiness.shorthand import WRITABLE

OF_NO_BULL = ("group",)
"""The forms that need no bull in the crush."""


def open_form(session: Session, name: str) -> Session:
    """A form is wanted; "": which one is asked."""
    if session.card is None and name not in ("", *OF_NO_BULL):
        return session.say(NO_BULL)
    return session.say(UNREAD) if session.unread else session.do(OpenForm(name))


def answered(session: Session, kind: str, said: Mapping[str, Any]) -> Session:
    """What a form says: into the slip where shorthand can say it and it is of the same day; else it
    is written at once."""
    pad = session.pad
    on = pad.slip.on.isoformat() if pad else ""
    if kind in WRITABLE and pad is not None and said.get("on", on) == on:
        return session.take(pad.done(pad.slip.say(kind, said)))
    by = {"by": session.who} if session.who else {}
    content = {"kind": kind, "on": session.today.isoformat(), **by, **said}
    if kind not in OF_NO_BULL and session.card is not None:
        content["bull"] = session.card.assessment.bull
    return session.do(Write(content))


def in_book(session: Session, last: Saved) -> Session:
    """What a form says is in the book."""
    return replace(session, last=last).do(Go.READ)
