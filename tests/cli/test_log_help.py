"""The help of ``log``: what stands there can be written."""

from __future__ import annotations

from datetime import date

import pytest

from readiness.cli.log import EXAMPLES
from readiness.shorthand import Scales, read
from readiness.shorthand import lexicon as lex
from readiness.trade.feet import ACTS
from tests.cli.conftest import Run


@pytest.mark.parametrize("line", [line for line, _ in EXAMPLES])
def test_each_example_is_read(line: str) -> None:
    scales = Scales("gb0-3", "five")
    assert read(line, bull="00417", on=date(2026, 4, 3), by=None, scales=scales)


def test_no_word_that_begins_a_part_is_missing_from_the_help(
    run: Run,
) -> None:
    ran = run("log", "--help")
    assert ran.code == 0
    words = set(ran.out.replace(",", " ").replace(";", " ").replace(":", " ").split())
    needed = {*lex.HEADS, *lex.LOOKS, *lex.ABOUT, *lex.BODY_STATES, "all", "stands", "hired"}
    assert needed <= words
    assert set(ACTS) - {"trim"} <= words
    assert max(map(len, ran.out.splitlines())) <= 80
