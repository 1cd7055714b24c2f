"""On the real screen: the list of the day's bulls, and what was said given to another one."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.crush.keys import LEAVE_AGAIN
from readiness.desk.desk import Desk
from readiness.tui.crush.roll import KEYS, Roll
from tests.build import standing
from tests.tui.crush_driver import crush_app, crush_of, line_of, quickly, to_crush
from tests.tui.driver import press, screen_lines, screen_text, squeezed
from tests.tui.estate import DAY, bull, desk_at, done, estate
from tests.volume import sampled

SIZES = [(60, 20), (80, 24), (120, 40)]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


@sampled("size", SIZES, ids=str)
async def test_the_list_is_readable_at_every_size(desk: Desk, size: tuple[int, int]) -> None:
    app = crush_app(desk)
    async with app.run_test(size=size) as pilot:
        await to_crush(pilot, "1", "x", "enter", "enter", "s", "escape", "tab")
        assert isinstance(app.screen, Roll)
        shown = squeezed(app)
        for words in (
            "Today'sbulls",
            "wait,andareleftoveriftheday",
            "1■00002Sorrel!inthecrush;halfen",
            "leftover:1",
            "4■00417Corran!LFwouldnotlift",
            "hiskeyorEnterbringshim,Escgoesback",
        ):
            assert words in shown
        assert all(len(line) <= size[0] for line in screen_lines(app))
        await press(pilot, "escape")
        assert crush_of(pilot).session.key == "UK123456700002"


async def test_one_key_there_brings_a_bull_and_so_do_the_arrows(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "tab", "4")
        assert (app.screen, screen.session.key) == (screen, "00777")
        await press(pilot, "tab", "down", "enter")
        assert screen.session.key == "00417"
        await press(pilot, "tab", "tab", "tab", "q", "tab", "9")
        assert isinstance(app.screen, Roll)


async def test_a_bull_who_is_left_over_is_not_counted_as_done_above(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "1", "x", "enter", "enter")
        assert "0 done, 3 in the race" in screen_text(app)
        await press(pilot, "tab")
        assert "left over: 1" in screen_text(app)


async def test_the_line_under_the_cursor_is_told_in_full(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(60, 20)) as pilot:
        await to_crush(pilot, "w", "2", "1", "c", "3", "2", "tab")
        assert "00417 Corran: in the crush; half entered (walk 2 " in screen_text(app)
        assert " lf; cond 3.25): lift LF " in screen_text(app)


@pytest.mark.long
async def test_with_more_bulls_than_keys_each_key_is_one_bull_and_the_others_have_arrows(
    tmp_path: Path,
) -> None:
    tags = [f"0{number}" for number in range(600, 645)]
    herd = [e for tag in tags for e in (*bull(tag, "", "Heifers"), *done(tag, walk=None))]
    desk = desk_at(tmp_path / "bulls.duckdb", [*estate()[:2], *herd])
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "tab", "z")
        assert screen.session.race.keys[0] == sorted(tags)[len(KEYS) - 1]
        await press(pilot, "tab", "end", "enter")
        assert screen.session.race.keys[0] == sorted(tags)[-1]


async def test_where_no_bull_waits_the_list_says_so(tmp_path: Path) -> None:
    herd = [*bull("00900", "Ready", None), *done("00900")]
    desk = desk_at(tmp_path / "bulls.duckdb", herd)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "tab")
        assert "Today no bull waits and none is done" in screen_text(app)
        await press(pilot, "a", "enter", "tab")
        assert crush_of(pilot) is app.screen


async def test_a_bull_saved_by_mistake_is_another_s_by_y_and_the_end_of_his_tag(
    desk: Desk,
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter", "y", *"777")
        asks = "Saved of 00417 Corran: to 00777 Wren? Enter gives it to him."
        assert asks in screen_text(app)
        await press(pilot, "enter")
        said = [entry.bull for entry in standing(desk.book) if entry.day == DAY.toordinal()]
        assert said == ["00777"]
        assert "saved 00777 Wren, not 00417 Corran" in " ".join(screen_text(app).split())
        assert list(screen.session.handled) == ["00777"]
        await press(pilot, "u")
        said = [entry.bull for entry in standing(desk.book) if entry.day == DAY.toordinal()]
        assert said == ["00417"]
        assert list(screen.session.handled) == ["00417"]


async def test_of_two_that_may_be_meant_the_list_asks_which_was_the_wrong_bull(
    desk: Desk,
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter", "w", "0", "y")
        text = " ".join(screen_text(app).split())
        assert "What was said of the wrong bull?" in text
        assert "h half entered of 00002 Sorrel: walk 0" in text
        assert "s saved of 00417 Corran: all ok" in text
        await press(pilot, "h", *"777", "enter")
        assert (screen.session.key, line_of(screen)) == ("00777", "walk 0")


@pytest.mark.parametrize("tag", ["288", "1777"], ids=["2 first", "1 first"])
async def test_a_tag_typed_by_heart_gives_no_saved_words_away(desk: Desk, tag: str) -> None:
    """Where both may be meant, its first digit would have chosen which."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter", "w", "0", "y")
        await press(pilot, *tag, "enter", "escape", "escape")
        said = [entry.bull for entry in standing(desk.book) if entry.day == DAY.toordinal()]
        assert said == ["00417"]
        assert (screen.session.key, line_of(screen)) == ("UK123456700002", "walk 0")


@pytest.mark.parametrize("opens", ["tab", "v", "g", "y", "e", "f1"])
async def test_an_escape_too_many_on_a_dialog_does_not_leave_the_crush(
    desk: Desk, opens: str
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter", "w", "0", opens)
        assert app.screen is not screen
        app.ticks = lambda: 1e6
        await quickly(pilot, "escape", "escape")
        assert app.screen is screen and LEAVE_AGAIN in screen_text(app)
        app.ticks = lambda: 1e6 + 1
        await press(pilot, "escape")
        assert app.screen is not screen


async def test_on_the_way_out_half_entered_bulls_are_named(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "w", "0", "n", "n")
        assert "1 half entered" in screen_text(app)
        assert "00417 Corran (half entered)" in screen_text(app)
        await press(pilot, "q")
        assert "Half entered and not saved: 00417 Corran." in " ".join(screen_text(app).split())
        await press(pilot, "escape")
        assert screen not in app.screen_stack
        told = [notice.message for notice in app._notifications]
        assert told == ["Half entered and not saved: 00417 Corran."]
