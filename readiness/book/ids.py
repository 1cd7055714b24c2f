"""Ids that sort by the moment they were made."""

from __future__ import annotations

import secrets
from datetime import datetime
from uuid import UUID


def timed_id(now: datetime) -> str:
    """A UUID of version 7 (RFC 9562, section 5.7): 48 bits of Unix milliseconds, then chance."""
    milliseconds = int(now.timestamp() * 1000) & (1 << 48) - 1
    chance = secrets.randbits(74)
    return str(
        UUID(
            int=milliseconds << 80
            | 0x7 << 76
            | (chance >> 62) << 64
            | 0b10 << 62
            | chance & (1 << 62) - 1
        )
    )
