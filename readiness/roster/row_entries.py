"""The entries that one row of a roster asks for: of the bull, his weight, his group.

Each is validated as every entry is; nothing is asked for that the book says already.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from readiness.entries.validate import validate
from readiness.roster.dates import day_text
from readiness.roster.known import KnownBull

PROFILE = (
    "name", "breed", "born", "origin", "arrived", "temper", "heifer_safe", "pen", "farm", "note",
)  # fmt: skip

Content = dict[str, Any]
RowFields = Mapping[str, object]
Wrong = list[tuple[str, str]]
"""(field, what is wrong with it)"""


class Change(NamedTuple):
    """One field of a bull: what the book says (None: nothing) and what the roster says."""

    field: str
    before: object
    after: object


RowEntry = tuple[Content, list[Change]]
"""An entry to write, and what it changes."""


def wrong_in(row: RowFields, known: KnownBull, on: date, today: date) -> Wrong:
    """Days of a row that cannot be, whatever each is by itself. ``on``: the day of the import;
    ``today``: the real one, up to which a weight can have been taken."""
    what = "the day of the import"
    weighed = (today, "today") if today > on else (on, what)
    wrong = [
        (name, f"{day_text(date.fromisoformat(day))} is after {limit_words}, {day_text(limit)}; "
         f"correct it{', or say that day with --on' if limit_words == what else ''}")
        for name, (limit, limit_words) in (("born", (on, what)), ("weighed_on", weighed))
        if isinstance(day := row.get(name), str) and day > limit.isoformat()
    ]  # fmt: skip
    pair = [row.get(name, known.profile.get(name)) for name in ("born", "arrived")]
    born, arrived = pair
    news = pair != [known.profile.get("born"), known.profile.get("arrived")]
    if news and isinstance(born, str) and isinstance(arrived, str) and arrived < born:
        both = [day_text(date.fromisoformat(day)) for day in (arrived, born)]
        wrong.append(
            ("arrived", f"{both[0]} is before he was born, {both[1]}; correct one of them")
        )
    return wrong


def row_entries(row: RowFields, known: KnownBull, wrong: Wrong) -> list[RowEntry]:
    """The entries to write with what each changes; what is wrong is added to ``wrong``."""
    found = [_bull(row, known, wrong), _weight(row, known, wrong), _join(row, known, wrong)]
    return [entry for entry in found if entry is not None]


def _checked(kind: str, row: RowFields, fields: RowFields, wrong: Wrong) -> Content | None:
    common = {key: row[key] for key in ("on", "bull", "by") if key in row}
    checked, problems = validate({"kind": kind, **common, **fields})
    wrong += [(problem.field, problem.text) for problem in problems]
    return checked


def _bull(row: RowFields, known: KnownBull, wrong: Wrong) -> RowEntry | None:
    fields = {name: row[name] for name in PROFILE if name in row}
    if fields.get("origin") in ("bought", "hired") and "arrived" in known.profile:
        fields.setdefault("arrived", known.profile["arrived"])
    checked = _checked("bull", row, fields, wrong)
    if checked is None:
        return None
    changed = [
        Change(name, known.profile.get(name), checked[name])
        for name in PROFILE
        if name in checked and checked[name] != known.profile.get(name)
    ]
    if known.profile and not changed:
        return None
    # Bought and hired need the day he came beside it, even where the book has that day already.
    stay = {change.field for change in changed} | (
        {"arrived"} if any(change.field == "origin" for change in changed) else set()
    )
    return {k: v for k, v in checked.items() if k not in PROFILE or k in stay}, changed


def _weight(row: RowFields, known: KnownBull, wrong: Wrong) -> RowEntry | None:
    if "kg" not in row:
        return None
    own_day = row.get("weighed_on")
    found: Wrong = []
    checked = _checked("weight", {**row, "on": own_day or row["on"]}, {"kg": row["kg"]}, found)
    # What is wrong with the tag or the person was said of the bull's entry already.
    wrong += [("weighed_on" if name == "on" else name, text) for name, text in found
              if name in ("kg", "on")]  # fmt: skip
    if checked is None:
        return None
    kg = checked["kg"]
    before = next((kg for day, kg in reversed(known.weights) if day <= checked["on"]), None)
    of_day = next((kg for day, kg in reversed(known.weights) if day == checked["on"]), None)
    # Without a day of its own, the weight that the book had last is no new weighing. With one, the
    # last said of that day counts: what was corrected can be corrected back.
    there = kg == (of_day if own_day else before)
    return None if there else (checked, [Change("kg", before, kg)])


def _join(row: RowFields, known: KnownBull, wrong: Wrong) -> RowEntry | None:
    role, group = row.get("role"), row.get("group", known.group)
    if "role" not in row and "group" not in row:
        return None
    if group is None:
        wrong.append(("role", "is given, and he is in no group; give his group too, or empty it"))
        return None
    if known.group == group and role in (None, known.role):
        return None
    found: Wrong = []
    checked = _checked("join", row, {"group": group, **({"role": role} if role else {})}, found)
    wrong += [(name, text) for name, text in found if name in ("group", "role")]
    if checked is None:
        return None
    pairs = (("group", known.group), ("role", known.role))
    changed = [
        Change(name, before, checked[name])
        for name, before in pairs
        if name in checked and checked[name] != before
    ]
    return checked, changed
