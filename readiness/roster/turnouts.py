"""The turnouts of a roster: a group that the book lacks begins with its day, and one that is there
keeps its own."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from readiness.roster.known import Known
from readiness.trade.females import with_class
from readiness.trade.words import year_day_words

Turnouts = dict[tuple[str | None, str], dict[str, int]]
"""(farm or None, group, "" for none) → the ISO day it goes out → the first row that says so."""

Told = list[tuple[int, str]]
"""(row, text)"""


def begin(
    farm: str | None, group: str, days: Mapping[str, int], book: Known, on: date
) -> tuple[dict[str, Any] | None, Told, Told]:
    """The entry that begins a group, None where there is none to begin; what is wrong with its days
    (it bars the file); and what to warn of. ``on``: the day of the import."""
    if not group:
        alone = "has a turnout and no group: not taken in"
        return None, [], [(row, alone) for row in days.values()]
    there = book.groups.get((farm, group))
    if there is not None:
        stays = "the day in the book stays; the group with another turnout, written anew, moves it"
        return None, [], [
            (row, f"{group} goes out {_words(there)} in the book, {_words(day)} here: {stays}")
            for day, row in days.items() if day != there
        ]  # fmt: skip
    (first, at), *others = days.items()
    two = f"{group} goes out {_words(first)} by row {at}, {{}} by this one; write one day for it"
    over = f"{{}} is over; write when {group} goes out next, or leave it empty"
    wrong = [(row, two.format(_words(day))) for day, row in others]
    wrong += [(row, over.format(_words(day))) for day, row in days.items() if day < f"{on}"]
    said = {"kind": "group", "on": f"{on}", "group": group, "turnout": first}
    return with_class(said | ({"farm": farm} if farm else {})), wrong, []


def _words(day: str) -> str:
    return year_day_words(date.fromisoformat(day))
