"""An entry on its way into the book: valid content that no book has recorded yet."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, NamedTuple


def recorded_text(moment: datetime) -> str:
    """An aware moment as ``recorded`` writes it: UTC, ``2026-11-25T14:12:03.123456Z``.

    Always 27 characters, so that text order is time order.
    """
    return moment.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")


class NewEntry(NamedTuple):
    """Content with its id and, where it comes out of another copy of a book, its receipt.

    ``line`` is the line of the file it was read from, 0 where it was typed. ``recorded`` (UTC, of
    the fixed width of ``Entry.recorded``), ``position``, ``batch`` and ``device`` are None for an
    entry that no book has taken in before: the book that does fills them in.
    """

    id: str
    content: Mapping[str, Any]
    line: int = 0
    recorded: str | None = None
    position: int | None = None
    batch: str | None = None
    device: str | None = None
