"""From the screens onto paper: pages beside the book, by one key."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.desk.desk import Desk
from readiness.herd.team import Team
from readiness.report.paper import write_beside, write_bull
from readiness.tui.board.screen import BoardScreen
from tests.tui.driver import make_app, press, screen_text, settled, squeezed
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
        await press(pilot, "o", "enter")
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
        await press(pilot, "o", "1")
    found = pages(tmp_path)
    day = desk.on.isoformat()
    board, sheet = sorted(found)
    assert board.startswith("bulls-board-Low-Sand-")
    assert sheet.startswith(f"bulls-sheet-{day}-Low-Sand-")
    assert "Corran" not in "".join(found.values())


async def test_o_offers_cover_gate_and_diary_of_what_is_in_view(desk: Desk, tmp_path: Path) -> None:
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        screen = app.board_screen
        screen.view = type(screen.view)(team=Team("Sallow Fell", "Heifers"))
        await press(pilot, "o", "2", "o", "3", "o", "4")
        said = [told.message for told in app._notifications]
        assert [message.count("On paper") for message in said] == [1, 1, 1]
        assert ["Any calendar reads" in message for message in said] == [False, False, True]
    found = {file.name.split("-")[1]: file for file in tmp_path.glob("bulls-*")}
    assert set(found) == {"cover", "turnout", "diary"}
    cover, gate = (found[name].read_text(encoding="utf-8") for name in ("cover", "turnout"))
    assert "Are the bulls enough?" in cover and "Hill cows" not in cover
    assert "Turnout of Heifers" in gate and "Hill cows" not in gate
    page, calendar = tmp_path.glob("bulls-diary-Sallow-Fell-*.html"), tmp_path.glob("*.ics")
    assert "What is to come" in next(page).read_text(encoding="utf-8")
    assert "Heifers: watch for returns" in next(calendar).read_text(encoding="utf-8")


async def test_the_gate_asks_for_a_group_where_none_is_in_view(desk: Desk, tmp_path: Path) -> None:
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "o", "3")
        assert "Whose turnout?" in screen_text(app)
        await press(pilot, "2")
    assert [file.name for file in tmp_path.glob("*.html")] == [
        next(tmp_path.glob("bulls-turnout-Sallow-Fell-Hill-cows-*.html")).name
    ]


async def test_o_on_cover_and_diary_writes_what_they_show(desk: Desk, tmp_path: Path) -> None:
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "v", "o", "escape", "d", "w", "w", "w", "o")
        assert {file.name for file in tmp_path.glob("bulls-*")} == {
            "bulls-cover.html", "bulls-diary-vet.html", "bulls-diary-vet.ics",
        }  # fmt: skip
        assert "Hill cows" in (tmp_path / "bulls-cover.html").read_text(encoding="utf-8")
        page = (tmp_path / "bulls-diary-vet.html").read_text(encoding="utf-8")
        assert "What is to come for the vet" in page and "trimmer" not in page
        calendar = (tmp_path / "bulls-diary-vet.ics").read_bytes()
        await press(pilot, "o")
        assert (tmp_path / "bulls-diary-vet.ics").read_bytes() == calendar


async def test_what_stands_in_the_way_is_said(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "bulls-board.html").write_text("my own", encoding="utf-8")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "o", "1")
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
