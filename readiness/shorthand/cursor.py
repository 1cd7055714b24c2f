"""Reading one part of a line from left to right: words, texts, numbers and days.

Days are read as everywhere (``trade.days``).
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from datetime import date

from readiness.shorthand.lexicon import FEET_HEADS, HEADS
from readiness.system.errors import DataError
from readiness.system.limits import TYPED_MOST
from readiness.system.plain import cut
from readiness.trade.days import Reading, day_at, read_day

SHOWN_MOST = 60


class ShorthandError(DataError):
    """A part of the line cannot be read: which part, what is wrong, what to write.

    ``part`` counts from 1, 0 where the line as a whole is meant; ``text`` is that part as typed;
    ``why`` the message without them.
    """

    def __init__(self, part: int, text: str, why: str) -> None:
        self.part = part
        self.text = text
        self.why = why
        super().__init__(f'part {part}, "{cut(text, SHOWN_MOST)}": {why}' if part else why)


_GAP = re.compile(r"[\s,]*")
_QUOTED = re.compile(r'"((?:[^"]|"")*)"')
_PART = re.compile(r'((?:"(?:[^"]|"")*"|[^";])*)(;|"|\Z)')
_TOKEN = re.compile(r'[^\s,;"]+|"[^"]*')
_PLAIN_VALUE = re.compile(r"[A-Za-z0-9][\w.%'/+-]*(?: [\w.%'/+-]+)*")
_RAW_WORD = re.compile(r'[^\s"]+')


def split_parts(text: str) -> list[str]:
    """The parts of a line: parted by ``;`` outside quotes, the empty ones left in place."""
    if len(text) > TYPED_MOST:
        why = f"the line has {len(text):,} letters, and one has at most {TYPED_MOST:,}; part it"
        raise ShorthandError(0, text, why)
    parts: list[str] = []
    for match in _PART.finditer(text):
        if match[2] == '"':
            raise ShorthandError(
                len(parts) + 1,
                text[match.start() :].strip(),
                f"the quote that begins at {text[match.end(1) :][:20]} has no end; "
                "close it with a double quote",
            )
        parts.append(match[1].strip())
        if not match[2]:
            break
    return parts


def quote(text: str) -> str:
    """The text in double quotes; quotes inside are doubled."""
    return '"' + text.replace('"', '""') + '"'


class Cursor:
    """A place in one part of the line. Spaces and commas between words are free."""

    def __init__(self, text: str, number: int) -> None:
        self.text = text
        self.number = number
        self.at = 0
        self._skip()

    def _skip(self) -> None:
        match = _GAP.match(self.text, self.at)
        self.at = match.end() if match else self.at

    @property
    def done(self) -> bool:
        """Whether nothing is left of the part."""
        return self.at >= len(self.text)

    def take(self, pattern: re.Pattern[str]) -> str | None:
        """The first group of the pattern where it stands next, taken; else None."""
        match = pattern.match(self.text, self.at)
        if match is None:
            return None
        self.move(match.end())
        return match[1]

    def move(self, at: int) -> None:
        """To a place, and on to what stands there next."""
        self.at = at
        self._skip()

    def need(self, pattern: re.Pattern[str], why: str) -> str:
        """As ``take``; where the pattern does not stand next the part is refused by ``why``."""
        text = self.take(pattern)
        if text is None:
            raise self.fail(why)
        return text

    def peek(self, pattern: re.Pattern[str]) -> bool:
        """Whether the pattern stands next; nothing is taken."""
        return pattern.match(self.text, self.at) is not None

    def take_quoted(self) -> str | None:
        """A text in quotes, without them; else None."""
        text = self.take(_QUOTED)
        return None if text is None else text.replace('""', '"')

    def take_value(self, what: str, stop: re.Pattern[str]) -> str:
        """Free text: in quotes, or the words up to one that matches ``stop`` or a quote."""
        value = self.take_raw(stop)
        if not value.strip():
            raise self.fail(f"says no {what}; write it, in double quotes if need be")
        return value

    def take_raw(self, stop: re.Pattern[str]) -> str:
        """As ``take_value``, empty where nothing is said."""
        if (quoted := self.take_quoted()) is not None:
            return quoted
        start = end = self.at
        while not stop.match(self.text, self.at):
            word = _RAW_WORD.match(self.text, self.at)
            if word is None:
                break
            end = self.at = word.end()
            self._skip()
        return self.text[start:end].rstrip(",")

    def next_word(self) -> str:
        match = _TOKEN.match(self.text, self.at)
        return match[0] if match else self.text[self.at : self.at + 20]

    def fail(self, why: str) -> ShorthandError:
        """The refusal of this part, to be raised."""
        return ShorthandError(self.number, self.text, why)

    def fail_word(self, known: Iterable[str], what: str = "known here") -> ShorthandError:
        """The next word is none of those that may stand here: say which may."""
        word = self.next_word()
        return self.fail(f'"{cut(word, SHOWN_MOST)}" is not {what}{instead_of(word, tuple(known))}')


def instead_of(word: str, known: tuple[str, ...]) -> str:
    """What to write, as the end of a message: the words that may stand there, nearest first."""
    if word.lower() in (*HEADS, *FEET_HEADS):
        return "; it begins a part of its own: write ; before it"
    if not known:
        return "; nothing more can stand here but a note in double quotes"
    return f"{near(word, known)}; here can stand {', '.join(known)}"


def near(word: str, known: Iterable[str]) -> str:
    """What a person may have meant, as the end of a message; "" where nothing is near."""
    letters = re.match(r"[A-Za-z-]+", word)
    found = difflib.get_close_matches(
        letters[0].lower() if letters else word.lower(), list(known), n=1, cutoff=0.5
    )
    return f"; did you mean {found[0]}?" if found else ""


def value_words(text: str, stop: re.Pattern[str]) -> str:
    """Free text as it is where it cannot be misread, else in quotes. ``stop``: what ends it."""
    safe = _PLAIN_VALUE.fullmatch(text) and not any(map(stop.match, text.split()))
    return text if safe else quote(text)


# ---- days ----------------------------------------------------------------------------------------


def take_day(cursor: Cursor, on: str) -> str | None:
    """The date that stands next, as ISO text, taken; None where no date stands there. Without a
    year it is the next such day from the entry's on.

    One that exists in no calendar, or reads two ways, is refused.
    """
    end = cursor.at + day_at(cursor.text[cursor.at :])
    if end == cursor.at:
        return None
    try:
        day = read_day(cursor.text[cursor.at : end], Reading(date.fromisoformat(on)))
    except DataError as problem:
        raise cursor.fail(str(problem)) from problem
    cursor.move(end)
    return day.isoformat()


def need_day(cursor: Cursor, on: str, after: str) -> str:
    """As ``take_day``; where no date stands next, after this word, the part is refused."""
    day = take_day(cursor, on)
    if day is None:
        raise cursor.fail(f"write a day after {after}, as in {after} 3 apr")
    return day
