"""Whether a group's bulls are enough, in one line: on the board, on the wall, at turnout."""

from __future__ import annotations

from collections.abc import Sequence

from readiness.cover.results import GroupCover
from readiness.trade.words import plural

NO_GROUPS = "No group has a season to come or under way: write one with `readiness group`."


def headline(group: GroupCover) -> str:
    """One line: "96 heifers: 4 GO bulls carry 110; if one fails, short by 12"; in the season
    "96 heifers: 2 out carry 60; short by 36; 1 waits, GO, would carry 25"."""
    counts, said = group.counts, [today_words(group)]
    before = group.at_work is None
    if before and len(group.forecast) > sum(worker.go for worker in group.workers):
        count = len(group.forecast)
        said.append(f"by turnout {count} {carry_words(count)} {group.capacity_forecast}")
    if counts.short:
        said.append(f"short by {counts.short}")
    elif group.females is not None:
        said.append(f"if one fails, {short_words(counts.short_if_one_fails)}")
    if not before:
        said += _besides(group)
    return f"{females_words(group)}: {'; '.join(said)}"


def called(group: GroupCover, among: Sequence[GroupCover]) -> str:
    """Its name, with its farm where another of these has the same."""
    same = sum(other.group == group.group for other in among)
    return f"{group.group} at {group.farm}" if same > 1 and group.farm else group.group


def today_words(group: GroupCover) -> str:
    """What is carried today: by those who are GO, in the season by those who are out."""
    if group.at_work is None:
        return _go(group)
    count = len(group.at_work.bulls)
    if not count:
        return "no bull is out" if len(group.waiting) == len(group.workers) else "none out is GO"
    return f"{count} out {carry_words(count)} {group.at_work.carried}"


def _besides(group: GroupCover) -> list[str]:
    """In the season: who waits and could serve, who is out and should not be."""
    waits = sum(worker.go for worker in group.waiting)
    held = sum(w.out is not None and w.bull.status == "HOLD" for w in group.workers)
    said = []
    if waits:
        said.append(
            f"{waits} {'waits' if waits == 1 else 'wait'}, GO, would carry {group.would_carry}"
        )
    return [*said, *([f"{held} out on HOLD"] if held else [])]


def females_words(group: GroupCover) -> str:
    """ "96 heifers", or that nobody said how many."""
    if group.females is None:
        return f"{group.category}, how many is not said"
    return plural(group.females, group.category.removesuffix("s"))


def _go(group: GroupCover) -> str:
    count = sum(worker.go for worker in group.workers)
    if not count:
        return "no bull is GO"
    return (
        f"{count} GO {'bull' if count == 1 else 'bulls'} {carry_words(count)} {group.capacity_go}"
    )


def carry_words(bulls: int) -> str:
    return "carries" if bulls == 1 else "carry"


def short_words(short: int | None) -> str:
    """Whether that is enough."""
    return f"short by {short}" if short else "still enough"
