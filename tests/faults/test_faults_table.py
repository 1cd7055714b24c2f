"""Some of every row of the table of faults (`python -m tests.faults --long` does all of them)."""

from __future__ import annotations

import pytest

from tests.faults.table import ROWS, Often, run

STRUCK = [name for name in ROWS if name.startswith(("kill -9", "disk", "I/O", "power"))]
OTHERS = [name for name in ROWS if name not in STRUCK]


def nothing_lost(names: list[str], long: bool) -> None:
    def count(often: Often) -> int:
        return often.long if long else often.short

    tallies = list(run(names, count, thorough=False))
    assert [failed for tally in tallies for failed in tally.failed] == []
    for tally in tallies:
        assert tally.trials == tally.told + tally.harmless == count(ROWS[tally.name][1])


def test_a_few_faults_lose_nothing_that_was_acknowledged_and_are_told() -> None:
    nothing_lost(list(ROWS), long=False)


@pytest.mark.at_length
@pytest.mark.parametrize("names", [STRUCK, OTHERS], ids=["struck", "others"])
def test_faults_lose_nothing_that_was_acknowledged_and_are_told(names: list[str]) -> None:
    nothing_lost(names, long=True)
