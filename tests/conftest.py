"""What holds for all tests."""

from __future__ import annotations

import os

from hypothesis import settings

from tests.volume import examples

# A loaded machine is no fault of ours.
settings.register_profile("ours", deadline=None, max_examples=examples(100))
settings.load_profile("ours")


def pytest_xdist_auto_num_workers() -> int:
    """One process more than there are cores: some tests wait for another process."""
    return (os.cpu_count() or 1) + 1
