"""Ids of entries: UUIDs, so that two copies of a book can be put together. And one way to write an
entry's content down, so that the same content has the same digest.

The digest tells whether an entry is still what was first written: the book keeps it beside the
body, ``verify`` recomputes it, and two copies of a book compare by it.
"""

from __future__ import annotations

import hashlib
import json
import secrets
import uuid
from collections.abc import Mapping
from datetime import datetime
from typing import Any

# Fixed for ever: another name space would give the same line another id.
_LINES = uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:line")
_AGAIN = uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:again")


def line_id(raw: Mapping[str, object], count: int) -> str:
    """The id of an imported line that carries none: from the line as written, before anything is
    cleaned or left out, and its count (from 1) among equal lines of the file. The same file read
    twice gives the same ids."""
    written = json.dumps(raw, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return str(uuid.uuid5(_LINES, f"{count} {written}"))


def again_id(strike: str) -> str:
    """The id under which undo says again what a strike withdrew: always the same one, so that the
    book itself tells whether that strike was taken back, and what stands for what it struck."""
    return str(uuid.uuid5(_AGAIN, strike))


def typed_id(now: datetime) -> str:
    """The id of a typed entry: a UUID of version 7, whose first 48 bits are the moment in
    milliseconds, the rest by chance."""
    milliseconds = int(now.timestamp() * 1000) & (2**48 - 1)
    chance = secrets.randbits(74)
    version, variant = 0x7, 0b10
    value = milliseconds << 80 | version << 76 | (chance >> 62) << 64
    value |= variant << 62 | (chance & (2**62 - 1))
    return str(uuid.UUID(int=value))


def canonical(content: Mapping[str, Any]) -> str:
    """The content as compact JSON with sorted keys: the text that is stored and digested."""
    return json.dumps(
        content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )


def digest(content: Mapping[str, Any]) -> str:
    """SHA-256, 64 hex digits, over the UTF-8 of the canonical text."""
    return hashlib.sha256(canonical(content).encode("utf-8")).hexdigest()
