"""A line of shorthand to entries."""

from __future__ import annotations

from datetime import date
from typing import Any

from readiness.shorthand import lexicon as lex
from readiness.shorthand.cursor import SHOWN_MOST, Cursor, ShorthandError, near, split_parts
from readiness.shorthand.feet_parts import begins_feet, goes_on_about_feet, read_feet
from readiness.shorthand.line import EntrySoFar, LineSoFar, Scales
from readiness.shorthand.other_parts import READERS
from readiness.system.plain import cut, plain


def read(text: str, *, bull: str, on: date, by: str | None, scales: Scales) -> list[dict[str, Any]]:
    """The canonical contents that a line says of one bull on one day, in the order begun.

    Case and spacing are free; parts are parted by ``;``. Feet parts go into one entry. Raises
    ``ShorthandError``: which part, what is wrong, what to write.
    """
    parts = split_parts(plain(text))
    line = LineSoFar(on.isoformat(), scales)
    for number, part in enumerate(parts, start=1):
        if part:
            _read_part(Cursor(part, number), line)
    if not line.entries:
        why = "a note needs something to go with" if line.early_note else "nothing is said"
        raise ShorthandError(0, text, f"{why}; write what was seen or done, as in all ok")
    common = {"on": line.on, "bull": bull, **({"by": by} if by else {})}
    return [_finish(entry, common, parts) for entry in line.entries]


def _read_part(cursor: Cursor, line: LineSoFar) -> None:
    if (note := cursor.take_quoted()) is not None:
        line.take_note(note)
        if not cursor.done:
            raise cursor.fail("write ; after the note")
        return
    if begins_feet(cursor):
        read_feet(cursor, line)
        return
    start = cursor.at
    head = (cursor.take(lex.HEAD_WORD) or "").lower()
    if head in READERS:
        READERS[head](cursor, line, head)
        return
    cursor.at = start
    if goes_on_about_feet(cursor):
        if not line.held:
            raise cursor.fail("which foot? write lf, rf, lh, rh or all before it")
        read_feet(cursor, line)
        return
    raise _unknown(cursor, line)


def _unknown(cursor: Cursor, line: LineSoFar) -> ShorthandError:
    word = cut(cursor.next_word(), SHOWN_MOST)
    hint = near(word, (*lex.HEADS, *lex.FEET_HEADS, *(lex.FEET_WORDS if line.held else ())))
    return cursor.fail(
        f'"{word}" is not known{hint}; begin with a foot ({", ".join(lex.FEET_HEADS)}) '
        f"or with {', '.join(lex.HEADS)}"
    )


def _finish(entry: EntrySoFar, common: dict[str, Any], parts: list[str]) -> dict[str, Any]:
    """The validated content; a refusal points at the part that said it."""
    # Here and not above: what only writes shorthand, or says it in words, needs no validation.
    from readiness.entries.validate import validate_said

    content, problems = validate_said({"kind": entry.kind, **common, **entry.fields})
    if content is None:
        problem = problems[0]
        part = entry.places.get(problem.field.split(".")[0], entry.part)
        if problem.field in common:
            part = 0  # not said in the line
        raise ShorthandError(part, parts[part - 1], f"{problem.field}: {problem.text}")
    return content
