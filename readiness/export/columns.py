"""Columns that the tables have in common, and how each kind of column is made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from readiness.entries.columns import Column, columns_of
from readiness.entries.fields import NAME_MOST
from readiness.export.shape import Refer


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
