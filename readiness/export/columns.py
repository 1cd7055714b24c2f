"""Columns that the tables have in common, and how each kind of column is made."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from readiness.entries.columns import Column, columns_of
from readiness.entries.entry import Entry
from readiness.entries.fields import NAME_MOST
from readiness.export.shape import Refer, Row
from readiness.history.records import NEVER
from readiness.system.plain import plain


def text(name: str, what: str, **more: Any) -> Column:
    """A column of somebody's words."""
    return Column(name, "string", what, **{"longest": NAME_MOST, **more})


def word(name: str, what: str, words: Iterable[str], **more: Any) -> Column:
    """A column of fixed words."""
    return Column(name, "string", what, words=tuple(words), **more)


def day(name: str, what: str, **more: Any) -> Column:
    return Column(name, "date", what, **more)


def flag(name: str, what: str, **more: Any) -> Column:
    return Column(name, "boolean", what, **more)


def whole(name: str, what: str, unit: str, least: int, most: int, **more: Any) -> Column:
    return Column(name, "integer", what, unit, least=least, most=most, **more)


def as_in(shape: Any, name: str, what: str = "", *, required: bool = False) -> Column:
    """A field of an entry among what is worked out: its type, range and words are the same."""
    field = columns_of(shape)[name]
    return replace(field, text=what or field.text, required=required, null=False)


OF_BULL = Refer(("bull",), "bulls", ("bull",))


def cell(value: Any) -> Any:
    """A value as it goes out: somebody's words made plain, empty text as nothing."""
    return (plain(value) or None) if isinstance(value, str) else value


def cells(of: object, columns: Iterable[Column], **worked_out: Any) -> Row:
    """What an object has under the columns' names, or ``worked_out`` has: days are ordinals,
    several words are parted by spaces."""
    return tuple(_shown(worked_out, of, column) for column in columns)


def _shown(worked_out: Mapping[str, Any], of: object, column: Column) -> Any:
    name = column.name
    value = worked_out[name] if name in worked_out else getattr(of, name)
    if column.type == "date":
        return iso(value)
    return cell(" ".join(value) if isinstance(value, tuple) else value)


def iso(ordinal: int | None) -> str | None:
    """An ordinal as an ISO date; nothing for None and for what never was."""
    return date.fromordinal(ordinal).isoformat() if ordinal not in (None, NEVER) else None


def row_of(entry: Entry, columns: Iterable[Column], said: Mapping[str, Any]) -> Row:
    """A row of what was said: ``said``, by column, with what every row tells of its entry."""
    body = entry.body
    of_all = {"entry": entry.id, "on": body["on"], "recorded": entry.recorded}
    whole = {"by": body.get("by"), "note": body.get("note"), **said, **of_all}
    return tuple(cell(whole.get(column.name)) for column in columns)
