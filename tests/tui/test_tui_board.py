"""The board on the screen: what it says, sorted, narrowed, found, and kept up to date."""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.book import Book
from readiness.book.drafts import Draft, Drafts
from readiness.entries.entry import NewEntry
from readiness.entries.ids import typed_id
from readiness.entries.validate import validate
from readiness.report.board_text import board_text
from readiness.report.look import Look
from readiness.report.rows import aloud, rows
from readiness.system.width import cells
from readiness.tui.app import ReadinessApp
from readiness.tui.board.head import peek
from readiness.tui.board.table import _why as said_why
from readiness.tui.shared.looks import Glyphs
from tests.tui.driver import (
    board_of,
    keys_shown,
    make_app,
    press,
    resized,
    screen_lines,
    screen_text,
    settled,
    under_cursor,
    until,
)
from tests.tui.estate import CLOCK, ago, ahead, bull, desk_at, done, estate, of
from tests.volume import sampled

BOARD_ORDER = [
    "00122", "00417", "UK123456700002", "00093", "00777", "00310", "00501", "00288", "00291",
]  # fmt: skip


@pytest.fixture
def app(tmp_path: Path) -> ReadinessApp:
    return make_app(desk_at(tmp_path / "bulls.duckdb", estate()))


async def test_the_board_says_who_is_held_why_and_what_comes_next(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        text = screen_text(app)
        assert keys_shown(app) == BOARD_ORDER
        lines = screen_lines(app)
        corran = next(line for line in lines if "00417 Corran" in line)
        assert corran.startswith("■  00417 Corran")
        assert "lame LF since 1 Apr" in corran
        assert "lift LF" in corran
        assert "8 Apr" in corran
        assert "□  00310 Fenwick" in text
        assert "●  00288 Rowan" in text and "●! 00291 Alder" in text
        assert "■ HOLD for a reason  □ HOLD checks to come  ● GO" in text
        assert "The vet decides" in text
        assert "Fri 3 Apr 2026" in lines[0]


async def test_a_group_line_counts_each_state_and_what_is_overdue(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        heifers, hill = screen_lines(app)[1:3]
        assert " ".join(heifers.split()) == ("Heifers turnout 9 Apr, in 6 days 5 bulls 2 ■ 1 □ 2 ●")
        assert " ".join(hill.split()).startswith(
            "Hill cows turnout 8 May, in 35 days 3 bulls 2 ■ 1 □ 0 ●"
        )
        assert hill.endswith("overdue")


async def test_whether_the_bulls_are_enough_stands_under_the_groups(tmp_path: Path) -> None:
    """Of one group in words, of several which are short or that none is; beside each what its bulls
    carry, where there is room."""
    hill = {"kind": "group", "on": ago(3), "group": "Hill cows", "farm": "Sallow Fell",
            "turnout": ahead(35)}  # fmt: skip
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    async with app.run_test(size=(100, 24)) as pilot:
        await settled(pilot)
        (said,) = [line for line in screen_lines(app) if "40 heifers" in line]
        assert said.startswith(" Heifers: 40 heifers: 2 GO bulls carry")
        app.desk.add([{**hill, "females": 30}])
        await press(pilot, "r")
        assert " bulls enough for 2 groups; v shows how sure that is" in screen_lines(app)
        app.desk.add([{**hill, "females": 300}])
        await press(pilot, "r")
        lines = screen_lines(app)
        assert lines[2].startswith(" Hill cows") and "of 300" in lines[2]
        assert lines[3].startswith(" short of bulls: Hill cows by ")
        assert lines[3].endswith("v shows whether a move mends it")
        await resized(pilot, 60, 20)
        assert "of 300" not in screen_lines(app)[2]
        await press(pilot, "g", "3")
        words = " ".join(screen_text(app).split())
        assert "300 cows: no bull is GO; " in words and "short by" in words


async def test_two_short_groups_of_one_name_are_told_apart_and_after_turnout_nobody_is_moved(
    tmp_path: Path,
) -> None:
    two = [
        {"kind": "group", "on": ago(9), "group": "Heifers", "farm": farm, "turnout": turnout,
         "females": 20}
        for farm, turnout in (("Keld", ago(2)), ("Moss", ago(3)))
    ]  # fmt: skip
    lines = [*two, *bull("UK 1", "Birch", None)]
    app = make_app(desk_at(tmp_path / "bulls.duckdb", lines), poll=3600)
    async with app.run_test(size=(100, 24)) as pilot:
        await settled(pilot)
        told = " short of bulls: Heifers at Moss by 20, Heifers at Keld by 20; v shows who could"
        assert any(line.startswith(told) for line in screen_lines(app))
    carried = app.desk.reading().cover().groups
    text = board_text(app.desk.board(), app.desk.rules(), Look(80), carried)
    assert "! Heifers at Moss: 20 cows" in text


async def test_of_many_groups_the_first_stand_and_the_others_are_counted(tmp_path: Path) -> None:
    groups = [
        {"kind": "group", "on": ago(9), "group": f"Team {number}", "turnout": ahead(number)}
        for number in range(1, 13)
    ]
    app = make_app(desk_at(tmp_path / "bulls.duckdb", [*estate(), *groups]))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        lines = screen_lines(app)
        assert [line.split()[:2] for line in lines[1:4]] == [["Team", str(n)] for n in (1, 2, 3)]
        assert lines[4] == " and 11 more groups; g chooses"
        assert keys_shown(app) == BOARD_ORDER


@sampled("width", [60, 69, 70, 80, 100, 120])
async def test_the_legend_explains_the_day_he_could_go_where_the_table_says_it(
    app: ReadinessApp, width: int
) -> None:
    async with app.run_test(size=(width, 24)) as pilot:
        await settled(pilot)
        said = " ".join(screen_text(app).split())
        heads = next(line for line in screen_lines(app) if " bull " in line and " why " in line)
        assert ("could go: if all checks pass" in said) == ("could go" in heads)
        assert "The vet decides." in said and "dangerous" in said


async def test_what_is_overdue_carries_its_mark(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert "! vet look" in next(line for line in screen_lines(app) if "00093" in line)
        assert "! " not in next(line for line in screen_lines(app) if "00288" in line)


async def test_l_shows_only_the_bulls_with_a_foot_to_lift_and_what_it_is_lifted_for(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        said = " to lift by 10 Apr: Sorrel RF, Corran LF, Brock LH; l shows them"
        assert said in screen_lines(app)
        await press(pilot, "l")
        keys = sorted(keys_shown(app))  # Wren is in no group: nothing says by when he is lifted
        assert keys == ["00093", "00417", "UK123456700002"]
        brock = next(line for line in screen_lines(app) if "00093" in line)
        assert "look LH inner" in brock
        assert "walk again" not in brock
        assert "3 of 9 bulls, a foot to lift this week" in screen_text(app)
        await press(pilot, "l")
        assert keys_shown(app) == BOARD_ORDER


async def test_under_the_cursor_stands_all_that_is_due_within_the_week(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        await press(pilot, "down")
        assert under_cursor(app) == "00417"
        [said] = [line for line in screen_lines(app) if line.startswith(" this week:")]
        assert said.startswith(" this week: lift LF by today (trimmer); walk by 9 Apr (farmer)")


def test_no_day_is_cut_in_two_under_the_cursor(tmp_path: Path) -> None:
    """Half a year, or a day without its month, reads as another day."""
    seen = 0
    for row in rows(desk_at(tmp_path / "bulls.duckdb", estate()).board()):
        whole = peek(row, 400, Glyphs()).plain
        for width in range(60, 120):
            for line in peek(row, width, Glyphs()).plain.splitlines():
                kept = line.removesuffix("…")
                assert cells(line) < width and kept in whole
                if kept != line:
                    seen += 1
                    assert whole[whole.index(kept) + len(kept)] in ";, ", line
                    assert not kept.split()[-1].isdecimal(), line
    assert seen


async def test_the_farm_s_own_rules_are_named_on_the_board(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.rules_path = tmp_path / "bulls.toml"
    desk.rules_path.write_text("[rules]\n'vet.oldest' = 45\n")
    app = make_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert "Your own rules: vet.oldest 45 days instead of 60 days" in screen_text(app)


async def test_a_go_with_more_to_ask_first_than_fits_says_how_much_more(app: ReadinessApp) -> None:
    """Of three cautions the line told one, and looked as if that were all."""
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        board = board_of(app).board
        assert board is not None
        row = next(row for row in rows(board) if row.mark == "care")
    twice = row._replace(of=row.of._replace(advice=row.of.advice * 2))
    more = 2 * len(aloud(row.of)) - 1
    room = len(row.forms[-1]) + 3
    assert said_why(twice, Glyphs(), room)[0] == f"{row.forms[-1]} +{more}"
    assert said_why(row, Glyphs(), 300)[0] == row.forms[0]


async def test_a_bull_to_be_careful_of_is_marked_and_said(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert under_cursor(app) == "00122"
        text = screen_text(app)
        assert "00122 Tarn !" in text
        assert "! DANGEROUS" in text
        await press(pilot, "down")
        assert "! watch him" in screen_text(app)


async def test_a_long_name_does_not_hide_the_mark_of_caution(tmp_path: Path) -> None:
    named = [*bull("00417", "Corran of the Long Fell", None, temper="dangerous"), *done("00417")]
    app = make_app(desk_at(tmp_path / "bulls.duckdb", named))
    for width in (60, 80, 120):
        async with app.run_test(size=(width, 24)) as pilot:
            await settled(pilot)
            row = next(line for line in screen_lines(app) if "00417 Corran" in line and "●" in line)
            assert "… !" in row or "Long Fell !" in row
        app = make_app(desk_at(tmp_path / "bulls.duckdb"))


async def test_sorting_goes_round(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "s")
        assert "sorted by could go" in screen_text(app)
        ready = [board_of(app)._rows[key].of.earliest_ready for key in keys_shown(app)]
        assert ready == sorted(ready, key=lambda day: day or 0)
        assert len(set(ready)) > 2
        await press(pilot, "s")
        assert "sorted by day to do it" in screen_text(app)
        nothing_says_when = ("00288", "00291", "00777")
        assert all(key in nothing_says_when for key in keys_shown(app)[-3:])
        await press(pilot, "s")
        assert "sorted by tag" in screen_text(app)
        assert keys_shown(app) == sorted(BOARD_ORDER)
        await press(pilot, "s")
        assert keys_shown(app) == BOARD_ORDER


async def test_a_reading_that_is_over_is_not_said_to_go_on(app: ReadinessApp) -> None:
    """The moment to say that it takes long can come just when it has ended: the line would say so
    for good, and hide what it is for."""
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        app.board_screen._say_slow()
        await press(pilot, "3")
        assert "Reading the book" not in screen_text(app)
        assert "2 of 9 bulls" in screen_text(app)


async def test_each_state_alone_by_digit_and_in_turn(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        assert keys_shown(app) == ["00288", "00291"]
        assert "2 of 9 bulls" in screen_text(app)
        await press(pilot, "3")
        assert keys_shown(app) == BOARD_ORDER
        await press(pilot, "f")
        assert keys_shown(app) == BOARD_ORDER[:4]
        await press(pilot, "f")
        assert keys_shown(app) == BOARD_ORDER[4:7]
        await press(pilot, "escape")
        assert keys_shown(app) == BOARD_ORDER


async def test_one_group_alone(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "g")
        assert "Hill cows, Sallow Fell" in screen_text(app)
        await press(pilot, "3")
        assert set(keys_shown(app)) == {"UK123456700002", "00093", "00501"}
        await press(pilot, "g", "4")
        assert keys_shown(app) == ["00777"]
        await press(pilot, "g", "escape")
        assert keys_shown(app) == ["00777"]
        await press(pilot, "g", "enter")
        assert keys_shown(app) == BOARD_ORDER


async def test_finding_by_tag_and_by_name_and_giving_it_up(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", "f", "n", "w", "k")
        assert keys_shown(app) == ["00310"]
        await press(pilot, "escape")
        assert keys_shown(app) == BOARD_ORDER
        await press(pilot, "slash", *"700002")
        assert keys_shown(app) == ["UK123456700002"]
        await press(pilot, "enter")
        assert under_cursor(app) == "UK123456700002"
        await press(pilot, "enter")
        assert "S O R R E L" in screen_text(app)


async def test_letters_typed_while_finding_are_no_keys(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", "q", "g", "p")
        assert app.is_running
        assert len(app.screen_stack) == 1
        assert keys_shown(app) == []
        assert "0 of 9 bulls" in screen_text(app)


def write_elsewhere(path: Path, *contents: dict[str, object]) -> None:
    """Another window on the same book writes."""
    new = []
    for content in contents:
        checked, wrong = validate(content)
        assert checked is not None, wrong
        new.append(NewEntry(typed_id(CLOCK.now()), checked))
    Book(path, CLOCK, device="another desk").append(new, "somebody else")


async def test_what_another_window_writes_shows_by_itself_and_the_cursor_stays(
    tmp_path: Path,
) -> None:
    path = tmp_path / "bulls.duckdb"
    app = make_app(desk_at(path, estate()), poll=0.02)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "down", "down", "down", "down", "down")
        assert under_cursor(app) == "00310"
        lame = of("00288", "mobility", 0, scale="gb0-3", score=3, limb="RH")
        write_elsewhere(path, *bull("00001", "Ash", "Heifers"), *done("00001"), lame)
        await until(pilot, lambda: "00001" in keys_shown(app))
        await settled(pilot)
        assert keys_shown(app).index("00288") < keys_shown(app).index("00310")
        assert "lame RH since 3 Apr" in screen_text(app)
        assert under_cursor(app) == "00310"


async def test_r_reads_again(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    app = make_app(desk_at(path, estate()), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        write_elsewhere(path, *bull("00001", "Ash", "Heifers"))
        await press(pilot, "r")
        assert "00001" in keys_shown(app)


@sampled("size", [(60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_board_fits_every_size(app: ReadinessApp, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        lines = screen_lines(app)
        tarn = next(line for line in lines if "00122" in line and "■" in line)
        assert "vet" in tarn
        assert lines[-1].endswith("? help  q quit")
        assert board_of(app).query_one("#bulls").max_scroll_x == 0


async def test_a_screen_too_small_to_be_of_use_does_no_harm(app: ReadinessApp) -> None:
    async with app.run_test(size=(24, 6)) as pilot:
        await settled(pilot)
        await press(pilot, "enter", "4", "escape", "question_mark", "escape")
        assert keys_shown(app) == BOARD_ORDER
        assert all(len(line) <= 24 for line in screen_lines(app))


async def test_a_new_size_lays_the_columns_anew(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        assert "trimmer" in screen_text(app)
        await resized(pilot, 60, 20)
        assert "slack" not in screen_text(app)
        assert "■  00122 Tarn" in screen_text(app)


async def test_every_action_is_in_the_palette_and_in_the_help(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 60)) as pilot:
        await settled(pilot)
        offered = {command.title for command in app.get_system_commands(app.screen)}
        await press(pilot, "question_mark")
        text = screen_text(app)
        for wanted in ("Sort", "Only GO", "Quit", "Help", "Find a bull by tag or name"):
            assert any(title.lower().startswith(wanted.lower()) for title in offered)
            assert wanted.lower() in text.lower()
        await press(pilot, "escape")
        await press(pilot, "p", *"only go", "enter")
        await settled(pilot)
        assert keys_shown(app) == ["00288", "00291"]


async def test_q_quits(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("q")
    assert app.return_code == 0


@sampled("name", ["雪", "🐂", "👨‍👩‍👧 ❤️", "🐂" * 30], first=2, ids=ascii)
async def test_wide_letters_and_emoji_shift_no_column_of_board_and_diary(
    tmp_path: Path, name: str
) -> None:
    stands = []
    for number, called in enumerate((name, "x" * cells(name))):
        named = {"kind": "bull", "on": ago(2), "bull": "00417", "name": called}
        app = make_app(desk_at(tmp_path / f"{number}.duckdb", [*estate(), named]))
        async with app.run_test(size=(120, 40)) as pilot:
            await settled(pilot)
            board = screen_lines(app)
            (head,) = (line for line in board if "why" in line and "could go" in line)
            assert (_at(board, "lame LF"), _at(board, "lift LF")) == (
                head.index("why"),
                head.index("next"),
            )
            await press(pilot, "d")
            stands.append(_at(screen_lines(app), "lift LF"))
    assert stands[0] == stands[1]


def _at(lines: list[str], words: str) -> int:
    """The cell of his line in which the words stand."""
    line = next(line for line in lines if "00417" in line and words in line)
    return cells(line[: line.index(words)])


async def test_who_is_half_entered_after_a_crash_is_said_below_the_board(tmp_path: Path) -> None:
    """Of what was typed and not saved the board's lines show nothing: it looks as if it were."""
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    drafts = Drafts(desk.book.path)
    drafts.put(Draft("00417", "lf o su", desk.on.isoformat()))
    drafts.close()
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        told = "Half entered in the crush, not saved: 00417 Corran."
        assert told in screen_text(app)
        await press(pilot, "f")
        assert told not in screen_text(app), "how many of how many are in view stands there"
        await press(pilot, "escape")
        assert told in screen_text(app)
