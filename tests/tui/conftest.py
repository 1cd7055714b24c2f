"""What holds for all tests of screens."""

from __future__ import annotations

import pytest

from tests.tui.idle import quiet


@pytest.fixture(autouse=True)
def _no_guessing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys and pauses of Textual's pilot wait until nothing is left to do, and no longer."""
    for module in ("textual.app", "textual.pilot"):
        monkeypatch.setattr(f"{module}.wait_for_idle", quiet)
