"""A severity not said is not a slight one: what is read back of it, for each finding on the slip.

The reference is what an entry may say: severity of a new finding not said is not known,
and it holds; found again it is kept; called otherwise it is not said unless said.
"""

from __future__ import annotations

import pytest

from readiness.crush.before import Before, unsaid, without_asked
from tests.crush.pads import SLIP, found, stands


def told(line: str, before: Before | None = None) -> list[str]:
    known = before or stands()
    return unsaid(known, SLIP.read(line, known.scales))


def test_each_new_finding_without_its_severity_is_told_with_what_that_means() -> None:
    assert told("lf o wlf@2 pare; rh s ih; o su/2") == [
        "white line fissure, LF outer: severity not said: it holds him",
        "interdigital hyperplasia, RH: severity not said: it holds him",
    ]


@pytest.mark.parametrize("line", ["lf o wlf/1", "lf o hhe", "lf s dd", "lf o wla", "lf o su healed",
                                  "all ok", ""])  # fmt: skip
def test_where_it_is_said_or_decides_nothing_there_is_nothing_to_tell(line: str) -> None:
    assert told(line) == []


def test_found_again_its_severity_is_kept_and_one_never_said_is_still_not_said() -> None:
    assert told("lf o wlf", stands(found("LF", "outer", "WLF", 1))) == []
    assert len(told("lf o wlf", stands(found("LF", "outer", "WLF", None)))) == 1


def test_of_both_claws_one_that_is_new_counts_as_not_said() -> None:
    outer, inner = found("LF", "outer", "WLF", 2), found("LF", "inner", "WLF", 1)
    assert told("lf b wlf", stands(outer)) == [
        "white line fissure, LF inner: severity not said: it holds him"
    ]
    assert told("lf b wlf", stands(outer, inner)) == []


def test_called_otherwise_its_severity_is_not_said_unless_said() -> None:
    known = stands(found("LF", "outer", "SH", 1), found("LF", "outer", "SU", 1))
    assert told("lf o su was sh", known) == [
        "sole ulcer, LF outer: severity not said: it holds him"
    ]
    assert told("lf o su/2 was sh", known) == []


def test_of_the_claw_in_the_hand_it_may_yet_be_said() -> None:
    slip = SLIP.read("lf o wlf; lf i sh; lf o hhe; lf o ds/1; rf o su", stands().scales)
    left = without_asked(stands(), slip, ("LF", "outer"))
    assert left.line(stands().scales) == "lf i sh; o hhe ds/1; rf o su"
