"""What a person types: contents validated, an entry withdrawn, an entry corrected."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from readiness.book.admission import admit
from readiness.entries.canon import canonical
from readiness.entries.entry import Entry
from readiness.entries.ids import typed_id
from readiness.entries.new import NewEntry
from readiness.entries.problem import Problem
from readiness.entries.validate import validate
from readiness.system.clock import Clock
from readiness.system.errors import DataError, NotFound

SEEN = ("feet", "block-off", "mobility", "condition", "vet-exam", "vet-look", "check")
"""What may clear a bull: somebody must have seen it."""
STILL_TO_COME = "is still to come: nobody has seen him then. Write it on that day"


def new_entries(
    contents: Sequence[Mapping[str, Any]], clock: Clock, ids: Sequence[str] | None = None
) -> list[NewEntry]:
    """Contents validated, each under its id or a new one; ``DataError`` with every problem."""
    named = [typed_id(clock.now()) for _ in contents] if ids is None else ids
    today = clock.today().isoformat()
    new: list[NewEntry] = []
    problems: list[Problem] = []
    for id_, content in zip(named, contents, strict=True):
        checked, wrong = validate(content)
        problems += wrong
        if checked is not None and checked["kind"] in SEEN and checked["on"] > today:
            problems.append(Problem(None, "on", f"{checked['on']} {STILL_TO_COME}"))
        if checked is not None:
            new.append(NewEntry(id_, checked))
    admit(problems)
    return new


def to_withdraw(entry_id: str, held: Sequence[Entry], book: Path) -> Entry:
    """The entry of this id; ``NotFound`` where there is none."""
    target = next((entry for entry in held if entry.id == entry_id.lower()), None)
    if target is None:
        raise NotFound(
            f"There is no entry {entry_id} in {book}. "
            "`readiness bull TAG` shows the ids of his entries."
        )
    return target


def refuse_correction(target: Entry, held: Sequence[Entry], new: Sequence[NewEntry]) -> None:
    """Raise ``DataError`` where ``new`` cannot stand in the place of ``target``."""
    if not new:
        raise DataError("Nothing is said instead. To withdraw an entry, strike it.")
    if any(entry.kind == "strike" and entry.body["entry"] == target.id for entry in held):
        raise DataError(
            f"{target.id} was withdrawn already. Correct what was said in its place, or say it "
            "again as a new entry."
        )
    if [canonical(entry.content) for entry in new] == [canonical(target.body)]:
        raise DataError(f"In the entry {target.id} nothing is changed. Nothing was written.")
