"""A line to type into that holds plain text only."""

from __future__ import annotations

from textual.widgets import Input

from readiness.system.plain import plain


class PlainInput(Input):
    """What is pasted into it may carry controls, which painted as they are would drive the
    terminal: they never get in."""

    def validate_value(self, value: str) -> str:
        return plain(value)
