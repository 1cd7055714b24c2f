"""A roster goes in by the command line, as at a farm."""

from __future__ import annotations

from tests.cli.conftest import Ran, Run, book, run

__all__ = ["Ran", "Run", "book", "run"]
