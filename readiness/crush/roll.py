"""The day's bulls in one list: who waits, who is left over, who is done. Pure."""

from __future__ import annotations

from typing import NamedTuple

from readiness.crush.before import tasks
from readiness.crush.session import Session
from readiness.engine.results import Assessment
from readiness.herd.done import Done, feet_words
from readiness.report.rows import check_words, mark

SCORED = "seen, neither lifted nor walked"
NOTHING_DUE = "nothing is due at the crush this week"


class Line(NamedTuple):
    """One bull: how he is called, what is to be known of him. ``mark``: as on the board; ``late``:
    something is overdue."""

    key: str
    called: str
    words: str
    mark: str
    late: bool = False


class Part(NamedTuple):
    """Bulls under one heading, where there are any."""

    heading: str
    lines: list[Line]


def roll(session: Session) -> list[Part]:
    """Each bull once: who waits in the order of the race; who was taken out of it, is half entered
    or would not lift a foot; who has been through."""
    bulls, race = session.bulls, session.race
    waits = [_waiting(session, bulls[key]) for key in race.keys if key in bulls]
    left = [_left(session, bulls[key]) for key in _over(session)]
    done = [_done(session, bulls[key]) for key in session.through]
    scored = [_scored(session, bulls[key], said) for key, said in _scored_only(session).items()]
    return [
        Part("wait, and are left over if the day ends now", waits),
        Part("left over", left),
        Part("done", done),
        Part(SCORED, scored),
    ]


def brought(session: Session, key: str | None) -> Session:
    """The one chosen of the list stands in the crush; None: none was."""
    return session.pick(key) if key is not None else session


def _over(session: Session) -> list[str]:
    """Who is left over: out of the race, half entered or with a foot that would not lift."""
    bulls, race = session.bulls, session.race
    tried = [key for key, done in session.handled.items() if done.refused]
    over = dict.fromkeys((*race.out, *session.drafts, *tried))
    return [key for key in over if key not in race.keys and key in bulls]


def _scored_only(session: Session) -> dict[str, Done]:
    """Who was saved here and has not been through, nor waits or is left over; what was said."""
    elsewhere = {*session.race.keys, *session.through, *_over(session)}
    found: dict[str, Done] = {}
    for batch in session.saves:
        if batch.key in session.bulls and batch.key not in elsewhere:
            found[batch.key] = found.get(batch.key, Done()).and_then(batch.pad.slip.contents)
    return found


def _scored(session: Session, bull: Assessment, said: Done) -> Line:
    return _line(session, bull, said.words or "saved")


def _waiting(session: Session, bull: Assessment) -> Line:
    """What he waits for, the most pressing first, where nothing is due what could be done today;
    what was done on him already."""
    checks = sorted(session.waits(bull), key=lambda c: (not c.has_last_day, c.last_day))
    later = [task.words for task in tasks(bull, session.today.toordinal())][:1]
    asked = ", ".join(dict.fromkeys(map(check_words, checks)) or later) or NOTHING_DUE
    done = session.handled.get(bull.key)
    parts = ["in the crush"] if bull.key == session.key else []
    how = "; ".join([*parts, *_half(session, bull)])
    what = f"{asked}; {done.words} today" if done and done.words else asked
    late = any(check.overdue for check in checks)
    return _line(session, bull, f"{how}: {what}" if how else what, late=late)


def _left(session: Session, bull: Assessment) -> Line:
    done = session.handled.get(bull.key, Done())
    parts = _half(session, bull)
    parts += ["not today"] if bull.key in session.race.out else []
    parts += [f"{feet_words(done.refused)} would not lift"] if done.refused else []
    return _line(session, bull, "; ".join(parts), late=True)


def _done(session: Session, bull: Assessment) -> Line:
    left = session.feet_left(bull)
    also = f"; still to lift: {feet_words(left)}" if left else ""
    here = "in the crush: " if bull.key == session.key else ""
    return _line(session, bull, f"{here}{session.handled[bull.key].words}{also}")


def _half(session: Session, bull: Assessment) -> list[str]:
    draft = session.drafts.get(bull.key)
    return [f"half entered ({draft.line.strip()})"] if draft is not None else []


def _line(session: Session, bull: Assessment, words: str, *, late: bool = False) -> Line:
    return Line(bull.key, session.called(bull.key), words, mark(bull), late)
