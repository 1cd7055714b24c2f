"""Which key means what in the crush: the pad's answers first, then the session's own. Pure."""

from __future__ import annotations

from dataclasses import replace

from readiness.crush.by_form import open_form
from readiness.crush.effects import Go
from readiness.crush.mending import begin_mend
from readiness.crush.modes_foot import FindCode
from readiness.crush.pad import BACK, CLAW_KEYS, FOOT_KEYS, Choice, Number, Pad, is_digit
from readiness.crush.saving import save, undo
from readiness.crush.session import NO_BULL, UNREAD, Session, Step
from readiness.crush.slip import Content
from readiness.crush.top import AskFinding
from readiness.crush.typed import begin_give, begin_line, begin_note, begin_pick, line_back
from readiness.shorthand import words
from readiness.system.breath import BREATH, DEAF, DOUBLED, HELD, SEEN, UNHEARD, held_down
from readiness.trade.words import day_words

ENTER_AGAIN = "Enter again saves him."
MISSED = "Not saved yet, a key was not taken: is all said? Enter again saves him."
NEXT_AGAIN = "Not saved yet: Enter saves him; n again, and he stays half entered."
QUIT_AGAIN = "q again ends the program; nothing is lost."
LEAVE_AGAIN = "Esc again leaves the crush; nothing is lost."
UNDO_AGAIN = "Not saved yet: Backspace takes back a key; u again, the last bull saved."
DROP_AGAIN = "x again: he does not come today. Of a foot that would not lift: first its digit, 1-4."
BY_ITSELF = "u takes back only by itself: nothing was taken back. m begins a note."
NOT_SEEN = "Not saved: typed before anybody could see him. Look, then Enter saves him."
STOOD = "stood half entered"
NOT_YET = "is not saved yet: Enter saves him; or say on what is of him."
SOON_AGAIN = ("enter", "x")
"""Keys pressed twice on purpose: to end a foot and save takes two, and whoever takes that for done
says the next bull's words of this one. Held down for long they decide once more, and no third time.
"""


def codes(session: Session) -> Session:
    """What each code means, by the rules of the bull in the crush."""
    return session.do(Go.CODES) if session.card is not None else session


OWN: dict[str, Step] = {
    "enter": save,
    "n": lambda session: session.skip(1),
    "up": lambda session: session.skip(-1),
    "/": begin_pick,
    "u": undo,
    "y": begin_give,
    "*": begin_mend,
    "tab": lambda session: session.do(Go.LIST) if session.board else session,
    "l": begin_line,
    "m": begin_note,
    "v": lambda session: open_form(session, ""),
    "g": lambda session: session.do(Go.TEAMS) if session.board else session,
    "x": Session.drop,
    "e": codes,
    "escape": lambda session: session.do(Go.LEAVE),
}
WHATEVER_IS_ASKED = ("n", "up", "/", "l", "m", "v", "g", "e", "y", "*", "tab")
"""Those that mean the same whatever is asked, but for a letter of a code: that it is another bull
one sees by what is asked of him."""


def press(session: Session, key: str, at: float, stood: float = 0.0) -> tuple[Session, bool]:
    """One key (a character, or a name as enter), pressed ``at`` so many seconds; whether it means
    something here. Where a key decides something for good it has to be pressed anew: held down it
    decides once. A key that means nothing is refused aloud, with what follows it in one breath.
    ``stood``: since when he stands in the crush."""
    before, when, was_held = session.pressed
    since = at - when
    held = key == before and (since < HELD if key in SOON_AGAIN else held_down(since, was_held))
    breath = session.breath if since < DEAF else at
    unseen = breath < stood and session.key != session.named
    if unseen and (refused := _unseen(session, key)):
        return replace(refused, pressed=(key, at, False), breath=breath), True
    now = replace(session, pressed=(key, at, held), breath=breath, deaf=False, doubted="")
    doubted = session.doubted and since < DEAF and key in CLAW_KEYS
    if doubted and now.pad is not None:  # "2 4 4 o": that foot's
        now = now.take(now.pad.press(session.doubted) or now.pad)
    if session.deaf and since < DEAF:
        return _unheard(now), True
    if held and since < DOUBLED and _counts_once(session.pad, key):
        return _once(now, key), True
    if now.again == "enter" and now.message != ENTER_AGAIN and _is_answer(key):
        # Enter was pressed to save him, and he is not saved: this was meant for the next one.
        asked = replace(now.say(""), missed=True)  # and whoever types on slowly is asked again
        return _refuse(asked, f"{now.called(now.key or '')} {NOT_YET}"), True
    if session.again and key != session.again:
        now = now.say("")
    quick = key == before and since < BREATH
    after = _answer(now, key, held=held, quick=quick) or _own(now, key, held=held)
    if after is None and (len(key) > 1 or key == "?"):
        return now, False
    if after is None:
        after = _refuse(now, NO_BULL if now.pad is None else _nothing(key))
    if after.deaf and len(key) == 1:
        after = replace(after, missed=True)
    return _told(session, after, at), True


def _is_answer(key: str) -> bool:
    """Whether a key says something of the bull in the crush."""
    return len(key) == 1 and key not in (*WHATEVER_IS_ASKED, "u", "?", "q", "x")


def _told(before: Session, after: Session, at: float) -> Session:
    """What was told of a key stands for a moment, though the next one has nothing to tell: whoever
    types on sees it, too."""
    was, now = before.pad, after.pad
    if now is None or was is None or after.key != before.key or after.pressed[0] == BACK:
        return after
    if now.said:
        return replace(after, told=at) if now.said != was.said else after
    if was.said and not was.refused and at - before.told < SEEN:
        return replace(after, pad=now.tell(was.said))
    return after


def _refuse(session: Session, words: str) -> Session:
    deaf = replace(session, deaf=True)
    return deaf.take(deaf.pad.refuse(words)) if deaf.pad is not None else deaf.say(words)


def _nothing(key: str) -> str:
    return f"{'space' if key == ' ' else key} means nothing here."


def _counts_once(pad: Pad | None, key: str) -> bool:
    """Whether a key that came twice at once counts once: but for the digits of a number, and a
    letter that stands twice in a code."""
    if len(key) > 1 or key == "u":  # held down, it says itself what it does
        return key == "enter"
    if pad is None or not isinstance(pad.mode, Number | FindCode):
        return True
    return isinstance(pad.mode, FindCode) and ((on := pad.press(key)) is None or on.refused)


def _once(session: Session, key: str) -> Session:
    pad = session.pad
    if pad is None or pad.said or len(key) > 1:
        return session
    return session.take(pad.tell(f"{key} came twice at once: it counts once."))


def escaped(session: Session, at: float) -> Session:
    """Esc closed what stood over the pad: one more in the same moment was meant for that, too."""
    return replace(session, pressed=("escape", at, False))


def _unseen(session: Session, key: str) -> Session | None:
    """Enter, where the keys up to it were typed without a pause since before he stood there: nobody
    has looked at what it would save, or of whom. None: it is another key, or saves nothing."""
    pad = session.pad
    if key != "enter" or pad is None or pad.mode != pad.top or not pad.slip:
        return None
    return _refuse(session.say("", key), NOT_SEEN)


def word_begun(session: Session, key: str, at: float) -> Session:
    """A character followed u in one breath: a word was begun with it, and nothing is taken back."""
    return _refuse(replace(session, pressed=(key, at, False)), BY_ITSELF)


def _unheard(session: Session) -> Session:
    """Not taken, and said so once."""
    said = session.pad.said if session.pad is not None else session.message
    if UNHEARD in said:
        return replace(session, deaf=True)
    return _refuse(session, f"{said} {UNHEARD}")


def _answer(session: Session, key: str, *, held: bool, quick: bool) -> Session | None:
    """The key as an answer to what is asked. ``quick``: in one breath with the same key."""
    pad = session.pad
    if pad is None:
        return None
    at_top = pad.mode == pad.top
    if key == BACK and session.unread:
        return line_back(session)
    if key == BACK and not pad.steps and pad.slip and not session.unread:
        return session.take(_whole_back(pad))
    if key == "?":
        return codes(session) if isinstance(pad.mode, FindCode) else None
    if at_top and key in ("enter", "escape"):
        return None
    if quick and isinstance(pad.mode, AskFinding):
        return session.take(pad.tell(f"{key} again, not so soon: this is another finding."))
    pressed = pad.press(key)
    if pressed is None:
        if at_top or key in WHATEVER_IS_ASKED:
            return None
        return _refuse(session, _nothing(key))
    if session.unread:
        return _refuse(session, UNREAD)
    if pressed.refused:
        return replace(session, deaf=True).take(pressed)
    lost = "" if key == BACK else " ".join(pad.slip.unsaid_in(pressed.slip))
    if held and (why := _too_soon(pad, pressed, key, lost, quick=quick)):
        doubted = key if at_top and key in FOOT_KEYS else ""
        return replace(session.take(pad.tell(why)), doubted=doubted)
    said = f"{pressed.said} No longer said: {lost}".strip() if lost else pressed.said
    now = replace(session, lost="" if key == BACK else lost or session.lost)
    return now.take(pressed.tell(said))


def _too_soon(pad: Pad, pressed: Pad, key: str, lost: str, *, quick: bool) -> str:
    """Why a key that came a second time at once does not count again: it would take away what the
    first said, or take up another foot or name the limb where the first answered a question."""
    foot = pressed.mode.place[0]
    limbs = [(each.slip.last("mobility") or {}).get("limb") for each in (pad, pressed)]
    if quick and is_digit(key) and limbs[0] != limbs[1]:
        return f"{key} again, not so soon: on which limb?"
    if is_digit(key) and foot not in ("", pad.mode.place[0]):
        return f"{key} again, not so soon: that is another foot."
    return f"{key} came twice at once: it counts once." if lost and len(key) == 1 else ""


def _whole_back(pad: Pad) -> Pad:
    """Without the last entry of what a crash or an undo brought back: nobody knows any more by
    which keys it was said."""
    *kept, gone = pad.slip.contents
    slip = replace(pad.slip, contents=tuple(kept))
    told = f"Taken back whole, since its keys are not known any more: {words(gone)}"
    return replace(pad, slip=slip, mode=pad.top).tell(told)


def _own(session: Session, key: str, *, held: bool) -> Session | None:
    if key == "q":  # it lies beside w
        return session.do(Go.QUIT) if session.again == key else _sure(session, QUIT_AGAIN, key)
    if key == "u":
        return _undo(session, held=held)
    if key == "n" and _half_said(session) and session.again != key:
        return session.say(NEXT_AGAIN, key)
    if key == "enter" and session.halved and not session.unread and _still_stands(session):
        return replace(session.say(_half_came(session), key), halved=False)
    if key == "enter" and session.lost and session.line and not session.unread:
        words = f"No longer said of {session.called(session.key or '')}: {session.lost}"
        return replace(session.say(f"{words} {ENTER_AGAIN}", key), lost="", missed=False)
    if key == "enter" and session.missed and session.line and not session.unread:
        return replace(session.say(MISSED, key), missed=False)
    if key == "enter" and session.again != key and _let_go(session.pad):
        # It ended the foot: whoever ends a foot by Enter, too, would save him.
        return session.say(ENTER_AGAIN, key)
    if key == "x" and session.key is not None and (held or session.again != key):
        return session.say(DROP_AGAIN, key)
    if key == "enter" and held and session.pad is not None and session.pad.slip:
        # The one before it ended something else.
        return session.say(ENTER_AGAIN, key)
    if key == "escape" and (held or (session.key in session.drafts and session.again != key)):
        # One too many, after a foot: what follows would be keys of the board.
        return _sure(session, LEAVE_AGAIN, key)
    if key not in OWN:
        return None
    ended = _number_ended(session)
    if ended.deaf:
        return ended
    after = OWN[key](ended)
    # Where no line and no form opened, what follows was meant for it.
    return replace(after, deaf=key in ("l", "m", "v", "y", "*") and not after.todo)


def _half_said(session: Session) -> bool:
    """Whether something is said of the one in the crush that is not saved, and was not when he
    came."""
    pad, came = session.pad, session.came
    as_he_came = pad and came and (pad.slip, pad.steps) == (came.slip, came.steps)
    return pad is not None and bool(pad.slip) and not as_he_came


def _sure(session: Session, words: str, key: str) -> Session:
    """Leaving is asked for twice; what it would leave half entered is said."""
    return session.say(f"{words} {session.half_said()}".strip(), key)


def _half_came(session: Session) -> str:
    """That what stood half entered of him, maybe of another day, is saved with the rest."""
    pad = session.pad
    assert pad is not None
    stood = replace(pad.slip, contents=_still_stands(session)).line(pad.before.scales)
    who, on = session.called(session.key or ""), day_words(pad.slip.on, session.today)
    return f"{who} {STOOD}: {stood}. Enter again saves all that is said under {on}."


def _still_stands(session: Session) -> tuple[Content, ...]:
    """What stood half entered of him when he came, and was not taken back."""
    pad, came = session.pad, session.came
    said = came.slip.contents if came is not None else ()
    return tuple(each for each in said if pad is not None and each in pad.slip.contents)


def _let_go(pad: Pad | None) -> bool:
    """Whether the last key said that a foot would not lift."""
    return pad is not None and bool(pad.steps) and pad.steps[-1][0].refused != pad.slip.refused


def _number_ended(session: Session) -> Session:
    """A number that is being typed, or the whole one of a condition, is said, as by Enter, before
    one goes on to something else."""
    pad = session.pad
    mode = pad.mode if pad is not None else None
    half = isinstance(mode, Number) or (isinstance(mode, Choice) and mode.answered)
    ended = pad.press("enter") if pad is not None and half else None
    if ended is None:
        return session
    return _refuse(session, ended.said) if ended.refused else session.take(ended)


def _undo(session: Session, *, held: bool) -> Session:
    """Take back the last bull saved; asked for twice where keys pressed for the one in the crush
    are not saved. Fingers that say "sole ulcer" where another question stands press it, and what
    follows would be said of another bull."""
    if held:
        words = "u again in a moment: held down, it takes back one bull only."
        return session.say(words, session.again)
    if _half_said(session) and session.again != "u":
        # What follows may be the rest of a word that began with it.
        return replace(session.say(UNDO_AGAIN, "u"), deaf=True)
    return undo(replace(session, again=""))
