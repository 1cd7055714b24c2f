"""One bull on the screen: why, what would make him ready, his feet, his scores, his history."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.containers import VerticalScroll

from readiness.tui.app import ReadinessApp
from readiness.tui.bull.screen import SECTIONS, BullScreen
from tests.tui.driver import make_app, press, screen_lines, screen_text, settled, under_cursor
from tests.tui.estate import ago, bull, desk_at, estate, of
from tests.volume import sampled

BIG = (160, 120)


@pytest.fixture
def app(tmp_path: Path) -> ReadinessApp:
    return make_app(desk_at(tmp_path / "bulls.duckdb", estate()))


async def test_the_bull_says_why_and_what_comes_next(app: ReadinessApp) -> None:
    async with app.run_test(size=BIG) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "enter")
        text = screen_text(app)
        assert "B R O C K" in text
        assert "Charolais, 3 years" in text
        assert "Hill cows" in text
        assert "■ HOLD for a reason" in text
        assert "lame LH since 22 Feb" in text
        assert "block on LH outer since 4 Mar" in text
        assert "sole ulcer LH inner, moderate, open since 4 Mar" in text
        assert "block off LH outer 3 Apr" in text  # a stop of the chain
        assert "7 days" in text
        assert "could go 10 Apr" in " ".join(text.split())
        assert "if all is done and every check passes" in " ".join(text.split())
        assert "24 days overdue (was due 10 Mar)" in text


async def test_the_feet_are_drawn_with_the_block_and_the_finding_at_its_zone(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=BIG) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "enter")
        lines = screen_lines(app)
        names = next(line for line in lines if "LH left hind, lifted 4 Mar" in line)
        assert names.index("LH left hind") < names.index("RH right hind")
        ulcer = next(line for line in lines if "■SU2" in line)
        block = next(line for line in lines if "BLOCK" in line)
        assert block.index("BLOCK") < ulcer.index("■SU2")  # outer is left of inner on a left foot
        assert "SU sole ulcer LH inner, moderate, zone 4" in screen_text(app)


async def test_the_scores_are_plotted_with_the_window_that_counts(app: ReadinessApp) -> None:
    async with app.run_test(size=BIG) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "enter")
        text = screen_text(app)
        assert "last 1 on 19 Mar LH" in text
        assert "24 Apr to 8 May" in text
        assert "held outside 2.5 to 4" in text
        assert "one counts from 8 Apr to 8 May" in text


@sampled("size", [(60, 40), (120, 60)])
async def test_the_vets_last_examination_stands_row_by_row_and_tests_say_until_when(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.add([
        {"kind": "vet-exam", "on": "2026-04-02", "bull": "00417", "outcome": "deferred",
         "again_on": "2026-05-20", "motility_pct": 25, "motility_by": "gross", "libido": "slow",
         "examined": [{"part": "penis", "how": "seen"}], "examiner": "J. Hart"},
        {"kind": "check", "on": "2026-03-01", "bull": "00417", "check": "tb", "result": "pass",
         "laboratory": "Sike", "valid_until": "2026-03-31"},
    ])  # fmt: skip
    app = make_app(desk)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        app.open("bull", "00417", ["00417"])
        await settled(pilot)
        await press(pilot, "8")
        text = " ".join(screen_text(app).split())
        assert "8 Vet's last examination, and tests" in text
        assert "examined by J. Hart" in text
        assert "the vet's word deferred, again from 20 May" in text
        assert "motility 25 %, least 60, mass motion" in text
        assert "libido slow parts examined looked at penis" in text
        assert "not written down scrotum, semen, normal sperm, feet" in text
        assert "tb: passed 1 Mar, tested by Sike; out of date: held until 31 Mar" in text


async def test_history_is_newest_first_in_words(app: ReadinessApp) -> None:
    async with app.run_test(size=BIG) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "enter")
        text = screen_text(app)
        assert text.index("Block fitted on LH outer") < text.index("Joins Hill cows")
        assert "A. Trimmer" in text


async def test_sources_name_the_rule_its_standing_and_its_source(app: ReadinessApp) -> None:
    async with app.run_test(size=BIG) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "enter", "s")
        text = screen_text(app)
        assert "block.least = 28 days" in text
        assert "published:" in text
        assert "project choice" in text
        await press(pilot, "escape")
        assert isinstance(app.screen, BullScreen)


async def test_sources_name_the_bull_by_his_tag_as_it_was_written(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "one.duckdb", [*bull("GL 41", "Ash", None)]))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "enter", "s")
        assert "Sources: why the rules say so for GL 41" in screen_text(app)


async def test_next_and_before_follow_the_board_and_come_back_to_it(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3", "enter")
        assert "R O W A N" in screen_text(app)
        await press(pilot, "n")
        assert "A L D E R" in screen_text(app)
        await press(pilot, "n")
        assert "R O W A N" in screen_text(app)
        await press(pilot, "v")
        assert "A L D E R" in screen_text(app)
        await press(pilot, "escape")
        assert under_cursor(app) == "00291"


@sampled("size", [(60, 20), (80, 24), (120, 40)])
async def test_each_section_is_reached_by_its_digit(
    app: ReadinessApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "enter")
        for number, heading in enumerate(SECTIONS.values(), start=1):
            await press(pilot, str(number))
            assert heading in screen_text(app)
        body = app.screen.query_one("#body", VerticalScroll)
        assert body.max_scroll_x == 0
        assert body.scroll_y > 0


async def test_caution_stands_in_the_head(app: ReadinessApp) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "enter")
        assert "! DANGEROUS" in "\n".join(screen_lines(app)[:3])


async def test_a_bull_with_nothing_written_down_says_so(app: ReadinessApp) -> None:
    async with app.run_test(size=BIG) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"wren", "enter", "enter")
        text = screen_text(app)
        assert "Nothing holds him today." in text
        assert "His walk has never been scored." in text
        assert "never lifted" in text
        assert "No open findings, no blocks, no wraps." in text


@pytest.mark.parametrize("way", [["enter"], ["enter", "c"]], ids=["bull", "crush"])
@pytest.mark.parametrize(
    "group", ["Hill cows", "Cows of the autumn, upper hill", "Maiden heifers bought at Michaelmas"]
)
async def test_the_day_of_turnout_never_leaves_his_head(
    tmp_path: Path, way: list[str], group: str
) -> None:
    tag, farm = "UK 700914 700336", "Sallow Fell"
    desk = desk_at(tmp_path / "bulls.duckdb")
    desk.add([
        {"kind": "group", "on": ago(9), "group": group, "turnout": "2027-01-02", "farm": farm},
        *bull(tag, "Drover", None, breed="Beef Shorthorn", born=ago(1500), temper="watch"),
        {"kind": "join", "on": ago(8), "bull": tag, "group": group, "role": "reserve"},
        of(tag, "weight", 7, kg=1070),
    ])  # fmt: skip
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, *way)
        head = " ".join("".join(line[18:]) for line in screen_lines(app)[:6])
        assert "turnout 2 Jan 2027" in " ".join(head.split()), screen_text(app)
        assert "1070 kg" in " ".join(head.split())
