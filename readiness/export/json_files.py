"""JSON Lines of all entries, and arrays of JSON objects, in pieces."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from readiness.entries.entry import Entry
from readiness.report.as_json import entry_json
from readiness.system.plain import plain


def entry_pieces(entries: Iterable[Entry]) -> Iterator[bytes]:
    """A line for each entry, as ``import`` takes it over: content, id and earliest receipt."""
    for entry in entries:
        yield _line(entry_json(entry)) + b"\n"


def array_pieces(items: Iterable[Any]) -> Iterator[bytes]:
    """One JSON array, an item a line."""
    before = b"[\n"
    for item in items:
        yield before + _line(item)
        before = b",\n"
    yield b"[]\n" if before == b"[\n" else b"\n]\n"


def _line(value: Any) -> bytes:
    """The value in one line: readable where its text is plain, else every odd character escaped,
    so that nobody's terminal or eye is led astray, and nothing is changed."""
    line = json.dumps(value, ensure_ascii=False, allow_nan=False)
    if plain(line) != line:
        line = json.dumps(value, allow_nan=False)
    return line.encode("utf-8")
