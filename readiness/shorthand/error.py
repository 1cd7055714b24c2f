"""What is wrong with a line of shorthand."""

from __future__ import annotations

from readiness.system.errors import DataError

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
        super().__init__(f'part {part}, "{cut(text)}": {why}' if part else why)


def cut(text: str) -> str:
    """The text, short enough for a message."""
    return text if len(text) <= SHOWN_MOST else f"{text[:SHOWN_MOST]}…"
