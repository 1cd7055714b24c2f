"""The cases that were worked by hand for the reference, asked of the assessment itself: each is a
sentence of its own, its source beside it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from readiness.herd.board import assess_book
from tests.build import entries_of
from tests.engine.alike import ours, rule_book
from tests.reference import (
    hand,
    test_self,
    test_self_after,
    test_self_feet,
    test_self_lame,
    test_self_spots,
    test_self_vet,
    test_self_words,
)

ASK_ONE_BULL = (
    test_self,
    test_self_after,
    test_self_feet,
    test_self_lame,
    test_self_spots,
    test_self_vet,
    test_self_words,
)
_INSIDE = {"brute_board", "first_turnout", "earliest", "tell", "random_book", "books"}
"""What only the reference has."""


def _cases() -> dict[str, Callable[..., None]]:
    return {
        name: case
        for module in ASK_ONE_BULL
        for name, case in vars(module).items()
        if name.startswith("test_")
        and "assessed" in case.__code__.co_names
        and not _INSIDE & {*case.__code__.co_names}
    }


globals().update(_cases())


def assessed(*entries: dict[str, Any], on: str = "2026-04-03", **rules: Any) -> dict[str, Any]:
    """The bull of these cases as the program assesses him, in the reference's words."""
    told = entries_of([hand.entry("bull", "2025-11-01"), *entries])
    day = date.fromisoformat(on).toordinal()
    (bull,) = assess_book(told, rule_book(rules), day).bulls
    said = ours(bull)
    said["outstanding"] = [{"id": name, **check} for name, check in said["outstanding"].items()]
    return said


@pytest.fixture(autouse=True)
def asked_of_the_program(monkeypatch: pytest.MonkeyPatch) -> None:
    for module in ASK_ONE_BULL:
        monkeypatch.setattr(module, "assessed", assessed)


def test_no_case_is_lost() -> None:
    assert len(_cases()) >= 60
