"""Small plots: every score at its day and level, readable without colour."""

from __future__ import annotations

from readiness.tui.bull.feet import LABEL, Plot, Point, drawn
from readiness.tui.shared.looks import glyphs_for

UTF = glyphs_for("utf-8")


def lines(plot: Plot, width: int = 60) -> list[str]:
    return drawn(plot, width, UTF).plain.split("\n")


def walks(*points: tuple[int, int]) -> Plot:
    return Plot(
        levels=(3.0, 2.0, 1.0, 0.0),
        limit=2.0,
        points=tuple(Point(day, score, str(score), score >= 2) for day, score in points),
        window=(86, 100),
        first=0,
        last=100,
        ends=((0, "1 Jan"), (60, "today"), (100, "turnout 11 Apr")),
    )


def test_a_score_stands_on_its_level_at_its_day() -> None:
    said = lines(walks((0, 0), (50, 3), (100, 1)))
    start = LABEL + 2
    room = 60 - start
    assert said[0][start:].strip() == "3"
    assert said[0].index("3", start) == start + round(50 * (room - 1) / 100)
    assert said[3].index("0", start) == start
    assert said[2].rstrip().endswith("1")
    assert len(said[2].rstrip()) == 60


def test_levels_are_named_and_the_limit_is_ruled() -> None:
    said = lines(walks((10, 1)))
    assert [line[:LABEL].strip() for line in said[:4]] == ["3", "2", "1", "0"]
    assert said[1].count("·") > 40
    assert "·" not in said[0] + said[2] + said[3]


def test_the_window_that_counts_is_drawn_under_its_days() -> None:
    axis = lines(walks((10, 1)))[4]
    start, room = LABEL + 2, 60 - LABEL - 2
    assert axis.index("├") == start + round(86 * (room - 1) / 100)
    assert axis.index("┤") == 59
    assert set(axis[axis.index("├") + 1 : 59]) == {"="}


def test_the_days_under_the_axis_do_not_run_into_each_other() -> None:
    below = lines(walks((10, 1)))[5]
    assert below.split() == ["1", "Jan", "today", "turnout", "11", "Apr"]
    assert len(below) <= 60


def test_values_between_levels_stand_at_the_nearest() -> None:
    plot = Plot(
        (4.0, 3.5, 3.0, 2.5), None, (Point(5, 3.25, "3.25", False),), None, 0, 10, ((0, "1 Jan"),)
    )
    said = lines(plot)
    assert "3.25" in said[1] + said[2]
    assert "=" not in said[4]


def test_a_day_out_of_the_picture_is_drawn_at_its_edge() -> None:
    assert lines(walks((-30, 2)))[1][LABEL + 2] == "2"


def test_the_narrowest_plot_still_draws() -> None:
    assert all(len(line) <= 30 for line in lines(walks((10, 1)), width=5)[:5])
