"""What a roster does to the book, for people and for programs."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import groupby
from typing import Any

from readiness.roster.changes import Changes
from readiness.roster.headings import FIELD_WORDS, Heading
from readiness.roster.row_entries import NEW, UNCHANGED, UPDATED, FieldChange, iso_day_words
from readiness.system.plain import plain
from readiness.trade.ages import Birth
from readiness.trade.examination import examined_words
from readiness.trade.females import COWS
from readiness.trade.numbers import UNIT_OF
from readiness.trade.words import list_words, number_words

_OF_GROUP = {"group", "farm", "turnout", "class"}


def counts_words(changes: Changes) -> str:
    """ "3 new, 2 updated, 14 unchanged"."""
    return ", ".join(f"{changes.count(status)} {status}" for status in (NEW, UPDATED, UNCHANGED))


def understood(changes: Changes) -> list[str]:
    """How sheet and headings were read: a line each, plain."""
    roster = changes.roster
    sheet = f"sheet {roster.sheet}, " if roster.sheet else ""
    what = "a vet's sheet, " if roster.head.sort == "vet" else ""
    lines = [f"{what}{sheet}headings in row {roster.head.row}"]
    lines += [_column(column, roster.how.get(column.at, "")) for column in roster.head.columns
              if column.heading]  # fmt: skip
    return [plain(line) for line in [*lines, *roster.notes]]


def _column(column: Heading, how: str) -> str:
    taken = FIELD_WORDS.get(column.field or "", column.field) or "not taken in"
    return f"{column.letter}  {column.heading} → {taken}{f': {how}' if how else ''}"


def begun(changes: Changes) -> Iterator[str]:
    """A line for each group that the file begins, plain."""
    for entry in changes.begun:
        said = entry.content
        whose = f" at {said['farm']}" if "farm" in said else ""
        day, class_ = iso_day_words(said["turnout"]), said.get("class", COWS)
        yield plain(f"new group {said['group']}{whose}: turnout {day}, {class_}")


def lacking(changes: Changes) -> Iterator[str]:
    """A line a farm with its bulls whom the file lacks, plain."""
    for farm, bulls in groupby(changes.lacking, key=lambda bull: bull.farm):
        named = list_words(f"{bull.bull} {bull.name}".strip() for bull in bulls)
        where = f"at {farm}" if farm else "without a farm"
        yield plain(f"in the book {where}, and not in this file: {named}")


def table(changes: Changes) -> Iterator[str]:
    """A line for each row that changes something, plain."""
    for row in changes.rows:
        if row.status != UNCHANGED:
            who = f"{row.bull} {row.name}".strip()
            news = [_change(one, row.status, changes.new_farms) for one in row.changes]
            yield plain(f"row {row.row}  {row.status}  {who}: {'; '.join(news) or 'his tag alone'}")


def _change(change: FieldChange, status: str, new_farms: Collection[str]) -> str:
    name = FIELD_WORDS.get(change.field, change.field)
    after = _value(change.after, change.field)
    if change.field == "farm" and after in new_farms:
        after = f"{after} (not in the book)"
    if change.before is None:
        return f"{name} {after}" if status == NEW else f"{name} nothing → {after}"
    return f"{name} {_value(change.before, change.field)} → {after}"


def _value(value: object, field: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return f"{number_words(value)} {UNIT_OF[field]}"
    if isinstance(value, list):
        return list_words(examined_words((one["part"], one["how"]) for one in value))
    try:
        return iso_day_words(value)
    except ValueError:
        return str(value)


def _json(value: object) -> object:
    """A birth as its fields say it: the day, or the first and the last that it can have been."""
    if isinstance(value, Birth):
        days = list(reversed(value.fields.values()))
        return days[0] if value.known else days
    return value


def changes_json(file: str, changes: Changes) -> dict[str, Any]:
    """The same for programs."""
    roster = changes.roster
    return {
        "file": file,
        "sort": roster.head.sort,
        "sheet": roster.sheet or None,
        "heading_row": roster.head.row,
        "columns": [
            {
                "column": column.letter,
                "heading": column.heading,
                "field": column.field,
                "how": roster.how.get(column.at),
            }
            for column in roster.head.columns
        ],
        "notes": roster.notes,
        "new_farms": sorted(changes.new_farms),
        "new_groups": [
            {"farm": None, "class": COWS}
            | {key: entry.content[key] for key in _OF_GROUP & entry.content.keys()}
            for entry in changes.begun
        ],
        "not_in_file": [bull._asdict() for bull in changes.lacking],
        **{status: changes.count(status) for status in (NEW, UPDATED, UNCHANGED)},
        "rows": [
            {
                "row": row.row,
                "bull": row.bull,
                "status": row.status,
                "changes": {
                    one.field: [_json(one.before), _json(one.after)] for one in row.changes
                },
            }
            for row in changes.rows
        ],
    }
