"""How much of a thing is tried: `pytest` alone tries all of it once and a sample of what is many;
the rest is marked ``long`` and run by `.ci/run`, which sets READINESS_CI."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable
from typing import Any

import pytest

WHOLE = os.environ.get("READINESS_CI", "") != ""
AT_LENGTH = os.environ.get("READINESS_CI") == "whole"
MANY = 6
"""Of a test with more cases than these so many are tried, spread over all of them."""
ALL_OF = ("engine", "hostile", "promises", "reference", "standards", "test_readme.py")
"""Folders of `tests` of which every case is tried: the main job, and what others rely on."""


def examples(whole: int) -> int:
    """How many examples hypothesis makes up of the ``whole`` that are tried at length
    (READINESS_CI=whole): else a tenth: ``.ci/run`` has ten minutes."""
    return whole if WHOLE and AT_LENGTH else max(whole // 10, 6)


def mark_many(items: Iterable[pytest.Item]) -> None:
    """Mark as long what is beyond ``MANY`` cases of one test."""
    tests: dict[str, list[pytest.Item]] = {}
    for item in items:
        if item.get_closest_marker("at_length") is None and not item.nodeid.startswith(
            tuple(f"tests/{name}" for name in ALL_OF)
        ):
            tests.setdefault(item.nodeid.partition("[")[0], []).append(item)
    for cases in tests.values():
        tried = {at * len(cases) // MANY for at in range(min(MANY, len(cases)))}
        for at, case in enumerate(cases):
            if len(cases) > MANY and at not in tried:
                case.add_marker(pytest.mark.long)


def sampled(
    names: str | tuple[str, ...],
    values: Iterable[Any],
    first: int = 1,
    *,
    of: Collection[Any] = (),
    mark: pytest.MarkDecorator = pytest.mark.long,
    most: int | None = None,
    **more: Any,
) -> pytest.MarkDecorator:
    """Parametrized: all values but the ``first`` ones, or but those that ``of`` names, are long;
    those beyond so many (``most``) are tried at length alone."""
    params = []
    for number, value in enumerate(values):
        short = value in of if of else number < first
        each = value if isinstance(names, tuple) else (value,)
        beyond = most is not None and number >= most
        rest = pytest.mark.at_length if beyond else mark
        params.append(pytest.param(*each, marks=() if short else rest))
    return pytest.mark.parametrize(names, params, **more)
