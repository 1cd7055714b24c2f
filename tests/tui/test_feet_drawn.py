"""The four feet in characters: every finding at its own place, as the bull stands."""

from __future__ import annotations

from itertools import product

import pytest

from readiness.trade.feet import FEET, ZONES
from readiness.tui.shared.feet import Foot, Label, foot_lines, four_feet
from readiness.tui.shared.looks import Glyphs, glyphs_for

UTF, ASCII = glyphs_for("utf-8"), glyphs_for("ascii")


def foot(name: str, *labels: Label, blocks: dict[str, str] | None = None) -> Foot:
    return Foot(name, f"{name} foot", labels, blocks or {})


def spot(claw: str, zone: int | None, words: str = "SU2", holds: bool = True) -> Label:
    return Label(claw, zone, words, holds, 2)


def drawn(of: Foot, width: int = 38) -> list[str]:
    return [line.plain for line in foot_lines(of, width, UTF)]


def place(of: Foot, label: str) -> tuple[int, int]:
    """Line and column of a label."""
    [(row, line)] = [(row, line) for row, line in enumerate(drawn(of)) if label in line]
    return row, line.index(label)


@pytest.mark.parametrize("name", FEET)
def test_the_outer_claw_stands_on_the_outside(name: str) -> None:
    names = drawn(foot(name))[1]
    outer_first = names.index("outer") < names.index("inner")
    assert outer_first == (name in ("LF", "LH"))


@pytest.mark.parametrize(
    ("name", "claw", "zone"),
    [each for each in product(FEET, ("outer", "inner"), ZONES) if each[2] not in (0, 10)],
)
def test_a_finding_stands_on_its_own_claw(name: str, claw: str, zone: int) -> None:
    own = foot(name, spot(claw, zone))
    _, column = place(own, "■SU2")
    names = drawn(own)[1]
    other = "inner" if claw == "outer" else "outer"
    start, far = names.index(claw), names.index(other)
    assert abs(column - start) < abs(column - far)


@pytest.mark.parametrize("claw", ["outer", "inner"])
@pytest.mark.parametrize("name", FEET)
def test_zones_lie_from_toe_to_heel(name: str, claw: str) -> None:
    rows = [place(foot(name, spot(claw, zone)), "■SU2")[0] for zone in (7, 1, 5, 4, 6)]
    assert rows == sorted(set(rows))


@pytest.mark.parametrize("name", FEET)
def test_the_white_line_and_wall_are_away_from_the_cleft(name: str) -> None:
    for claw in ("outer", "inner"):
        columns = {
            zone: place(foot(name, spot(claw, zone)), "■SU2")[1] for zone in (2, 3, 8, 11, 12)
        }
        left_claw = (claw == "outer") == (name in ("LF", "LH"))
        for outside in (2, 3, 8):
            for cleft in (11, 12):
                assert (columns[outside] < columns[cleft]) == left_claw


def test_skin_findings_stand_between_the_claws() -> None:
    for zone in (0, 10, 9, None, 6):
        own = foot("RF", spot("skin", zone, "IP2"))
        _, column = place(own, "IP2")
        names = drawn(own)[1]
        assert names.index("inner") < column < names.index("outer") + 2


def test_a_finding_without_a_place_is_in_brackets_by_its_claw() -> None:
    assert "outer (■SU2)" in drawn(foot("LF", spot("outer", None)))[1]


def test_what_does_not_hold_has_no_mark() -> None:
    text = "\n".join(drawn(foot("LF", spot("inner", 6, "HHE1", holds=False))))
    assert "HHE1" in text
    assert "■" not in text


def test_two_in_one_place_show_the_worst_and_how_many_more() -> None:
    own = foot(
        "LF",
        spot("outer", 4, "HHE1", holds=False),
        spot("outer", 4, "WLA3"),
        spot("outer", 4, "DS1", holds=False),
    )
    assert "■WLA3+2" in "\n".join(drawn(own))


@pytest.mark.parametrize("zone", [1, 2, 3, 4, 5, 6])
def test_a_block_fills_its_claw_and_hides_no_finding(zone: int) -> None:
    own = foot("LH", spot("outer", zone), blocks={"outer": "4 Mar"})
    text = "\n".join(drawn(own))
    assert "BLOCK" in text
    assert "4 Mar" in text
    assert "■SU2" in text
    assert "▒" in text
    inner = "\n".join(line[20:] for line in drawn(own))
    assert "▒" not in inner


@pytest.mark.parametrize("glyphs", [UTF, ASCII], ids=["utf", "ascii"])
@pytest.mark.parametrize("width", [20, 56, 58, 76, 78, 116])
def test_left_feet_on_the_left_front_feet_on_top(width: int, glyphs: Glyphs) -> None:
    text = four_feet({name: foot(name) for name in FEET}, width, glyphs).plain
    lines = text.split("\n")
    [(top, fronts)] = [(row, line) for row, line in enumerate(lines) if "LF foot" in line]
    [(low, hinds)] = [(row, line) for row, line in enumerate(lines) if "LH foot" in line]
    assert top < low
    assert fronts.index("LF foot") < fronts.index("RF foot")
    assert hinds.index("LH foot") < hinds.index("RH foot")
    assert text.isascii() == glyphs.ascii_only
