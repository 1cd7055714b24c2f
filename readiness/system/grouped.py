"""Values put together by what they have in common."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")


def grouped(values: Iterable[Value], key: Callable[[Value], Key]) -> dict[Key, list[Value]]:
    """Key → the values that have it; keys and values in the order in which they came."""
    found: dict[Key, list[Value]] = {}
    for value in values:
        found.setdefault(key(value), []).append(value)
    return found
