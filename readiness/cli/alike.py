"""Messages that are alike: of very many of a kind the first few are told, the rest counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

FEW = 5
KINDS_MOST = 20
"""Kinds told by themselves; what a file that is odd altogether gives besides is only counted."""


def in_short(file: str, messages: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Messages about ``file``, each where it is ("" where nowhere) and a text: the first few of
    each kind in their order, then of each kind how many more there are, and what tells them all."""
    count: Counter[str] = Counter()
    first: dict[str, str] = {}
    for where, text in messages:
        kind = _kind(text)
        count[kind] += 1
        first.setdefault(kind, text)
        if count[kind] <= FEW and len(count) <= KINDS_MOST:
            yield f"{file}: {where}: {text}" if where else f"{file}: {text}"
    told, others = list(count)[:KINDS_MOST], list(count)[KINDS_MOST:]
    more = [(count[kind] - FEW, first[kind]) for kind in told if count[kind] > FEW]
    for many, text in more:
        yield f"{file}: {many} more like this: {text}"
    if others:
        yield f"{file}: {sum(count[kind] for kind in others)} more of other kinds"
    if more or others:
        yield f"{file}: --json tells each of them"


def _kind(text: str) -> str:
    """What is left of a message without names, codes, tags, days and numbers."""
    return " ".join(word for word in text.split() if _is_plain(word))


def _is_plain(word: str) -> bool:
    return word.isascii() and word.islower() and not any(mark.isdigit() for mark in word)
