"""Cases worked by hand of which the program says something else, until that is settled: asked of
the reference only."""

from __future__ import annotations

import pytest

from .hand import assessed, found, holds, lift, spot


@pytest.mark.parametrize(("stage", "held"), [({}, True), ({"stage": "M4"}, False)])
@pytest.mark.parametrize(
    ("beside", "was"),
    [(["SW"], "SW"), (["ID"], "ID"), ([], "IP")],  # the last is not open
)
def test_dermatitis_that_is_chronic_lends_no_stage_to_what_had_another_name(
    beside: list[str], was: str, stage: dict[str, str], held: bool
) -> None:
    # as of several spots: what is not known to be the one that is open is not as mild as that
    spots = [spot("LH", "skin", "DD", stage="M4"), *(spot("LH", "skin", code) for code in beside)]
    told = lift("2026-03-01", "LH", findings=spots)
    named = found("2026-03-09", "DD", "skin", was=was, severity=1, **stage)
    bull = assessed(told, named, on="2026-03-09")
    assert (holds(bull, "DD", "skin"), holds(bull, was, "skin")) == (held, False)
