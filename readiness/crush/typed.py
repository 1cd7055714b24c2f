"""What is typed into the line: shorthand, a note, which bull comes, or which bull is given what was
said of another. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import takewhile

from readiness.crush.effects import Batch, Go, Press, Type
from readiness.crush.giving import give, given_words, is_sure, may_be_given, whose
from readiness.crush.line import GIVE, LINE, NOTE, OF_A_BULL, PICK, Typing
from readiness.crush.pad import Pad
from readiness.crush.saving import save
from readiness.crush.session import NO_BULL, UNREAD, Session
from readiness.shorthand import ShorthandError
from readiness.shorthand.complete import complete
from readiness.trade.tags import match_tag, tag_key
from readiness.trade.words import sentence

Like = Callable[[str], Sequence[str]]
"""A text typed → the bulls it may mean."""
SHOWN = 8
BEGINS = ("s", "t")
"""The answers by which whoever is sound begins: after the digits of a tag they take him, too."""
NOTE_STANDS = "Noted, not saved yet."
UNCHANGED = "The line is as it was: Enter saves him."
NOT_NOTED = "The note is not kept: m brings your words back, Enter keeps them."
NOTED = "A note goes with what was seen: say that first, then m brings your words back."


# ---- typing begins and ends ----------------------------------------------------------------------


def begin_line(session: Session) -> Session:
    """Type what is said of him as shorthand."""
    return _open_line(session, session.unread or session.line)


def line_back(session: Session) -> Session:
    """Type on where a line cannot be read, its last letter taken back."""
    return _open_line(session, session.unread[:-1])


def _open_line(session: Session, text: str) -> Session:
    if session.pad is None:
        return session.say(NO_BULL)
    pad, message = session.pad.tell(""), session.message
    # That a line cannot be read is not said beside the one that is mended.
    now = replace(session, pad=pad, message="" if session.unread else message)
    return _begin(now, Typing(LINE, began=pad, opened=text), text)


def begin_note(session: Session) -> Session:
    """Type a note on what is said of him."""
    if session.pad is None:
        return session.say(NO_BULL)
    if session.unread:
        return session.say(UNREAD)
    asks = Typing(NOTE, "A note: what else is there to say?", "Enter keeps it, Esc leaves it")
    whose, early = session.noted
    kept = early if whose == session.key else ""
    return _begin(session, asks, kept or _noted(session.pad))


def _noted(pad: Pad) -> str:
    """The note that is said."""
    return next((said["note"] for said in pad.slip.contents if "note" in said), "")


def begin_pick(session: Session) -> Session:
    """Type which bull comes now."""
    return _begin(session, Typing(PICK), "")


NOTHING_TO_GIVE = (
    "Nothing was said here yet. What was saved before: u brings it back, then y gives it."
)


def begin_give(session: Session) -> Session:
    """Not him: what was said is another bull's. Where the words of several bulls may be meant, or
    those of one who did not stand there, it is asked first which: a tag typed from habit gives
    nobody's words away."""
    if session.readonly:
        return session.say("Nothing is given: the book was opened to be read only.")
    if session.unread:
        return session.say(UNREAD)
    which = list(may_be_given(session).values())
    if not which:
        return session.say(NOTHING_TO_GIVE)
    sure = len(which) == 1 and is_sure(session, which[0])
    return give_words(session, which[0]) if sure else session.do(Go.GIVE)


def give_words(session: Session, batch: Batch | None) -> Session:
    """Type to which bull goes what was saved; None: what is half said of the one in the crush."""
    return _begin(session, Typing(GIVE, gives=batch), "")


def _begin(session: Session, typing: Typing, text: str) -> Session:
    return typed(replace(session, typing=typing).do(Type(text)), text)


def leave(session: Session, text: str = "") -> Session:
    """Done with typing; what was typed of him stays said, and ``text``, where it is a note that is
    not, comes again."""
    typing, pad, now = session.typing, session.pad, replace(session, typing=None)
    if typing is None or typing.what != NOTE or pad is None or session.key is None:
        return now
    if text.strip() in ("", _noted(pad)):
        return replace(now, noted=("", ""))
    return replace(now, noted=(session.key, text)).say(NOT_NOTED)


# ---- as it is typed ----------------------------------------------------------------------------


def typed(session: Session, text: str, found: Sequence[str] = ()) -> Session:
    """The text as it is now. ``found``: the bulls that it may mean, where a bull is asked for."""
    typing = session.typing
    if typing is not None and typing.what == LINE:
        return _line_typed(session, typing, text)
    if typing is not None and typing.what in OF_A_BULL:
        several = found or _alike(session, text)
        return _found(session, replace(typing, found=tuple(several), chosen=None), text)
    return session


def _alike(session: Session, text: str) -> list[str]:
    """The bulls whose tags end in the digits of a text that goes on behind them, as with a key that
    takes a bull: where they are several it takes none."""
    digits = _digits(text)
    found = match_tag(digits, session.bulls) if digits != text.strip() else []
    return found if len(found) > 1 else []


def _digits(text: str) -> str:
    """Those with which it begins."""
    return "".join(takewhile(str.isdigit, text.strip()))


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
    """With the bulls found in words; while nothing is typed, those half entered, or what is given
    to the bull asked for."""
    halves, gives, one = session.half_entered, typing.what == GIVE, _meant(session, typing, text)
    which, takes, below = "Which bull?", "takes him", "none has such a tag or name"
    if gives:  # whose words go to whom is said before they go
        whom = f"to {session.called(one)}?" if one else "to which bull?"
        which, takes = f"{sentence(whose(session, typing.gives))[:-1]}: {whom}", "gives it to him"
    asks = which
    if typing.found:
        alike = typing.found == tuple(_alike(session, text))
        several = f"{len(typing.found)} tags end in {_digits(text)}. " if alike else ""
        arrows = "" if gives and one else ", arrows choose"
        asks = f"{several}{which} Enter {takes}{arrows}."
        if len(typing.found) == 1 and text.strip().isdigit() and not gives:
            asks = "Which bull? Enter takes him, s or t too, and says it."
        below = "  ".join(
            f"{'→' if at == typing.chosen else ''}{session.called(key)}"
            f"{' (half entered)' if key in halves else ''}"
            for at, key in enumerate(typing.found[:SHOWN])
        )
    elif gives and not text.strip():
        below = given_words(session, typing.gives)
    elif not text.strip():
        below = f"half entered: {', '.join(map(session.called, halves))}" if halves else ""
    return replace(session, typing=replace(typing, asks=asks, below=below))


# ---- Enter at the end of what is typed -----------------------------------------------------------


def entered(session: Session, text: str) -> Session:
    """Enter at the end of this text."""
    typing, pad = session.typing, session.pad
    if typing is not None and typing.what in OF_A_BULL:
        return _picked(session, typing, text)
    if typing is None or (typing.what == LINE and session.unread):
        return session  # what is wrong stands under the line
    now = leave(session)
    if typing.what == LINE and pad is not None and pad.slip and text == typing.opened:
        return now.say(UNCHANGED)
    if typing.what == LINE:
        return save(now)
    if pad is not None and session.key is not None and not pad.slip:
        return replace(now, noted=(session.key, text)).say(NOTED)
    # What was asked before the note is asked still.
    if pad is None:
        return now
    return now.take(pad.go(pad.mode, pad.slip.note(text.strip()), NOTE_STANDS))


def _picked(session: Session, typing: Typing, text: str) -> Session:
    found, one = typing.found, _meant(session, typing, text)
    if one:
        now = leave(session)
        return give(now, typing.gives, one) if typing.what == GIVE else now.pick(one)
    if not found:
        return session
    asks = "Which of them? Type more, or choose with the arrows."
    names = ", ".join(map(session.called, found[:SHOWN]))
    return replace(session, typing=replace(typing, asks=asks, below=names))


def _meant(session: Session, typing: Typing, text: str) -> str:
    """The bull whom Enter takes at the end of this text; "" where it has to be asked."""
    found = typing.found
    if typing.chosen is not None:
        return found[typing.chosen]
    exact = [key for key in found if key == tag_key(text)]
    one = next(iter(exact or (found if len(found) == 1 else ())), "")
    return "" if one and typing.what == GIVE and not _names(session, one, text) else one


def begun(session: Session, text: str, key: str, like: Like) -> Session | None:
    """Straight after the digits of a tag that only one bull has a key that begins what is said of
    a sound one takes him and says it. None where the key belongs to what is typed."""
    typing = session.typing
    if key not in BEGINS or typing is None or typing.what != PICK or not text.strip().isdigit():
        return None
    found = like(text)
    if len(found) != 1 or like(text + key):
        return None
    return leave(session).pick(found[0]).do(Press(key))


def _names(session: Session, key: str, text: str) -> bool:
    """Whether the text stands in his tag or name: letters far apart, such as those of a note, or
    one alone, find a bull to look at, and give nobody what is another's."""
    name, said = session.bulls[key].name or "", tag_key(text)
    return (len(said) > 1 or said.isdecimal()) and (said in key or said in tag_key(name))
