"""The Cover screen: bars of every group, one in full, what if at once, the moves written and taken
back."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from textual.widgets import Static

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.report.cover_words import NO_MOVE
from readiness.system.clock import FixedClock
from readiness.tui.app import ReadinessApp
from readiness.tui.cover.plot import Capacity
from readiness.tui.cover.screen import CoverScreen
from readiness.tui.cover.views import IN_SEASON
from readiness.tui.shared.program import POLL
from tests.build import Line, join, said, standing, walk
from tests.cover.farms import ON, bull, cows, team
from tests.tui.crush_driver import crush_app
from tests.tui.driver import press, screen_text, settled, until

SHORT: list[Line] = [
    cows(70), *bull("B 1"), *bull("B 2", role="reserve"), cows(30, "Moor"), *bull("B 3", "Moor"),
]  # fmt: skip


CLOCK = FixedClock(datetime(2026, 4, 28, 9, tzinfo=UTC))


def desk_at(path: Path, lines: list[Line] | None = None, on: date | None = None) -> Desk:
    clock = FixedClock(datetime(on.year, on.month, on.day, 9, tzinfo=UTC)) if on else CLOCK
    desk = Desk(Book(path, clock, device="desk-one"), None, clock, who="A. Trimmer")
    if lines:
        desk.add(lines)
    return desk


@pytest.fixture
def app(tmp_path: Path) -> ReadinessApp:
    return crush_app(desk_at(tmp_path / "bulls.duckdb", SHORT), poll=POLL)


def part(app: ReadinessApp, name: str) -> str:
    return str(app.screen.query_one(f"#{name}", Static).content)


async def test_v_opens_it_and_esc_goes_back(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        assert isinstance(app.screen, CoverScreen)
        text = screen_text(app)
        assert "> Hill, turnout Fri 1 May" in text and "short by" in text
        await press(pilot, "escape")
        assert app.screen_stack == [app.board_screen]


async def test_the_group_in_view_is_shown_first_and_else_one_that_is_short(tmp_path: Path) -> None:
    lines = [cows(70), *bull("B 1"), *bull("B 2"), cows(90, "Moor"), *bull("B 3", "Moor")]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        assert "> Moor" in screen_text(app)
        await press(pilot, "escape", "g", "2", "v")
        assert "> Hill" in screen_text(app)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_females_go_and_forecast_of_every_group_can_be_read(
    app: ReadinessApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        groups = " ".join(part(app, "groups").split())
        moor = ("cows 30", "by turnout 35") if size[1] > 34 else ("Moor, 1 May 35 of 30",)
        for words in ("cows 70", "by turnout 35", *moor):
            assert words in groups
        assert "8 times in 10 (81 %)" in " ".join(part(app, "shown").split())


async def test_what_if_stands_beside_what_is_and_goes_away_again(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        await press(pilot, "v", *["minus"] * 7)
        assert "What if 35 cows" in part(app, "asked")
        assert "short 35" in part(app, "asked")
        await press(pilot, "0")
        assert part(app, "asked") == ""
        await press(pilot, "right")
        assert "turnout 2 May" in part(app, "asked")
        await press(pilot, "down")  # another group begins as it is
        assert part(app, "asked") == ""
        assert "> Moor" in part(app, "groups")


async def test_m_shows_the_moves_and_writes_them_only_when_they_are_wanted(
    app: ReadinessApp, tmp_path: Path
) -> None:
    path = tmp_path / "bulls.duckdb"

    def joined() -> list[str]:
        return [e.body["bull"] for e in standing(desk_at(path).book) if e.kind == "join"]

    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        before = joined()
        await press(pilot, "v", "m")
        assert "B 2 (reserve there) works in Hill" in screen_text(app)
        await press(pilot, "escape")
        assert joined() == before
        await press(pilot, "m", "enter")  # the first line leaves all as it is
        assert joined() == before
        await press(pilot, "m", "y")
        await until(pilot, lambda: "short" not in part(app, "groups"))
        assert joined() == [*before, "B 2"]
        await press(pilot, "u", "y")
        await until(pilot, lambda: "short by" in part(app, "groups"))
        assert joined() == before


async def test_where_nothing_can_be_mended_it_says_so(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", [cows(70), *bull("B 1")]))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "v", "m", "l")
        assert any(told.message == NO_MOVE for told in app._notifications)
        assert any("No later turnout" in told.message for told in app._notifications)
        assert NO_MOVE in part(app, "shown") and "mends it" not in part(app, "shown")


async def test_m_says_whether_nothing_is_short_or_whom_to_let_out_in_the_season(
    tmp_path: Path,
) -> None:
    out = said("moved", ON, "B 1", act="out")
    short = [cows(70, turnout=ON), *bull("B 1"), out]
    for lines, told in (([cows(30), *bull("B 1")], "Nothing is short here."), (short, IN_SEASON)):
        path = tmp_path / f"{len(lines)}.duckdb"
        app = crush_app(desk_at(path, lines))
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            if told == IN_SEASON:
                assert "mends it" not in screen_text(app)
            await press(pilot, "v", "m")
            assert [note.message for note in app._notifications] == [told]


async def test_a_later_turnout_that_would_do_is_told_and_l_shows_it(tmp_path: Path) -> None:
    late = [*bull("B 2"), walk("2026-04-27", 2, tag="B 2", limb="LF")]  # from 4 May
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", [cows(70), *bull("B 1"), *late]))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        shown = " ".join(part(app, "shown").split())
        assert "What a later turnout would do (l shows it, w writes it)" in shown
        assert "turnout put off to 4 May (3 days): enough, if every check passes" in shown
        await press(pilot, "l")
        assert "What if turnout 4 May: carried by turnout 35 → 70, short 35 → 0" in part(
            app, "asked"
        )


async def test_w_writes_the_later_turnout_once_that_is_chosen_and_u_takes_it_back(
    tmp_path: Path,
) -> None:
    path = tmp_path / "bulls.duckdb"
    late = [*bull("B 2"), walk("2026-04-27", 2, tag="B 2", limb="LF")]  # from 4 May
    app = crush_app(desk_at(path, [cows(70), *bull("B 1"), *late]), poll=POLL)

    def turnouts() -> list[str]:
        return [e.body["turnout"] for e in standing(desk_at(path).book) if e.kind == "group"]

    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "v", "w")
        assert "turnout put off to 4 May (3 days)" in " ".join(screen_text(app).split())
        await press(pilot, "escape")
        assert turnouts() == ["2026-05-01"]
        await press(pilot, "w", "enter")  # the first line leaves all as it is
        assert turnouts() == ["2026-05-01"]
        await press(pilot, "w", "y")
        await until(pilot, lambda: "4 May" in part(app, "groups"))
        assert turnouts() == ["2026-05-01", "2026-05-04"]
        assert "short by" not in part(app, "groups")
        await press(pilot, "w")
        assert any("No later turnout" in told.message for told in app._notifications)
        await press(pilot, "u", "y")
        await until(pilot, lambda: "1 May" in part(app, "groups"))
        assert turnouts() == ["2026-05-01"]


@pytest.mark.parametrize("size", [(60, 20), (120, 40)])
async def test_in_the_season_the_bars_are_of_those_who_are_out(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    went = [said("moved", "2026-05-01", tag, act="out") for tag in ("B 0", "B 1")]
    lines = [cows(96), *team(3), *went]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines, date(2026, 5, 5)))
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, "g", "2")
        assert "96 cows: 2 out carry 70; short by 26; 1 waits" in screen_text(app)
        await press(pilot, "0", "v")
        groups = " ".join(part(app, "groups").split())
        for words in ("short by 26", "cows 96", "out 70", "waiting, GO 35"):
            assert words in groups
        shown = " ".join(part(app, "shown").split())
        assert "B 2 35 (GO); let out, they would be enough" in shown
        await press(pilot, "minus")
        assert "What if 91 cows: short 26 → 21" in part(app, "asked")


async def test_one_to_bring_in_and_who_could_stand_in_are_read_first(tmp_path: Path) -> None:
    lines = [cows(70), *team(3), cows(20, "Moor"), *bull("B 7", "Moor")]
    lines += [said("moved", "2026-05-01", tag, act="out") for tag in ("B 0", "B 1", "B 7")]
    lines += [walk("2026-05-02", 2, tag="B 1", limb="LF")]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines, date(2026, 5, 2)))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        assert "Moor, out since 1 May" in " ".join(screen_text(app).split())
        shown = " ".join(part(app, "shown").split())
        assert shown.startswith("today 1 out carries 35: 35 females without a bull bring in B 1:")
        assert "could stand in B 2 (not let out yet) today" in shown and NO_MOVE not in shown
        assert "B 2 (not let out yet) today" in " ".join(screen_text(app).split())


async def test_bulls_out_though_no_season_is_under_way_are_named_first(tmp_path: Path) -> None:
    lines = [*SHORT, *bull("B 9", None), said("moved", "2026-04-27", "B 9", act="out")]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        groups = " ".join(part(app, "groups").split())
        assert groups.startswith("! still out: B 9: no season of their group is under way >")
        assert "After the season" not in groups


@pytest.mark.parametrize("size", [(60, 20), (120, 40)])
async def test_those_whose_season_is_over_stand_behind_the_groups(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    def moved(act: str, on: str) -> Line:
        return said("moved", on, "B 1", act=act)

    lines = [cows(70, weeks=9), *bull("B 1"), cows(30, "Moor", "2026-09-01")]
    lines += [
        moved("out", "2026-05-01"),
        moved("in", "2026-07-03"),
        join("B 1", "Moor", "2026-07-04"),
    ]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines, date(2026, 8, 30)))
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        assert "> Moor" in part(app, "groups") and "After the season: calves due, exam due" in part(
            app, "groups"
        )
        await press(pilot, "down", "plus", "right", "m", "t", "l")  # nothing of a group's
        assert "> After the season: calves due, exam due" in part(app, "groups")
        shown = " ".join(part(app, "shown").split())
        assert "exam due B 1, last passed 1 Apr" in shown and "holds and clears nobody" in shown
        await press(pilot, "down")
        assert "> Moor" in part(app, "groups")
        assert "what if" not in part(app, "asked").lower()


async def test_groups_of_one_name_are_told_apart_by_their_farm(tmp_path: Path) -> None:
    lines = [cows(70, farm="Keld"), cows(30, farm="Muker"), cows(30, "Moor", farm="Muker")]
    lines += bull("B 1", None, farm="Keld")
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "v", "down", "down")
        groups = " ".join(part(app, "groups").split())
        assert "Hill at Keld, 1 May" in groups and "Hill at Muker, 1 May" in groups
        assert "> Moor at Muker, turnout Fri 1 May" in groups


async def test_without_groups_it_says_how_to_write_one(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", bull("B 1", None)))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "v", "m", "plus", "down")
        assert "readiness group" in " ".join(part(app, "groups").split())


async def test_what_is_carried_is_plotted_by_day_where_the_terminal_shows_it(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(120, 60)) as pilot:
        await settled(pilot)
        await press(pilot, "v")
        await pilot.pause()
        assert app.screen.query_one(Capacity).display
        assert "1 May" in screen_text(app)
