"""The Figures screen: the map of the feet, the tables, one farm, and what is recent."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import Static

from readiness.report import stats_words as words
from readiness.trade.feet import FEET
from readiness.tui.app import ReadinessApp
from readiness.tui.figures.screen import FiguresScreen
from readiness.tui.figures.views import CAREFUL, VIEWS, body
from readiness.tui.shared.dialogs import Paper
from readiness.tui.shared.looks import ORANGE, QUIET, glyphs_for
from tests.herd.lifted import figures_of
from tests.herd.test_figures import HERD
from tests.report.test_stats_text import many
from tests.tui.driver import make_app, press, screen_lines, screen_text, settled
from tests.tui.estate import bull, desk_at, estate, of
from tests.tui.test_tui_hostile import NAMES, UNSEEN, hostile
from tests.tui.test_tui_looks import colours
from tests.volume import sampled

SIZES = [(80, 24), (120, 40)]


def lifted() -> list[dict[str, Any]]:
    """The estate, and a second farm whose one bull was lifted once, long ago."""
    ulcer = {"foot": "RH", "claw": "inner", "code": "TU", "zone": 1, "severity": 1}
    return [
        *estate(),
        *bull("00900", "Tern", None, farm="Low Sand", breed="Luing"),
        of("00900", "feet", 100, lifted=list(FEET), findings=[ulcer]),
    ]


@pytest.fixture
def app(tmp_path: Path) -> ReadinessApp:
    return make_app(desk_at(tmp_path / "bulls.duckdb", lifted()), poll=3600)


async def opened(pilot: Pilot[Any], *keys: str) -> FiguresScreen:
    await settled(pilot)
    await press(pilot, "i", *keys)
    screen = pilot.app.screen
    assert isinstance(screen, FiguresScreen)
    return screen


def whole(app: ReadinessApp) -> str:
    """All that the screen holds, scrolled out of sight or not."""
    return str(app.screen.query_one("#shown", Static).content)


async def test_i_opens_it_help_names_its_keys_and_esc_goes_back(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot)
        text = screen_text(app)
        assert "Figures, all farms" in text and "LF left fore" in text
        assert CAREFUL in text and "Esc board" in text
        await press(pilot, "question_mark")
        assert isinstance(app.screen, Paper)
        for said in ("only one farm", "the last 365 days", "back to the board", "breeds"):
            assert said in screen_text(app)
        await press(pilot, "escape", "escape")
        assert app.screen_stack == [app.board_screen]


async def test_the_map_counts_what_the_desk_counts_each_at_its_foot(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 60)) as pilot:
        screen = await opened(pilot)
        assert screen.figures == app.desk.stats()
        assert screen.figures is not None
        held = whole(app)
        for cell in screen.figures.cells:
            assert f"{cell.foot} {words.cell_words(cell)}" in held
        for foot in FEET:
            lifts = screen.figures.lifts_of(foot)
            assert f"{foot} " in held and f"few: {lifts} lifts" in held


async def test_each_digit_shows_its_tables_and_arrows_go_round(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        for number, view in enumerate(VIEWS, start=1):
            await press(pilot, str(number))
            assert screen.view == view
            for by in VIEWS[view]:
                assert words.TITLES[by] in whole(app) and words.MEANINGS[by] in whole(app)
            assert words.NOT_MEANT in whole(app) and words.COUNTED in whole(app)
        await press(pilot, "right")
        assert screen.view == "map"
        await press(pilot, "left")
        assert screen.view == "years"


async def test_g_shows_one_farm_and_all_again(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        await press(pilot, "g")
        assert "Low Sand" in screen_text(app) and "Sallow Fell" in screen_text(app)
        await press(pilot, "2")
        assert screen.farm == "Low Sand" and screen.figures is not None
        assert screen.figures == app.desk.stats(farm="Low Sand")
        assert screen.figures.feet == 4 and "Figures, Low Sand" in screen_text(app)
        await press(pilot, "g", "1")
        assert screen.figures == app.desk.stats()


async def test_s_leaves_out_what_is_long_ago(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, "g", "2", "s")
        assert screen.figures is not None and screen.figures.feet == 4
        assert "3 Apr 2025 to Fri 3 Apr 2026" in screen_text(app)
        await press(pilot, "s")
        assert screen.figures.feet == 0
        assert "No foot was lifted at Low Sand from Sat 3 Jan 2026" in screen_text(app)
        await press(pilot, "s")
        assert screen.figures.feet == 4


async def test_it_scrolls_to_its_end(app: ReadinessApp) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        screen = await opened(pilot)
        assert "the vet decides." not in "\n".join(screen_lines(app)[3:-3])
        await press(pilot, *["space"] * 6)
        assert screen.query_one("#body", VerticalScroll).is_vertical_scroll_end
        await press(pilot, "2")
        assert screen.query_one("#body", VerticalScroll).scroll_offset.y == 0


async def test_what_is_written_meanwhile_is_counted_on_r(app: ReadinessApp, tmp_path: Path) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot)
        assert screen.figures is not None
        before = screen.figures.feet
        desk_at(tmp_path / "bulls.duckdb").add([of("00501", "feet", 0, lifted=["LF"])])
        await press(pilot, "r")
        assert screen.figures.feet == before + 1


@pytest.mark.parametrize("width", [57, 77, 117])
@pytest.mark.parametrize("encoding", ["utf-8", "ascii"])
def test_what_is_drawn_keeps_to_its_width(width: int, encoding: str) -> None:
    """The words are wrapped by the screen; feet and tables are not."""
    for view in VIEWS:
        shown = body(figures_of(*many(40), *HERD), view, width, glyphs_for(encoding)).plain
        drawn = [line for line in shown.split("\n") if re.search(r"  |--", line)]
        assert len(drawn) > 1 and max(map(cell_len, drawn)) <= width
        assert encoding == "utf-8" or shown.isascii()


async def test_a_small_terminal_without_utf8_shows_views_and_keys(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "b.duckdb", lifted()), poll=3600, encoding="ascii")
    async with app.run_test(size=(60, 20)) as pilot:
        await opened(pilot)
        assert len(screen_lines(app)) == 20 and screen_text(app).isascii()
        for said in ("7 years", "q quit", CAREFUL, "LF left fore"):
            assert said in screen_text(app)


async def test_without_colour_no_colour_is_sent_and_the_counts_stand(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = make_app(desk_at(tmp_path / "b.duckdb", lifted()), poll=3600)
    async with app.run_test(size=(120, 60)) as pilot:
        await opened(pilot)
        assert colours(app) == []
        assert "RH inner 1, white line at the toe: few: 1 of" in screen_text(app)


async def test_hostile_farms_and_breeds_stay_text(tmp_path: Path) -> None:
    name = "".join(NAMES[kind] for kind in ("markup", "wide", "direction"))
    app = make_app(desk_at(tmp_path / "b.duckdb", hostile(name)), poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await opened(pilot, "5", "g", "2")
        for line in screen_lines(app):
            assert not UNSEEN.search(line) and cell_len(line) <= 60
        assert app.is_running


def styles(of: Any, text: str) -> set[str]:
    """How the parts of a content that are this text are styled."""
    content = body(of, "map", 80, glyphs_for("utf-8"))
    return {str(s.style) for s in content.spans if content.plain[s.start : s.end].strip() == text}


def test_few_are_quiet_and_the_most_stand_out() -> None:
    assert styles(figures_of(*many(1)), "1") == {QUIET}
    assert styles(figures_of(*many(40)), "1") == {f"bold {ORANGE}"}


@sampled("size", SIZES, ids=["80x24", "120x40"])
@pytest.mark.parametrize("view", ["1", "3"], ids=["map", "feet"])
def test_layout(
    snap_compare: Callable[..., bool], tmp_path: Path, view: str, size: tuple[int, int]
) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", lifted()), poll=3600)

    async def there(pilot: Pilot[Any]) -> None:
        await opened(pilot, view)

    assert snap_compare(app, terminal_size=size, run_before=there)
