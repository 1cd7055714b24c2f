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
AGAIN = uuid.uuid5(uuid.NAMESPACE_URL, "urn:readiness:again")


# Made once: a file of entries has hundreds of thousands of lines.
_AS_WRITTEN = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=True).encode
_CANONICAL = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
).encode


def line_id(raw: Mapping[str, object], count: int) -> str:
    """The id of an imported line that carries none: from the line as written, before anything is
    cleaned or left out, and its count (from 1) among equal lines of the file. The same file read
    twice gives the same ids."""
    return _uuid5(_LINES, f"{count} {_AS_WRITTEN(raw)}")


def _uuid5(space: uuid.UUID, name: str) -> str:
    """As ``uuid.uuid5`` gives it, in half the time."""
    of = bytearray(hashlib.sha1(space.bytes + name.encode(), usedforsecurity=False).digest()[:16])
    of[6] = of[6] & 0x0F | 0x50
    of[8] = of[8] & 0x3F | 0x80
    told = of.hex()
    return f"{told[:8]}-{told[8:12]}-{told[12:16]}-{told[16:20]}-{told[20:]}"


def again_id(strike: str) -> str:
    """The id under which undo says again what a strike withdrew: always the same one, so that the
    book itself tells whether that strike was taken back, and what stands for what it struck."""
    return str(uuid.uuid5(AGAIN, strike))


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
    return _CANONICAL(content)


def digest(content: Mapping[str, Any]) -> str:
    """SHA-256, 64 hex digits, over the UTF-8 of the canonical text."""
    return text_digest(canonical(content))


def text_digest(text: str) -> str:
    """The same, where the canonical text is there already."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()
