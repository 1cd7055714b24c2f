"""One way to write an entry's content down, so that the same content has the same digest.

The digest tells whether an entry is still what was first written: the book keeps it beside the
body, ``verify`` recomputes it, and two copies of a book compare by it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any


def canonical(content: Mapping[str, Any]) -> str:
    """The content as compact JSON with sorted keys: the text that is stored and digested."""
    return json.dumps(
        content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )


def digest(content: Mapping[str, Any]) -> str:
    """SHA-256, 64 hex digits, over the UTF-8 of the canonical text."""
    return hashlib.sha256(canonical(content).encode("utf-8")).hexdigest()
