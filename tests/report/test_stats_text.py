"""The figures in words: few are said to be few, every line fits, nobody's text breaks a table."""

from __future__ import annotations

from typing import Any

import pytest

from readiness.herd.stats.results import Figures, Part, Place, part
from readiness.report import stats_words as words
from readiness.report.look import Look
from readiness.report.stats_words import stats_text
from readiness.system.width import cells
from tests.build import booked, found
from tests.herd.lifted import feet, figures_of, row
from tests.herd.test_figures import HERD

ULCER = found("LH", "outer", "SU", 4)


def many(count: int, bulls: int = 1, **more: Any) -> list[dict[str, Any]]:
    """So many times all four feet, an ulcer on the first, of each bull."""
    tags = [f"B{number}" for number in range(bulls)]
    told = [booked(tag, breed=f"Breed {tag}", **more) for tag in tags]
    for tag in tags:
        told.append({**feet("2026-01-05", ULCER), "bull": tag})
        told += [{**feet("2026-02-01", position=at), "bull": tag} for at in range(count - 1)]
    return told


def line_of(text: str, start: str) -> str:
    [line] = [line for line in text.split("\n") if line.strip().startswith(start)]
    return " ".join(line.split())


def test_a_row_says_how_many_of_how_many_the_share_and_its_interval() -> None:
    """2 of 80: Wilson 95 % by scipy 0.0069 to 0.0866."""
    text = stats_text(figures_of(*many(10, 2)), Look(80))
    assert line_of(text, "SU sole ulcer").endswith("2 of 80 2.5 % 0.7 to 8.7 %")
    assert text.startswith("80 feet lifted, of 2 bulls, 5 Jan to 1 Feb; any finding on 2 of 80")


def test_few_are_named_have_no_share_and_no_bar() -> None:
    """Under the rule's 30 feet lifted: 1 of 4, Wilson 4.6 to 69.9 %."""
    text = stats_text(figures_of(*many(1)), Look(80))
    line = line_of(text, "SU sole ulcer")
    assert line.endswith("few: 1 of 4 4.6 to 69.9 %")
    assert "=" not in line and "|" not in line and "25.0" not in line
    assert "few: fewer than 30 feet lifted" in text
    assert "few:" not in stats_text(figures_of(*many(40)), Look(80))


def test_codes_stand_by_how_often_they_were_found_unless_they_are_few() -> None:
    twice = (found("LF", "inner", "WLF", 2), found("LF", "inner", "AC"))
    told = [*many(10), feet("2026-03-01", *twice), feet("2026-03-02", twice[0]), booked()]
    enough, few = figures_of(*told), figures_of(*told, few=50)
    assert [row.value for row in words.shown(enough.by("code"))] == ["WLF", "AC", "SU"]
    assert [row.value for row in words.shown(few.by("code"))] == ["AC", "WLF", "SU"]


def test_what_was_never_found_is_said_in_one_line_with_what_that_allows() -> None:
    absent = words.absent_words(figures_of(*many(40)).by("zone"))
    assert absent == (
        "Never found: 1, 2, 3, 5, 6, 7, 8, 11 or 12, 0 of 320, 0.0 to 1.2 %; "
        "skin 0, skin 9 or skin 10, 0 of 160, 0.0 to 2.3 %."
    )
    assert words.absent_words(figures_of(*many(40)).by("foot")) == ""


def test_it_says_what_is_counted_and_what_is_not_meant() -> None:
    text = " ".join(stats_text(figures_of(*HERD), Look(80)).split())
    for part_ in (words.COUNTED, words.NOT_MEANT, words.BARS):
        assert part_ in text
    assert "no random sample" in text and "no diagnosis; the vet decides" in text


def test_nothing_lifted_is_said_and_no_table_is_drawn() -> None:
    text = stats_text(figures_of(booked(), farm="Low Sand", since=738000), Look(80))
    assert text.startswith("No foot was lifted at Low Sand from ")
    assert "Findings:" not in text


NAMES = ("牛" * 40, "[bold]x[/bold]", "Bo\x1b[2J\u202eb", "Long" * 40, "=1+1")


@pytest.mark.parametrize("width", [60, 80, 160])
@pytest.mark.parametrize("marks", [True, False])
def test_every_line_fits_whatever_a_breed_or_farm_is_called(width: int, marks: bool) -> None:
    told = [booked(f"B{at}", breed=name, farm=name) for at, name in enumerate(NAMES)]
    told += [{**feet("2026-01-05", ULCER), "bull": f"B{at}"} for at in range(len(NAMES))]
    for farm in (None, *NAMES):
        text = stats_text(figures_of(*told, farm=farm), Look(width, marks=marks))
        assert max(map(cells, text.split("\n"))) <= width
        assert not {"\x1b", "\u202e"} & set(text)
        assert farm is not None or "[bold]x[/bold]" in text


# ---- bars --------------------------------------------------------------------------------------


def test_a_bar_ends_at_its_share_between_the_ends_of_its_interval() -> None:
    half = part(["A"] * 50, 100, 1, 30)  # Wilson: 40.4 to 59.6 %
    drawn = words.bar(half, 1.0, 40)
    assert len(drawn) == 40
    assert (drawn.index("["), drawn.index("|"), drawn.index("]")) == (16, 20, 23)
    assert drawn[:16] == "=" * 16 and set(drawn[24:]) == {" "}


def test_an_interval_that_reaches_beyond_the_scale_has_no_end() -> None:
    few = part(["A"], 4, 1, 30)
    assert words.bar(few, 0.5, 20) == " [------------------"[:20]
    assert words.bar(few, 1.0, 20).count("]") == 1


@pytest.mark.parametrize("n", range(0, 41, 5))
@pytest.mark.parametrize("width", [10, 23, 40])
def test_every_bar_has_its_width_and_its_share(n: int, width: int) -> None:
    for few in (0, 30):
        drawn = words.bar(part(["A"] * n, 40, 1, few), 1.0, width)
        assert len(drawn) == width and drawn.count("|") == 1
    assert "|" not in words.bar(part(["A"] * n, 40, 1, 41), 1.0, width)


def test_the_scale_is_round_and_not_made_by_the_few() -> None:
    of = figures_of(*many(40), booked("F", breed="Rare"), {**feet("2026-01-05"), "bull": "F"})
    breeds = of.by("breed")
    assert row(of, "breed", "Rare").few and row(of, "breed", "Rare").high > 0.2
    assert words.scale_top(breeds) == 0.05


# ---- heat --------------------------------------------------------------------------------------


def test_heat_is_the_share_against_the_largest_and_none_for_few() -> None:
    def cell(n: int, of: int, few: bool) -> Place:
        return Place("LH", "outer", 4, Part(n, of, n / of, 0.0, 1.0, 1, few))

    cells_ = (cell(10, 100, False), cell(5, 100, False), cell(9, 10, True))
    of = Figures(1, None, None, 30, 1, 1, 1, 1, None, (), cells_, ())
    assert [words.heat(each, of) for each in cells_] == [1.0, 0.5, 0.0]
    assert words.cell_words(cells_[2]).startswith("outer 4, where sole and heel meet: few: 9 of 10")
