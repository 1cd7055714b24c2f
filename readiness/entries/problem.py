"""A problem in a user's data is a value, not a fault: all of a file's are found in one go."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import NamedTuple

from readiness.system.plain import cut, plain

PROBLEMS_SHOWN = 8


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


IMPORT_AGAIN = "Nothing was written; mend it and import it again."


def paragraph(source: str, problems: Sequence[object], end: str = IMPORT_AGAIN) -> str:
    """All that is wrong with the file ``source`` ("" where typed), as one paragraph; the first few
    where there are very many; ``end``: what became of it, and what to do. A question keeps its mark
    and gets no other."""
    texts = [str(problem).rstrip(".") for problem in problems[:PROBLEMS_SHOWN]]
    more = len(problems) - PROBLEMS_SHOWN
    if more > 0:
        texts.append(f"and {more} more")
    marks = [";"] * (len(texts) - 1) + ["."]
    ended = [
        text if text.endswith("?") else text + mark for text, mark in zip(texts, marks, strict=True)
    ]
    where = f"{source}: " if source else ""
    return f"{where}{' '.join(ended)} {end if source else 'Nothing was written.'}"


def shown(value: object) -> str:
    """A value as it stands in the file, plain and short enough for a message."""
    try:
        text = json.dumps(value, ensure_ascii=False)
    except (TypeError, ValueError, RecursionError):
        text = repr(value)
    return cut(plain(text))
