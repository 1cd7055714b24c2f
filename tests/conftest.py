"""What holds for all tests."""

from __future__ import annotations

import os

LEAST_WORKERS = 3


def pytest_xdist_auto_num_workers() -> int:
    """More processes than cores on a small machine: a test of a screen or of another process mostly
    waits, and the cores would stand idle."""
    return max(LEAST_WORKERS, os.cpu_count() or 1)
