"""What is odd in an entry and may yet be true: warned of, never refused.

``content``: what an entry shows by itself, and by the limits of the bull's farm. ``history``: what
it shows after all that was said of him before.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from readiness.engine.warnings.content import Body, by_itself, by_limits
from readiness.engine.warnings.history import GroupOf, by_history, no_group
from readiness.entries.entry import Entry, from_roster
from readiness.history import History, advance
from readiness.rules.model import Rules

__all__ = ["by_itself", "by_limits", "in_his_state", "of_bull"]


def of_bull(
    entries: Iterable[Entry],
    rules: Rules,
    today: int,
    asked: Collection[str],
    group_of: GroupOf = no_group,
) -> Iterator[tuple[str, str]]:
    """(entry id, warning) for each of the ``asked`` entries of one bull.

    ``entries``: all of his, in ``entry_order``. ``rules``: those of his farm. ``today``: an
    ordinal; what lies after it is odd. ``group_of``: his group in a state, on a day.
    """
    state = History(rules)
    for entry in entries:
        if entry.id in asked:
            body, kind, day = entry.body, entry.kind, entry.day
            ahead = rules.limits.seen_ahead
            yield from ((entry.id, text) for text in by_itself(body, kind, day, today, ahead))
            if not (kind == "bull" and from_roster(entry)):  # a roster says itself whom it changes
                for text in in_his_state(body, kind, day, state, group_of):
                    yield entry.id, text
        advance(state, entry)


def in_his_state(
    body: Body, kind: str, day: int, before: History, group_of: GroupOf = no_group
) -> list[str]:
    """Warnings about one entry of ``day`` by the rules of his farm and his state before it."""
    return [*by_limits(body, before.rules), *by_history(body, kind, day, before, group_of)]
