"""How much of a thing is tried: `pytest` alone tries all of it once and a sample of what is many;
the rest is marked ``long`` and run by `.ci/run`, which sets READINESS_CI."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable
from typing import Any

import pytest

WHOLE = os.environ.get("READINESS_CI") == "1"


def examples(whole: int) -> int:
    """How many examples hypothesis makes up where ``.ci/run`` tries ``whole`` of them."""
    return whole if WHOLE else max(whole // 8, 8)


def sampled(
    names: str | tuple[str, ...],
    values: Iterable[Any],
    first: int = 1,
    *,
    of: Collection[Any] = (),
    **more: Any,
) -> pytest.MarkDecorator:
    """Parametrized: all values but the ``first`` ones, or but those that ``of`` names, are long."""
    params = []
    for number, value in enumerate(values):
        short = value in of if of else number < first
        each = value if isinstance(names, tuple) else (value,)
        params.append(pytest.param(*each, marks=() if short else pytest.mark.long))
    return pytest.mark.parametrize(names, params, **more)
