"""What holds for all tests."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("no deadline", deadline=None)  # a loaded machine is no fault of ours
settings.load_profile("no deadline")

LEAST_WORKERS = 4


def pytest_xdist_auto_num_workers() -> int:
    """More processes than cores on a small machine: a test of a screen or of another process mostly
    waits, and the cores would stand idle."""
    return max(LEAST_WORKERS, os.cpu_count() or 1)
