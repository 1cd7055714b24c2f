"""What the tests of a fleet take from those of the command line."""

from __future__ import annotations

from tests.cli.conftest import run
from tests.fleet.farms import alone

__all__ = ["alone", "run"]
