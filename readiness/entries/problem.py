"""A problem in a user's data is a value, not a fault: all of a file's are found in one go."""

from __future__ import annotations

import json
from typing import NamedTuple

from readiness.system.plain import plain

_SHOWN_MOST = 40


class Problem(NamedTuple):
    """``line`` of the file (None where typed), ``field`` as a path ("findings[0].zone", "" for the
    whole line), ``text``: what is wrong and what to do."""

    line: int | None
    field: str
    text: str

    def __str__(self) -> str:
        where = [f"line {self.line}"] if self.line is not None else []
        where += [self.field] if self.field else []
        return f"{', '.join(where)}: {self.text}" if where else self.text


def shown(value: object) -> str:
    """A value as it stands in the file, plain and short enough for a message."""
    try:
        text = json.dumps(value, ensure_ascii=False)
    except (TypeError, ValueError, RecursionError):
        text = repr(value)
    return cut(plain(text))


def cut(text: str) -> str:
    """The text, short enough for a message."""
    return text if len(text) <= _SHOWN_MOST else text[:_SHOWN_MOST] + "…"
