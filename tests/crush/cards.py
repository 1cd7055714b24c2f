"""The card of one bull over a small book of his, as a desk would hand it out."""

from __future__ import annotations

from typing import Any

from readiness.herd.board import assess_book, groups_on
from readiness.herd.card import Card
from readiness.history import history
from readiness.trade.tags import tag_key
from tests.build import RULES, TAG, day, entries_of, grouped


def card(on: str, *entries: dict[str, Any], turnout: str | None = None) -> Card:
    """The bull of ``tests.build`` on day ``on``, in a group where a turnout is given.
    Entries dated after the day are on his card too, as the desk has it."""
    book = entries_of(grouped(turnout, *entries))
    (bull,) = assess_book(book, RULES, day(on)).bulls
    own = [entry for entry in book if entry.bull == tag_key(TAG)]
    rules = RULES.for_farm(None)
    state = history(own, rules, day(on), bull.key)
    groups = groups_on([entry for entry in book if entry.kind == "group"], RULES, day(on))
    return Card(bull, state, tuple(reversed(own)), rules, groups)
