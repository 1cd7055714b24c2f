"""The table of the bulls: each as he stands on the day."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.entry import Entry
from readiness.entries.models import Bull, Join, Weight, own_columns
from readiness.entries.tables import BULL
from readiness.export.columns import as_in, cell, day, iso, word
from readiness.export.shape import Row, Table
from readiness.history import History

PROFILE = own_columns(Bull)
"""What is said of a bull himself."""


def _bulls(reading: Reading) -> Iterable[Row]:
    for key, state in reading.states.items():
        own = reading.shelf.of(key)
        booked = min((entry.day for entry in own if entry.kind == "bull"), default=None)
        yield (
            reading.tags[key],
            iso(booked),
            *(_said(state, field) for field in PROFILE),
            "left" if state.gone else "out" if state.out else "here",
            cell(state.group),
            state.role,
            *_weight(state),
            _last(own),
        )


def _said(state: History, field: str) -> str | bool | None:
    value = state.profile.get(field)
    return value if isinstance(value, bool) else cell(value)


def _weight(state: History) -> Row:
    return (None, None) if state.weight is None else (state.weight[1], iso(state.weight[0]))


def _last(own: list[Entry]) -> str:
    return max(entry.recorded for entry in own)


BULLS = Table(
    "bulls",
    "Every bull the book speaks of, as he stands on the day",
    "His farm and the rest as last said up to the day; a bull who left stands here, too.",
    (
        BULL,
        day("booked", "The day he was first booked; empty where no booking stands"),
        *PROFILE.values(),
        word("place", "Here, out with females, or gone", ("here", "out", "left"), required=True),
        as_in(Join, "group", "The group he was last put in"),
        as_in(Join, "role", "What he is in it"),
        as_in(Weight, "kg", "Last live weight"),
        day("weighed", "The day of that weight"),
        Column("changed", "datetime", "When he was last written of", "UTC", required=True),
    ),
    ("bull",),
    _bulls,
)
