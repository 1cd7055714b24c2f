"""The reference's own cases are long: by default the same cases are asked of the engine alone
(``tests/engine/test_by_hand.py``), which is what changes."""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.parent == HERE:
            item.add_marker(pytest.mark.long)
