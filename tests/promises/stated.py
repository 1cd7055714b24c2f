"""What DEVELOPERS.md promises of the JSON results, as its table has it."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

PAPER = Path(__file__).parents[2] / "DEVELOPERS.md"


@cache
def keys(result: str) -> frozenset[str]:
    """The keys in the row of ``result``; those in brackets are of what stands before them."""
    (row,) = re.findall(rf"^\| {re.escape(result)} \| (.*) \|$", PAPER.read_text("utf-8"), re.M)
    return frozenset(re.findall(r"`(\w+)`", re.sub(r"\([^)]*\)|;.*", "", row)))


def kinds() -> list[str]:
    """The kinds of entry, in their order."""
    told = PAPER.read_text("utf-8").split("Entries are of the kinds")[1].split(";")[0]
    return re.findall(r"`([\w-]+)`", told)


def exit_codes() -> set[int]:
    """All of them."""
    told = PAPER.read_text("utf-8").split("Exit codes:")[1].split("\n\n")[0]
    return {int(code) for code in re.findall(r"\b\d+\b", told)}
