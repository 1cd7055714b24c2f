"""What a roster changes in a booked bull that may harm whoever handles him or waits for him."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from readiness.roster.places import Groups
from readiness.roster.row_entries import Change
from readiness.trade.temper import TEMPERS


def milder(who: str, changes: Iterable[Change]) -> Iterator[str]:
    """That he is called milder than the book has him: an old sheet may not know what he has done
    since. ``who``: tag and name."""
    for change in changes:
        before, after = change.before, change.after
        if change.field != "temper" or before not in TEMPERS or after not in TEMPERS:
            continue
        if TEMPERS.index(str(after)) < TEMPERS.index(str(before)):
            yield (
                f"{who} is {str(before).upper()} in the book, and {after} by this roster: be sure "
                "of it before anybody handles him"
            )


def moved(
    who: str, changes: Iterable[Change], group: str | None, farms: Collection[str], groups: Groups
) -> Iterator[str]:
    """That a move to another of the ``farms`` takes him out of his group: groups are per farm.

    ``group``: the one the book has him in, None where the row names one; ``groups``: (farm, name).
    """
    for change in changes:
        if change.field == "farm" and group is not None and change.after in farms:
            there = (str(change.after), group) in groups
            so = f"in the group {group} there" if there else f"in no group; he was in {group}"
            yield f"{who} is moved from {change.before or 'no farm'} to {change.after}, and so {so}"
