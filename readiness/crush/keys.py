"""Which key means what in the crush: the pad's answers first, then the session's own; and what is
typed into the line: shorthand, a note, or which bull. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from readiness.crush.effects import Go, Type
from readiness.crush.modes_foot import FindCode
from readiness.crush.session import NO_BULL, UNREAD, Session, Step, Typing, codes
from readiness.crush.top import AskFinding
from readiness.shorthand import ShorthandError
from readiness.shorthand.complete import complete
from readiness.trade.tags import tag_key

LINE, NOTE, PICK = "line", "note", "pick"
SHOWN = 8


# ---- typing begins and ends ----------------------------------------------------------------------


def begin_line(session: Session) -> Session:
    """Type what is said of him as shorthand."""
    if session.pad is None:
        return session.say(NO_BULL)
    return _begin(session, Typing(LINE, began=session.pad), session.unread or session.line)


def begin_note(session: Session) -> Session:
    """Type a note on what is said of him."""
    if session.pad is None or not session.pad.slip:
        return session.say("Say first what was seen; a note goes with it.")
    if session.unread:
        return session.say(UNREAD)
    asks = Typing(NOTE, "A note: what else is there to say?", "Enter keeps it, Esc leaves it")
    note = next((c["note"] for c in session.pad.slip.contents if "note" in c), "")
    return _begin(session, asks, note)


def begin_pick(session: Session) -> Session:
    """Type which bull comes now."""
    return _begin(session, Typing(PICK), "")


def _begin(session: Session, typing: Typing, text: str) -> Session:
    return typed(replace(session, typing=typing).do(Type(text)), text)


def leave(session: Session) -> Session:
    """Done with typing; what was typed of him stays said."""
    return replace(session, typing=None)


# ---- as it is typed ----------------------------------------------------------------------------


def typed(session: Session, text: str, found: Sequence[str] = ()) -> Session:
    """The text as it is now. ``found``: the bulls that it may mean, where a bull is asked for."""
    typing = session.typing
    if typing is not None and typing.what == LINE:
        return _line_typed(session, typing, text)
    if typing is not None and typing.what == PICK:
        return _found(session, replace(typing, found=tuple(found), chosen=None), text)
    return session


def _line_typed(session: Session, typing: Typing, text: str) -> Session:
    """Read the line back as it grows. What cannot be read yet is kept as it stands."""
    began = typing.began
    if began is None or session.card is None:
        return session
    try:
        slip = began.slip.read(text, began.before.scales)
    except ShorthandError as problem:
        now, why = replace(session, unread=text), problem.why
    else:
        pad = began.done(slip) if slip != began.slip else began
        now, why = replace(session, unread="", pad=pad), ""
    words = ", ".join(line.split()[-1] for line in _completions(session, text)[:SHOWN])
    asks = "Enter saves, Esc goes back to the keys" + (f"; Tab: {words}" if words else "")
    return replace(now, typing=replace(typing, asks=asks, why=why)).keep(text)


def _completions(session: Session, text: str) -> list[str]:
    groups = [line.group for line in session.board.groups] if session.board else []
    checks = [check.name for check in session.card.rules.checks] if session.card else []
    return complete(text, groups=groups, checks=checks)


def complete_word(session: Session, text: str) -> Session:
    """Take the first word that may come next."""
    if session.typing is None or session.typing.what != LINE:
        return session
    found = _completions(session, text)
    return typed(session.do(Type(f"{found[0]} ")), f"{found[0]} ") if found else session


def choose(session: Session, step: int) -> Session:
    """The next of the bulls found, or the one before."""
    typing = session.typing
    if typing is None or not typing.found:
        return session
    at = (-1 if step > 0 else 0) if typing.chosen is None else typing.chosen
    return _found(session, replace(typing, chosen=(at + step) % len(typing.found)))


def _found(session: Session, typing: Typing, text: str = "") -> Session:
    """With the bulls found in words; while nothing is typed, those half entered."""
    halves = session.half_entered
    asks, below = "Which bull?", "none has such a tag or name"
    if typing.found:
        asks = "Which bull? Enter takes him, arrows choose."
        below = "  ".join(
            f"{'→' if at == typing.chosen else ''}{session.called(key)}"
            f"{' (half entered)' if key in halves else ''}"
            for at, key in enumerate(typing.found[:SHOWN])
        )
    elif not text.strip():
        below = f"half entered: {', '.join(map(session.called, halves))}" if halves else ""
    return replace(session, typing=replace(typing, asks=asks, below=below))


# ---- Enter at the end of what is typed -----------------------------------------------------------


def entered(session: Session, text: str) -> Session:
    """Enter at the end of this text."""
    typing, pad = session.typing, session.pad
    if typing is not None and typing.what == PICK:
        return _picked(session, typing, text)
    if typing is None or (typing.what == LINE and session.unread):
        return session  # what is wrong stands under the line
    now = leave(session)
    if typing.what == LINE:
        return now.save()
    return now.take(pad.done(pad.slip.note(text.strip()))) if pad is not None else now


def _picked(session: Session, typing: Typing, text: str) -> Session:
    found = typing.found
    exact = [key for key in found if key == tag_key(text)]
    chosen = [found[typing.chosen]] if typing.chosen is not None else []
    one = chosen or exact or (found if len(found) == 1 else [])
    if one:
        return leave(session).pick(one[0])
    if not found:
        return session
    asks = "Which of them? Type more, or choose with the arrows."
    names = ", ".join(map(session.called, found[:SHOWN]))
    return replace(session, typing=replace(typing, asks=asks, below=names))


# ---- keys ----------------------------------------------------------------------------------------

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
    "v": lambda session: session.form("vet-word"),
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
