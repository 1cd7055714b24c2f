"""What was worked out of a bull before is used again, and is what would be worked out anew."""

from __future__ import annotations

import random
from datetime import date

import pytest

from readiness.engine import assess as engine
from readiness.herd import board as herd_board
from readiness.herd.board import Remembered, assess_herd, fold_book
from tests.build import RULES, entries_of
from tests.reference.books import random_book

ON = date(2026, 4, 3)


def test_a_board_that_remembers_is_the_board_worked_out_anew() -> None:
    """Entries come and are withdrawn one after another, of bulls and of groups."""
    today = ON.toordinal()
    for seed in range(6):
        entries = entries_of(random_book(seed, 8, 14, ON))
        order, last = random.Random(seed), Remembered(RULES, today, {}, {})
        held = set(order.sample(range(len(entries)), len(entries) // 2))
        for _ in range(25):
            held ^= {order.randrange(len(entries))}
            told = [entries[at] for at in sorted(held)]
            turnout = today + order.choice((20, 60)) if order.random() < 0.3 else None
            known = assess_herd(fold_book(told, RULES, today, turnout, last))
            assert known == assess_herd(fold_book(told, RULES, today, turnout))


def test_after_an_entry_only_its_bull_is_worked_out_again(monkeypatch: pytest.MonkeyPatch) -> None:
    today = ON.toordinal()
    entries = entries_of(random_book(1, 8, 14, ON))
    last = Remembered(RULES, today, {}, {})
    there = {bull.key for bull in assess_herd(fold_book(entries, RULES, today)).bulls}
    newest = max(
        at
        for at, entry in enumerate(entries)
        if entry.kind == "mobility" and entry.day <= today and entry.bull in there
    )
    assess_herd(fold_book([*entries[:newest], *entries[newest + 1 :]], RULES, today, None, last))
    assessed: list[str] = []

    def counted(state: object, *rest: object, **named: object) -> object:
        assessed.append(state.key)  # type: ignore[attr-defined]
        return engine.assess(state, *rest, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(herd_board, "assess", counted)
    assess_herd(fold_book(entries, RULES, today, None, last))
    assert assessed == [entries[newest].bull]
