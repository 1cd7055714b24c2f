"""Screens are driven without waiting: as soon as nothing is left to run, the next key goes in."""

from __future__ import annotations

import pytest
import textual.app
import textual.constants
import textual.pilot
from textual.widgets import Input

from tests.tui.driver import nothing_to_run


@pytest.fixture(autouse=True)
def without_waiting(monkeypatch: pytest.MonkeyPatch) -> None:
    """In place of sleeping until the processor is idle, and of moving things bit by bit."""
    for module in (textual.app, textual.pilot):
        monkeypatch.setattr(module, "wait_for_idle", nothing_to_run)
    monkeypatch.setattr(textual.constants, "TEXTUAL_ANIMATIONS", "none")
    monkeypatch.setattr(Input, "_toggle_cursor", lambda _: None)  # on a loaded machine it is off
