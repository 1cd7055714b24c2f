"""The Crush screen as a picture: how the rows are shared, and what goes where. Pure."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import NamedTuple

from textual.content import Content

from readiness.crush.session import Session
from readiness.tui.crush import standing, views
from readiness.tui.shared.looks import BIG_ROWS, TEXT, Glyphs, big_tag

COMING = 8
DIGIT, BESIDE = 3, 4
"""Cells of a large digit; of what stands beside the digits and beside what is said of him."""
MESSAGE_ROWS = 2
MOST_ASKED = 5
TYPING_KEYS = (("Enter", "done"), ("Tab", "completes"), ("Esc", "back to the keys"), ("F1", "help"))
UNREAD_ASKS = "The line cannot be read yet: l mends it, Backspace takes its last letter."
UNREAD_KEYS = (
    ("l", "mends the line"),
    ("Backspace", "its last letter"),
    ("/", "bull"),
    ("?", "help"),
)
QUESTION_KEYS = (
    ("Backspace", "back"),
    ("Esc", "out"),
    ("m", "note"),
    ("g", "group"),
    ("/", "bull"),
    ("v", "vet"),
    ("n", "next"),
    ("?", "help"),
)
ONE_ROW = 128
"""From this width on all keys stand in one row."""
FEET_ROWS = 6
LOW = 24
TALL, ROOMY, DRAWN_ROWS = 36, 110, 21
SAVED_SHARE = 0.38
ANSWERS = ("pad", "unread", "typing")
UNSEEN = (
    "todo", "pressed", "deaf", "doubted", "noted", "again", "drafts", "pads", "came", "saves",
    "first", "who", "readonly", "let",
)  # fmt: skip
"""What of a session is painted with each key; what is not painted at all."""


class Rows(NamedTuple):
    """How many rows each part has."""

    due: int
    feet: int
    saved: int
    lower: int
    """What is read back, and below it what is asked."""
    coming: int
    keys: int


def rows_of(width: int, height: int, message: int = 0) -> Rows:
    """The rows of a screen of this size, of which a message takes some; what stands on every screen
    takes the rest. A long one takes one of what is read back: the line of keys is never lost."""
    coming = 0 if height < LOW else 1
    drawn = width >= ROOMY and height >= TALL
    feet = DRAWN_ROWS if drawn else FEET_ROWS
    keys = 1 if width >= ONE_ROW or (message and height < LOW) else 2
    free = height - (1 + BIG_ROWS + feet + 1 + coming + keys) - message
    lower = max(MOST_ASKED + 1, min(MOST_ASKED + 4, free - free // 3))
    lower = max(min(lower, free - 1), MOST_ASKED)
    saved = feet if width >= views.WIDE_ENOUGH else 0
    return Rows(max(free - lower, 1), feet, saved, lower, coming, keys)


@dataclass(slots=True)
class Picture:
    """``parts``: what each part shows; ``heights``: in rows, of those that change; ``feet``: the
    width of the feet. ``tag``: in large digits, None where it stays as it is. ``big``: whether a
    foot stands in large letters. ``keys``: in place of the screen's own."""

    feet: int
    parts: dict[str, Content] = field(default_factory=dict)
    heights: dict[str, int] = field(default_factory=dict)
    tag: str | None = None
    big: bool = False
    keys: tuple[tuple[str, str], ...] = ()


def picture(
    was: Session | None, now: Session, width: int, height: int, glyphs: Glyphs
) -> Picture | None:
    """What has to be painted on a screen of this size once ``was`` is painted; None: nothing."""
    changed = {each.name for each in fields(now)}.difference(UNSEEN)
    changed = {name for name in changed if getattr(was, name, None) is not getattr(now, name)}
    if was is not None and not changed:
        return None
    said = glyphs.text(now.message)
    lines = Content.assemble((f" {said}", f"bold {TEXT}")).wrap(max(width - 2, 20))
    message = lines[:MESSAGE_ROWS] if said else []
    rows = rows_of(width, height, len(message))
    feet = width - int(width * SAVED_SHARE) if width >= views.WIDE_ENOUGH else width
    made = Picture(feet)
    if was is None or not changed.issubset(ANSWERS):
        _around(made, now, width, rows, glyphs)
        made.parts["line"] = Content("\n ").join(message)
        made.heights["line"] = len(message)
    _answers(made, now, width, rows, glyphs)
    return made


def _around(made: Picture, session: Session, width: int, rows: Rows, glyphs: Glyphs) -> None:
    """The head, what is due on him, what was saved, who comes."""
    made.heights = {
        "due": rows.due, "coming": rows.coming, "saved": rows.saved, "feet": rows.feet,
        "middle": rows.feet, "keys": rows.keys,
    }  # fmt: skip
    card, race, parts = session.card, session.race.keys, made.parts
    farm = glyphs.text(session.team.group or session.team.farm or "")
    done, today = len(session.through), session.today
    half = len(session.half_entered)
    parts["top"] = views.top_line(farm, done, len(race), half, today, width, glyphs)
    parts["due"] = views.due(card, today, rows.due, width, glyphs) if card else Content("")
    halves = session.half_entered
    names = [
        f"{session.called(key)}{' (half entered)' if key in halves else ''}"
        for key in race
        if key != session.key
    ]
    parts["coming"] = views.coming(names[:COMING], width, glyphs)
    parts["saved"] = views.saved(session.last, rows.saved, width - made.feet - 1, glyphs)
    if card is None:
        made.tag = ""
        parts["person"] = Content.assemble(("Nobody is in the crush.", "bold"))
        return
    tag = glyphs.text(card.assessment.bull)
    made.tag = "" if glyphs.ascii_only else big_tag(tag)
    room = width - DIGIT * len(made.tag) - (BESIDE if made.tag else BESIDE // 2)
    shown = "" if tag == made.tag else tag
    parts["person"] = views.head(card, today.toordinal(), glyphs, shown, room)


def _answers(made: Picture, session: Session, width: int, rows: Rows, glyphs: Glyphs) -> None:
    """What is said of him, and what is asked."""
    pad, card, typing, parts = session.pad, session.card, session.typing, made.parts
    most = MOST_ASKED
    parts.update(dict.fromkeys(("feet", "slip", "words", "question", "big"), Content("")))
    if pad is not None and card is not None:
        drawn = standing.feet_drawn if rows.feet == DRAWN_ROWS else standing.feet
        parts["feet"] = drawn(pad, made.feet, glyphs)
        parts["slip"] = views.line(session.line, session.unread, width, glyphs)
        parts["big"] = large = views.big_foot(pad, glyphs)
        made.big = bool(pad.mode.place[0]) and typing is None
        if pad.mode != pad.top:
            made.keys = QUESTION_KEYS
    if typing is not None:
        made.keys = TYPING_KEYS
        asked = views.typed(typing.asks, typing.below, width, glyphs)
    elif pad is None or card is None:
        made.heights |= {"asking": 0, "words": rows.lower}
        parts["words"] = views.echoed(session.last, rows.lower, width, glyphs)
        return
    elif session.unread:
        made.keys = UNREAD_KEYS
        asked = views.typed(UNREAD_ASKS, "", width, glyphs)
    else:
        room = width - max(line.cell_length for line in large.split("\n", allow_blank=True))
        if not pad.said:  # what is read back and who comes next can wait
            most = rows.lower + rows.coming
        asked = views.question(pad, room - 1, most, glyphs)
    # What is asked takes as many rows as it needs; what is read back, the others above it.
    needs = max(asked.plain.count("\n") + 1, BIG_ROWS if made.big else 1)
    made.heights["asking"] = min(needs, most)
    left = made.heights["words"] = max(rows.lower - made.heights["asking"], 0)
    made.heights["coming"] = rows.lower + rows.coming - made.heights["asking"] - left
    parts["question"] = asked
    if typing is not None and typing.why:
        parts["words"] = views.wrong(typing.why, glyphs)
    elif pad is not None and card is not None and (typing is None or typing.began is not None):
        last = session.last if typing is None else None
        parts["words"] = views.words(pad, card, last, left, width, glyphs)
