"""The entries that one row of a roster asks for: of the bull, his weight, his group.

Each is validated as every entry is; nothing is asked for that the book says already.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, NamedTuple

from readiness.entries.models import KINDS, own_columns
from readiness.entries.validate import validate
from readiness.roster.known import KnownBull
from readiness.roster.way import COMMAND, Way
from readiness.trade.ages import BORN, FROM, Birth, birth_in
from readiness.trade.words import year_day_words

PROFILE = (*own_columns(KINDS["bull"]), "note")

Content = dict[str, Any]
RowFields = Mapping[str, object]
Wrong = list[tuple[str, str]]
"""(field, what is wrong with it)"""


NEW, UPDATED, UNCHANGED = "new", "updated", "unchanged"


class FieldChange(NamedTuple):
    """One field of a bull: what the book says (None: nothing) and what the roster says."""

    field: str
    before: object
    after: object


class RowChange(NamedTuple):
    """One row: ``status`` is new, updated or unchanged."""

    row: int
    bull: str
    name: str
    status: str
    changes: tuple[FieldChange, ...]

    def change(self, field: str) -> FieldChange | None:
        """What becomes of one field, if it changes."""
        return next((change for change in self.changes if change.field == field), None)


RowEntry = tuple[Content, list[FieldChange]]
"""An entry to write, and what it changes."""


def iso_day_words(day: object) -> str:
    """A day of an entry, or a birth, in words. Raises ``ValueError`` for anything else."""
    return day.words if isinstance(day, Birth) else year_day_words(date.fromisoformat(str(day)))


def wrong_in(row: RowFields, known: KnownBull, on: date, today: date, way: Way = COMMAND) -> Wrong:
    """Days of a row that cannot be, whatever each is by itself. ``on``: the day of the import;
    ``today``: the real one, up to which a weight can have been taken."""
    wrong = []
    for name, limit in (("born", on), ("weighed_on", max(on, today))):
        if name in row and str(row[name]) > limit.isoformat():
            what, other = "the day of the import", f", or {way.option('--on DATE')}"
            if limit > on:
                what, other = "today", ""
            text = f"{iso_day_words(row[name])} is after {what}, {year_day_words(limit)}"
            wrong.append((name, f"{text}; correct it{other}"))
    booked = (birth_in(known.profile), known.profile.get("arrived"))
    born, arrived = birth_in(row) or booked[0], row.get("arrived", booked[1])
    first = date.fromordinal(born.first).isoformat() if born else ""
    if (born, arrived) != booked and arrived and str(arrived) < first:
        text = f"{iso_day_words(arrived)} is before he was born, {iso_day_words(first)}"
        wrong.append(("arrived", f"{text}; correct one of them"))
    return wrong


def row_entries(row: RowFields, known: KnownBull, wrong: Wrong) -> list[RowEntry]:
    """The entries to write with what each changes; what is wrong is added to ``wrong``."""
    found = [_bull(row, known, wrong), _weight(row, known, wrong), _join(row, known, wrong)]
    return [entry for entry in found if entry is not None]


def _checked(kind: str, row: RowFields, fields: RowFields, wrong: Wrong) -> Content | None:
    common = {key: row[key] for key in ("on", "bull", "by") if key in row}
    checked, problems = validate({"kind": kind, **common, **fields})
    for problem in problems:
        at = "weighed_on" if (kind, problem.field) == ("weight", "on") else problem.field
        # What is wrong with the tag or the person is so in each of his entries.
        if (at, problem.text) not in wrong:
            wrong.append((at, problem.text))
    return checked


def _changed(names: Iterable[str], before: RowFields, after: RowFields) -> list[FieldChange]:
    return [
        FieldChange(name, before.get(name), after[name])
        for name in names
        if name in after and after[name] != before.get(name)
    ]


def _one_birth(fields: RowFields) -> dict[str, object]:
    """The fields with a birth as one thing: it changes as a whole."""
    birth = birth_in(fields)
    kept = {name: value for name, value in fields.items() if name not in (BORN, FROM)}
    return kept | {BORN: birth} if birth else kept


def _bull(row: RowFields, known: KnownBull, wrong: Wrong) -> RowEntry | None:
    fields = {name: row[name] for name in PROFILE if name in row}
    birth, before = birth_in(fields), birth_in(known.profile)
    if birth and before and not birth.tells_more_than(before):
        fields = {name: value for name, value in fields.items() if name not in (BORN, FROM)}
    if fields.get("origin") in ("bought", "hired") and "arrived" in known.profile:
        fields.setdefault("arrived", known.profile["arrived"])
    checked = _checked("bull", row, fields, wrong)
    if checked is None:
        return None
    changed = _changed(PROFILE, *map(_one_birth, (known.profile, checked)))
    if known.profile and not changed:
        return None
    stay = {change.field for change in changed}
    if BORN in stay:
        stay.add(FROM)
    if "origin" in stay:  # bought and hired need the day he came, even where the book has it
        stay.add("arrived")
    return {k: v for k, v in checked.items() if k not in PROFILE or k in stay}, changed


def _weight(row: RowFields, known: KnownBull, wrong: Wrong) -> RowEntry | None:
    if "kg" not in row:
        return None
    own_day = row.get("weighed_on")
    checked = _checked("weight", row, {"on": own_day or row["on"], "kg": row["kg"]}, wrong)
    if checked is None:
        return None
    kg, on = checked["kg"], checked["on"]
    before = next((kg for day, kg in reversed(known.weights) if day <= on), None)
    of_day = next((kg for day, kg in reversed(known.weights) if day == on), None)
    # Without a day of its own, the weight that the book had last is no new weighing. With one, the
    # last said of that day counts: what was corrected can be corrected back.
    there = kg == (of_day if own_day else before)
    return None if there else (checked, [FieldChange("kg", before, kg)])


def _join(row: RowFields, known: KnownBull, wrong: Wrong) -> RowEntry | None:
    fields = {name: row[name] for name in ("group", "role") if name in row}
    if not fields:
        return None
    if fields.setdefault("group", known.group) is None:
        wrong.append(("role", "is given, and he is in no group; give his group too, or empty it"))
        return None
    checked = _checked("join", row, fields, wrong)
    before = {"group": known.group, "role": known.role}
    changed = _changed(before, before, checked or {})
    return (checked, changed) if checked and changed else None
