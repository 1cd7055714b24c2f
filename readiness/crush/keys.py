"""Which key means what in the crush: the pad's answers first, then the session's own. Pure."""

from __future__ import annotations

from dataclasses import replace

from readiness.crush.effects import Go
from readiness.crush.modes_foot import FindCode
from readiness.crush.session import UNREAD, Session, Step, codes
from readiness.crush.top import AskFinding
from readiness.crush.typing import begin_line, begin_note, begin_pick

ENTER_AGAIN = "Enter again saves him."
QUIT_AGAIN = "q again ends the program; nothing is lost."
UNDO_AGAIN = "Not saved yet: Backspace takes back a key; u again, the last bull saved."
AGAIN = 0.7
"""Seconds: the same key sooner is taken for one held down, where it would decide once more."""

OWN: dict[str, Step] = {
    "enter": Session.save,
    "n": lambda session: session.skip(1),
    "p": lambda session: session.skip(-1),
    "/": begin_pick,
    "u": Session.undo,
    "l": begin_line,
    "m": begin_note,
    "o": lambda session: session.form(""),
    "v": lambda session: session.form("vet-exam"),
    "g": lambda session: session.do(Go.TEAMS) if session.board else session,
    "x": Session.drop,
    "e": codes,
    "escape": lambda session: session.do(Go.LEAVE),
}


def press(session: Session, key: str, at: float) -> tuple[Session, bool]:
    """One key (a character, or a name as enter), pressed ``at`` so many seconds; whether it means
    something here. Where a key decides something for good it has to be pressed anew: held down it
    decides once."""
    before, when = session.pressed
    now = replace(session, pressed=(key, at))
    held = key == before and at - when < AGAIN
    if session.again and key != session.again:
        now = now.say("")
    after = _answer(now, key, held=held) or _own(now, key, held=held)
    return (now, False) if after is None else (after, True)


def _answer(session: Session, key: str, *, held: bool) -> Session | None:
    """The key as an answer to what is asked."""
    pad = session.pad
    if pad is None:
        return None
    at_top = pad.mode == pad.top
    if key == "?":
        return codes(session) if isinstance(pad.mode, FindCode) else None
    if at_top and key in ("enter", "escape"):
        return None
    if held and isinstance(pad.mode, AskFinding):
        return session.take(pad.tell(f"{key} again, not so soon: this is another finding."))
    pressed = pad.press(key)
    if pressed is None:
        return None if at_top else session.take(pad.tell(f"{key} means nothing here."))
    if session.unread:
        pressed = pad.tell(UNREAD)
    return session.take(pressed)


def _own(session: Session, key: str, *, held: bool) -> Session | None:
    if key == "q":  # it lies beside w
        return session.do(Go.QUIT) if session.again == key else session.say(QUIT_AGAIN, key)
    if key == "u":
        return _undo(session, held=held)
    if key == "enter" and held:  # the one before it ended something else
        return session.say(ENTER_AGAIN, key)
    return OWN[key](session) if key in OWN else None


def _undo(session: Session, *, held: bool) -> Session:
    """Take back the last bull saved; asked for twice where keys pressed for the one in the crush
    are not saved. Fingers that say "sole ulcer" where another question stands press it, and what
    follows would be said of another bull."""
    pad = session.pad
    unsaved = pad is not None and bool(pad.steps) and bool(pad.slip)
    if held:
        words = "u again in a moment: held down, it takes back one bull only."
        return session.say(words, session.again)
    if unsaved and session.again != "u":
        return session.say(UNDO_AGAIN, "u")
    return replace(session, again="").undo()
