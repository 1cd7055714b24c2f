"""The mutants follow the code: each still breaks a line that stands."""

from __future__ import annotations

from tests.engine.mutants import MUTANTS, ROOT


def test_every_mutant_still_finds_the_code_that_it_breaks() -> None:
    code = {each.module: (ROOT / "readiness" / f"{each.module}.py").read_text() for each in MUTANTS}
    lost = [each.sentence for each in MUTANTS if code[each.module].count(each.old) != 1]
    assert lost == []
