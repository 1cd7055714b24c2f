"""From the screens onto paper: pages beside the book, by one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.desk.desk import Desk
from readiness.herd.team import Team
from readiness.report.paper import write_beside, write_bull
from readiness.tui.board.screen import BoardScreen
from tests.tui.driver import make_app, press, settled, squeezed
from tests.tui.estate import bull, desk_at, estate, of


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """The estate; a second farm whose one bull was lifted today."""
    today = of("00900", "feet", 0, lifted=["LF"])
    return desk_at(
        tmp_path / "bulls.duckdb", [*estate(), *bull("00900", "Tern", None, farm="Low/Sand"), today]
    )


def pages(folder: Path) -> dict[str, str]:
    return {file.name: file.read_text(encoding="utf-8") for file in folder.glob("*.html")}


async def test_o_puts_the_board_and_the_days_sheet_on_paper(desk: Desk, tmp_path: Path) -> None:
    app = make_app(desk, poll=3600)
    day = desk.on.isoformat()
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "o")
        assert "Onpaper:bulls-board.html" in squeezed(app)
        found = pages(tmp_path)
        assert set(found) == {"bulls-board.html", f"bulls-sheet-{day}.html"}
        assert "Corran" in found["bulls-board.html"]
        assert "Tern" in found[f"bulls-sheet-{day}.html"]
        screen = app.screen
        assert isinstance(screen, BoardScreen)
        await press(pilot, "enter", "o")
        more = set(pages(tmp_path)) - set(found)
        assert len(more) == 1 and more.pop().startswith("bulls-bull-")


async def test_only_the_farm_in_view_goes_onto_paper(desk: Desk, tmp_path: Path) -> None:
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        screen = app.screen
        assert isinstance(screen, BoardScreen)
        screen.view = type(screen.view)(team=Team("Low/Sand", ""))
        await press(pilot, "o")
    found = pages(tmp_path)
    day = desk.on.isoformat()
    board, sheet = sorted(found)
    assert board.startswith("bulls-board-Low-Sand-")
    assert sheet.startswith(f"bulls-sheet-{day}-Low-Sand-")
    assert "Corran" not in "".join(found.values())


async def test_what_stands_in_the_way_is_said(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "bulls-board.html").write_text("my own", encoding="utf-8")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "o")
        assert "Nothingwaswritten" in squeezed(app)
    assert pages(tmp_path) == {"bulls-board.html": "my own"}


def test_a_name_that_leads_elsewhere_stays_beside_the_book(tmp_path: Path) -> None:
    farm = "../../etc/\x00 " + "x" * 60
    (tmp_path / "deep").mkdir()
    desk = desk_at(tmp_path / "deep" / "bulls.duckdb", [*bull("1", "Tern", None, farm=farm)])
    [board] = write_beside(desk, farm=None, group=None)
    assert board.parent == tmp_path / "deep"
    named = next(b.farm for b in desk.board().bulls)
    [board] = write_beside(desk, farm=named, group=None)
    assert board.parent == tmp_path / "deep"
    assert sorted(f.name for f in tmp_path.iterdir()) == ["deep"]


def test_two_bulls_never_share_a_page(tmp_path: Path) -> None:
    """12/3 and 12-3 cannot both be 12-3 in a file's name; the same bull has the same file again."""
    desk = desk_at(tmp_path / "b.duckdb", [*bull("12/3", "A", None), *bull("12-3", "B", None)])
    one, other = (write_bull(desk, key) for key in ("12/3", "12-3"))
    assert one != other
    assert write_bull(desk, "12/3") == one
    assert "12/3 A" in one.read_text(encoding="utf-8")
