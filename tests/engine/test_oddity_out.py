"""Let out with a block on, lame or with an open finding: kept, and warned of."""

from __future__ import annotations

import pytest

from readiness.oddities import oddities_of_bull
from tests.bench.books import entries_of
from tests.engine.cases import RULES, day, lift, said, ulcer


@pytest.mark.parametrize(
    ("before", "words"),
    [
        (said("block-on", "2026-04-01", foot="LH", claw="inner"), "a block is on LH inner"),
        (said("mobility", "2026-04-01", scale="gb0-3", score=2), "he is lame"),
        (lift("2026-04-01", "LH", findings=ulcer(1)), "sole ulcer LH outer is open"),
        (lift("2026-04-01"), ""),
    ],
)
def test_a_bull_on_hold_is_not_let_out_without_a_word(
    before: dict[str, object], words: str
) -> None:
    told = [said("bull", "2026-01-01"), before, said("moved", "2026-04-02", act="out", id="out")]
    found = list(oddities_of_bull(entries_of(told), RULES.common, day("2026-04-02"), {"out"}))
    assert found == ([("out", f"out while on hold: {words}")] if words else [])
