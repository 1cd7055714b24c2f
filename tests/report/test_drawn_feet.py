"""The feet drawn on a page: as the bull stands on them, so no left is taken for a right."""

from __future__ import annotations

import re

import pytest

from readiness.history.finding import Finding
from readiness.report.foot_svg import SIGNS, WIDTH, foot_svg
from readiness.report.stats_page import MAP_WORDS
from readiness.trade.feet import FEET

LEFT = ("LF", "LH")
TSPAN = re.compile(r'<tspan x="(\d+)" y="(\d+)">SU2</tspan>')
NAME = re.compile(r'<text class="name" x="(\d+)" y="-6">(outer|inner)</text>')


def place(foot: str, claw: str, zone: int) -> tuple[int, int]:
    """How far right and how far down a finding of this zone is written."""
    finding = Finding(
        foot, claw, "SU", 2, True, None, True,
        first=1, clock=1, clock_severity=2, clock_entry="", looked=1, zone=zone,
    )  # fmt: skip
    drawn = foot_svg(foot, [finding], (), "")
    [(x, y)] = TSPAN.findall(drawn)
    return int(x), int(y)


@pytest.mark.parametrize("foot", FEET)
def test_outer_claws_are_drawn_on_the_outside(foot: str) -> None:
    """Seen from above a left foot has its outer claw on the left; from below it would not."""
    names = {claw: int(x) for x, claw in NAME.findall(foot_svg(foot, [], (), ""))}
    assert (names["outer"] < WIDTH / 2) == (foot in LEFT)
    assert (names["inner"] < WIDTH / 2) == (foot not in LEFT)


@pytest.mark.parametrize("foot", FEET)
@pytest.mark.parametrize("claw", ["outer", "inner"])
def test_the_zones_lie_on_their_claw_the_wall_outside_the_cleft_inside(
    foot: str, claw: str
) -> None:
    on_left = (claw == "outer") == (foot in LEFT)
    across = {zone: place(foot, claw, zone)[0] for zone in (1, 2, 3, 4, 5, 6, 7, 8, 11, 12)}
    assert all((x < WIDTH / 2) == on_left for x in across.values())
    from_cleft = {zone: abs(x - WIDTH / 2) for zone, x in across.items()}
    for away in (8, 2, 3):
        assert all(from_cleft[away] > from_cleft[near] for near in (4, 5, 6, 11, 12))
    down = [place(foot, claw, zone)[1] for zone in (7, 1, 5, 4, 6)]
    assert down == sorted(set(down))


@pytest.mark.parametrize("words", [SIGNS, MAP_WORDS])
def test_the_caption_says_from_where_they_are_seen(words: str) -> None:
    assert "from above" in words and "from below" not in words
