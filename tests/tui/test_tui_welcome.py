"""The first run: nothing there yet, and three ways to begin."""

from __future__ import annotations

import json
from datetime import date
from itertools import count
from pathlib import Path

import pytest
from textual.events import Key, Paste
from textual.widgets import Input

from readiness.book import Book
from readiness.desk.demo import build_demo
from readiness.desk.desk import Desk
from readiness.engine.warnings.history import NOT_SAID_SAFE
from readiness.forms.first import pasted, tags_in, tags_words
from readiness.system.errors import DataError
from readiness.trade.tags import tag_problem
from readiness.tui.welcome.screen import Welcome
from tests.build import standing
from tests.tui.crush_driver import at_pace, crush_app
from tests.tui.driver import (
    keys_shown,
    make_app,
    press,
    screen_lines,
    screen_text,
    settled,
    squeezed,
)
from tests.tui.estate import CLOCK, ago, desk_at, estate


async def test_a_book_that_has_gone_from_beside_its_journal_is_no_first_start(
    tmp_path: Path,
) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    app = make_app(desk)
    desk.book.path.unlink()
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert isinstance(app.screen, Welcome)
        said = squeezed(app)
        assert "standsnobook,butthejournalofone" in said and "salvage" in said
        assert "writedownagroupanditsbulls" in said


async def test_a_missing_book_is_welcomed_and_nothing_is_written(tmp_path: Path) -> None:
    path = tmp_path / "none" / "bulls.duckdb"
    app = make_app(desk_at(path))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert isinstance(app.screen, Welcome)
        text = screen_text(app)
        for words in ("look at the demo", "import a file", "write down a group and its bulls"):
            assert words in text
        await press(pilot, "escape")
        assert len(app.screen_stack) == 1
        assert "There is no book" in screen_text(app)
        assert "w begins one" in screen_text(app)
        await press(pilot, "w")
        assert isinstance(app.screen, Welcome)
    assert not path.parent.exists()


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_it_speaks_of_rosters_and_fits(tmp_path: Path, size: tuple[int, int]) -> None:
    """Each line whole, down to the last: what names a way out must not be cut."""
    app = make_app(desk_at(tmp_path / "bulls.duckdb"))
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        text = screen_text(app)
        for words in ("a roster (.xlsx, .csv) or entries (.jsonl)", "kept apart", "q: quit"):
            assert words in text
        await press(pilot, "2")
        assert "Import a roster or entries, all or nothing" in screen_text(app)


Keys = list[str]


def typed(text: str) -> Keys:
    """The keys that write a text, and Enter."""
    return ["space" if key == " " else key for key in text] + ["enter"]


def group_page(group: str, turnout: str, females: str = "", farm: str = "") -> Keys:
    return ["3", *typed(group), *typed(turnout), *typed(females), *typed(""), *typed(farm)]


async def begun(path: Path, keys: Keys, size: tuple[int, int] = (80, 24)) -> tuple[Desk, str]:
    """The book's desk and the board, after these keys in an empty book."""
    desk = desk_at(path)
    app = crush_app(desk, poll=3600)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, *keys)
        assert len(app.screen_stack) == 1, screen_text(app)
        return desk, screen_text(app)


async def test_from_an_empty_book_to_a_real_first_board_in_under_sixty_keys(tmp_path: Path) -> None:
    """Group, turnout, females, a whole tag, name, year of birth, temper and breed."""
    tags = typed("UK 123456 700002")
    of_him = [*typed("2022"), *typed("Corran"), *typed("2"), *typed("Limousin"), *typed(""),
              *typed("")]  # fmt: skip
    keys = [*group_page("Cows", "9 may", "30"), *tags, *of_him]
    assert len(keys) < 60
    desk, text = await begun(tmp_path / "new" / "bulls.duckdb", keys)
    assert "Cows" in text and "Corran" in text
    assert "turnout 9 May, in 36 days" in text
    by = {"on": "2026-04-03", "by": "A. Trimmer"}
    tag = {"bull": "UK 123456 700002", **by}
    assert [entry.body for entry in standing(desk.book)] == [
        {"kind": "group", "group": "Cows", "turnout": "2026-05-09", "females": 30, **by},
        {"kind": "bull", **tag},
        {"kind": "join", "group": "Cows", **tag},
        {"kind": "bull", "name": "Corran", "breed": "Limousin", "temper": "watch",
         "born": "2022-12-31", "born_from": "2022-01-01", **tag},
    ]  # fmt: skip


async def test_the_board_stands_after_the_tags_alone(tmp_path: Path) -> None:
    keys = [*group_page("Heifers", "16/5/26"), *typed("347, 348")]
    assert len(keys) < 35
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, *keys)
        asked = screen_text(app)
        await press(pilot, "escape")
        text = screen_text(app)
    assert "347" in text and "348" in text
    assert standing(desk.book)[0].body["class"] == "heifers"  # by its name
    assert "safe on heifers" in asked
    assert len({entry.batch for entry in standing(desk.book)}) == 1  # one undo takes it back


@pytest.mark.parametrize(
    ("name", "of"), [("Hfrs", "heifers"), ("Cows (ex heifers)", "cows"), ("Late", "cows")]
)
async def test_the_first_pages_say_what_a_group_counts_as(
    tmp_path: Path, name: str, of: str
) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page(name, "16/5/26"))
        assert f"Into{name.replace(' ', '')},agroupof{of},turnoutSat16May" in squeezed(app)


async def test_a_group_that_is_there_keeps_its_class_whatever_its_name_says(
    tmp_path: Path,
) -> None:
    hfrs = {"kind": "group", "on": "2026-04-01", "group": "Hfrs", "turnout": "2026-05-16"}
    desk = desk_at(tmp_path / "bulls.duckdb", [{**hfrs, "class": "cows"}])
    app = crush_app(desk)  # no key comes too soon
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "w", *group_page("Hfrs", "20/5/26"), "enter")
        assert "IntoHfrs,agroupofcows" in squeezed(app)
        await press(pilot, *typed("347"), "escape")
    assert [group.category for group in desk.groups().values()] == ["cows"]


async def test_of_several_bulls_those_of_whom_it_is_not_said_are_named(tmp_path: Path) -> None:
    """It read as if what was said of the first had been lost."""
    page = [*typed("2022"), *[*typed("")] * 5]
    keys = [*group_page("Heifers", "16/5/26"), *typed("347, 348, 349")]
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        for safe in ("y", "", ""):
            await press(pilot, *keys, *typed(""), *page, *typed(safe))
            keys = []
        told = " ".join(each.message for each in app._notifications)
    assert f"348 and 349: Heifers is a group of heifers, and {NOT_SAID_SAFE}" in told


@pytest.mark.parametrize("safe", ["y", "n", ""], ids=["safe", "not safe", "not said"])
async def test_whether_he_is_safe_on_heifers_is_not_told_as_unsaid_where_the_page_said_it(
    tmp_path: Path, safe: str
) -> None:
    keys = [*group_page("Heifers", "16/5/26"), *typed("347"), *typed("2022"), *[*typed("")] * 5]
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, *keys, *typed(safe))
        told = " ".join(each.message for each in app._notifications)
    assert (NOT_SAID_SAFE in told) == (not safe), told
    assert ("heifer_safe" in standing(desk.book)[-1].body) == bool(safe)


@pytest.mark.parametrize("typed_name", ["2022", "3 years", "mar 2023", "14/3/23", "22"])
async def test_a_birth_typed_for_his_name_is_asked_about_and_kept_by_enter_again(
    tmp_path: Path, typed_name: str
) -> None:
    path = tmp_path / "bulls.duckdb"
    desk = desk_at(path)
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page("Cows", "9 may"), *typed("347"), "enter", *typed(typed_name))
        name = app.screen.query_one("#field-name", Input)
        assert "isithisname?Enteragainkeepsit." in squeezed(app)
        assert (app.screen.focused, name.value) == (name, typed_name)
        await press(pilot, *[*typed("")] * 5)
    assert standing(desk.book)[-1].body["name"] == typed_name


async def test_whoever_types_faster_than_it_is_painted_loses_nothing(tmp_path: Path) -> None:
    """All keys at once, with a slip mended in between."""
    slip = [*typed("Cosw")[:-1], "backspace", "backspace", *typed("ws")]
    keys = ["3", *slip, *typed("9 may"), *typed("30"), *typed(""), *typed(""), *typed("347, 348")]
    keys += [*typed("2022"), *typed("Tarn"), *[*typed("")] * 4, *typed(""), *typed("Wren")]
    keys += [*typed("")] * 4
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        for key in keys[1:]:
            app.post_message(Key(key, " " if key == "space" else key if len(key) == 1 else None))
        await settled(pilot)
        assert sorted(keys_shown(app)) == ["347", "348"], screen_text(app)
    group, *bulls = (entry.body for entry in standing(desk.book))
    assert (group["group"], group["turnout"], group["females"]) == ("Cows", "2026-05-09", 30)
    assert [bull["name"] for bull in bulls if "name" in bull] == ["Tarn", "Wren"]


async def test_what_follows_a_wrong_answer_in_the_same_breath_goes_nowhere(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        for key in [*typed("Cows"), *typed("3/4"), *typed("30")]:
            app.post_message(Key(key, key if len(key) == 1 else None))
        await settled(pilot)
        assert "readstwoways" in squeezed(app)
        assert [box.value for box in app.screen.query(Input)][:3] == ["Cows", "3/4", ""]


async def test_a_list_of_tags_is_pasted(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page("Cows", "9 may", farm="Low Farm"))
        for text, said in (
            ("Tag\tName\n347\tTarn\n", "atableofseveralcolumns"),
            ("Ear tag\n UK 123456 700002\n\n00348\n00349\nuk123456700002", "3bulls:"),
            ("00350\n", "4bulls:"),  # a second list goes behind the first
        ):
            app.screen.query_one("#tags", Input).post_message(Paste(text))
            await settled(pilot)
            assert said in squeezed(app)
        await press(pilot, "enter")
        assert "3of3:UK123456700002,bull1of4" in squeezed(app)
        await press(pilot, "escape")
        assert sorted(keys_shown(app)) == ["00348", "00349", "00350", "UK123456700002"]
    assert {e.body["farm"] for e in standing(desk.book) if e.kind == "bull"} == {"Low Farm"}


async def test_a_roster_may_be_named_in_the_place_of_tags(tmp_path: Path) -> None:
    """Its bulls join the group of the first page, but where it says another; all in one batch."""
    roster = tmp_path / "my bulls.csv"
    roster.write_text("Tag,Name,DOB,Group\n347,Tarn,2022,\n348,Wren,14/3/2021,Cows\n", "utf-8")
    wrong = tmp_path / "wrong.csv"
    wrong.write_text("Tag,DOB\n347,soon\n", encoding="utf-8")
    path = tmp_path / "bulls.duckdb"
    desk = desk_at(path)
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page("Cows", "9 may"))
        tags = app.screen.query_one("#tags", Input)
        for file, said in ((tmp_path / "no.xlsx", "nosuchfile"), (wrong, '"soon"isnoday')):
            tags.value = str(file)
            await press(pilot, "enter")
            assert said in squeezed(app)
            assert not path.exists()
        tags.value = f"'{roster}'"
        await press(pilot, "enter")
        assert sorted(keys_shown(app)) == ["347", "348"]
    assert [entry.body["group"] for entry in standing(desk.book) if entry.kind == "join"] == [
        "Cows", "Cows",
    ]  # fmt: skip
    assert len({entry.body["kind"] for entry in standing(desk.book)}) == 3


async def test_the_cursor_is_where_the_message_is_about_and_no_key_empties_a_field(
    tmp_path: Path,
) -> None:
    path = tmp_path / "bulls.duckdb"
    app = make_app(desk_at(path), poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "3", *typed("Cows"), *typed("16 jna"))
        turnout = app.screen.query_one("#field-turnout", Input)
        assert '"16jna"isnotaday' in squeezed(app)
        assert app.screen.focused is turnout
        await press(pilot, "ctrl+u", "ctrl+k", "down", "tab")
        assert (turnout.value, app.screen.focused) == ("16 jna", turnout)
        await press(pilot, "backspace", "backspace", *typed("an"))
        assert turnout.value == "16 jan"
        assert app.screen.focused is app.screen.query_one("#field-females", Input)
    assert not path.exists()


async def test_going_back_loses_nothing_of_what_was_typed(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    app, seconds = make_app(desk_at(path), poll=3600), count(step=10)
    app.ticks = lambda: float(next(seconds))  # no key is one held down
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "3", *typed("Cows"), *"9 may".replace(" ", ""), "escape")
        assert isinstance(app.screen, Welcome)
        await press(pilot, "3")
        fields = [box.value for box in app.screen.query(Input)]
        assert fields[:2] == ["Cows", "9may"]
        await press(pilot, *["enter"] * 5, "enter")
        assert "atleastonebull" in squeezed(app) and "UK123456200002" in squeezed(app)
        assert tag_problem("UK 123456 200002") is None
        await press(pilot, *"34", "escape")
        assert "1of3" in squeezed(app)
        await press(pilot, *["enter"] * 5)
        assert app.screen.query_one("#tags", Input).value == "34"
        await press(pilot, "7", "enter", *"Tarn", "escape")
        assert "Notsavedyet" in squeezed(app)
        assert "3of3:347" in squeezed(app)
        await press(pilot, "escape")
        assert keys_shown(app) == ["347"]
    assert path.exists()


async def test_what_is_said_of_a_group_without_its_name_or_day_is_asked_for(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3", *typed(""), *typed(""), *typed("60"), "enter", "enter")
        assert "group:namethegroup" in squeezed(app)
        assert app.screen.focused is app.screen.query_one("#field-group", Input)
        await press(pilot, *typed("Cows"), *["enter"] * 4)
        assert "turnout:saywhen" in squeezed(app)
        assert app.screen.focused is app.screen.query_one("#field-turnout", Input)


async def test_a_group_that_is_not_there_is_asked_for_its_turnout_on_the_first_page(
    tmp_path: Path,
) -> None:
    """Else the second page refused it once a bull, and its line of keys was pushed off."""
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "w", *group_page("Hil", ""))
        assert "thereisnogroupHilyet:saywhenitisturnedout" in squeezed(app)
        assert app.screen.focused is app.screen.query_one("#field-turnout", Input)
        await press(pilot, *typed("9 may"), *["enter"] * 3)
        assert "IntoHil" in squeezed(app)


@pytest.mark.parametrize(("turnout", "farm"), [("", "LOW end"), ("12 may", ""), ("", "")])
async def test_a_group_is_the_books_whatever_its_case_and_its_farm_where_only_one_has_it(
    tmp_path: Path, turnout: str, farm: str
) -> None:
    """With a day "autumn cows" became a second group beside "Autumn cows", and without one it was
    refused."""
    keys = [*group_page("Autumn cows", "9 may", farm="Low End"), *typed("347"), "escape"]
    again = ["enter"] if turnout else []  # on another day all of it is moved
    later = ["w", *group_page("autumn cows", turnout, farm=farm), *again, *typed("348"), "escape"]
    desk, _ = await begun(tmp_path / "b.duckdb", [*keys, *later])
    assert list(desk.groups()) == [("Low End", "Autumn cows")]
    assert {bull.group for bull in desk.board().bulls} == {"Autumn cows"}
    assert {bull.farm for bull in desk.board().bulls} == {"Low End"}


async def test_a_group_that_two_farms_have_is_asked_for_its_farm(tmp_path: Path) -> None:
    keys = [*group_page("Cows", "9 may", farm="Low End"), *typed("347"), "escape"]
    more = ["w", *group_page("Cows", "9 may", farm="High End"), *typed("348"), "escape"]
    desk, _ = await begun(tmp_path / "b.duckdb", [*keys, *more])
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "w", *group_page("cows", ""))
        assert "HighEndandLowEndhaveacows:saywhoseitis" in squeezed(app)
        assert app.screen.focused is app.screen.query_one("#field-farm", Input)


async def test_a_group_is_written_without_bulls_once_that_is_asked(tmp_path: Path) -> None:
    """A roster of two groups asks for both of them first."""
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = crush_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page("Hill", "9 may"), "enter")
        assert "Enteragain:nobullyet." in squeezed(app)
        await press(pilot, "enter")
        assert [group for _, group in desk.groups()] == ["Hill"]
        assert "Hill" in screen_lines(app)[1]


async def test_a_turnout_that_is_over_is_asked_about(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page("Hill", "8 may 2020"))
        assert "Fri8May2020,2156daysago:thatisover.Enteragainkeepsit" in squeezed(app)
        assert app.screen.focused is app.screen.query_one("#field-turnout", Input)
        await press(pilot, "enter")
        assert "IntoHill" in squeezed(app)


async def test_numbers_with_blanks_between_are_one_tag_only_once_that_is_asked(
    tmp_path: Path,
) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = crush_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, *group_page("Hill", "9 may"), *typed("412 418 503"))
        assert "412418503:onetag?Iftheseareseveral,writeacommabetweentwo." in squeezed(app)
        assert not desk.book.exists()
        await press(pilot, *typed(", UK 700914 400347"))
        assert "412418503:onetag?" in squeezed(app)
        await press(pilot, "enter")
    assert sorted(bull.bull for bull in desk.board().bulls) == ["412 418 503", "UK 700914 400347"]


@pytest.mark.parametrize("way", ["2", "page"])
async def test_all_that_is_wrong_with_a_file_is_there_to_be_read(tmp_path: Path, way: str) -> None:
    """On the page of the tags the end of it was cut off."""
    wrong = tmp_path / "bulls.csv"
    rows = [f"{number},soon {number},maybe" for number in range(101, 120)]
    wrong.write_text("\n".join(["Tag,Born,Heifers", *rows]), encoding="utf-8")
    app = crush_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        if way == "page":
            await press(pilot, *group_page("Hill", "9 may"))
        else:
            await press(pilot, "2")
        line = app.screen.query_one(Input)
        line.value = str(wrong)
        await press(pilot, "enter")
        assert 'row2,columnB"Born":"soon101"' in squeezed(app)
        await press(pilot, *["down"] * 60)
        assert 'row20,columnB"Born":"soon119"' in squeezed(app)
        await press(pilot, "escape")
        assert "20thingsarewrong,nothingwaswritten." in squeezed(app)
        assert line.value == str(wrong)


async def test_a_bull_who_comes_later_joins_the_only_group_of_that_name(tmp_path: Path) -> None:
    """The farm was asked for a second time, and that only after his tag was typed."""
    keys = [*group_page("Cows", "9 may", farm="Low End"), *typed("347"), "escape"]
    later = ["w", "3", *typed("Cows"), *["enter"] * 4, *typed("348"), "escape"]
    desk, text = await begun(tmp_path / "b.duckdb", [*keys, *later])
    assert "Low End, 2 bulls" in text
    assert [e.body["farm"] for e in standing(desk.book) if e.kind == "bull"] == ["Low End"] * 2


async def test_a_bull_of_another_group_is_said_to_be_moved_before_it_is_written(
    tmp_path: Path,
) -> None:
    keys = [*group_page("Cows", "9 may", farm="Low End"), *typed("347"), "escape"]
    desk, _ = await begun(tmp_path / "b.duckdb", keys)
    app = crush_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "w", *group_page("Hill", "9 jun", farm="Low End"), *"346,347")
        assert "2 bulls: 346 and 347. Moved from another group: 347 (from Cows)" in (
            " ".join(screen_text(app).replace("│", "").split())
        )


async def test_a_group_that_is_there_is_moved_to_another_day_only_once_that_is_asked(
    tmp_path: Path,
) -> None:
    """A day mistyped for one more bull moved the whole group without a word."""
    keys = [*group_page("Cows", "9 may"), *typed("347"), "escape"]
    desk, _ = await begun(tmp_path / "b.duckdb", keys)
    app = crush_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "w", "3", *"cows")
        assert "Cowsisinthebook,turnout9May:anemptyturnoutleavesitso." in squeezed(app)
        await press(pilot, *group_page("", "12 may")[1:])
        told = "Cowsisinthebookandgoesouton9May.Enteragainmovesallofitto12May"
        assert told in squeezed(app)
        assert app.screen.focused is app.screen.query_one("#field-turnout", Input)
        await press(pilot, "enter")
        assert "turnoutTue12May" in squeezed(app)
        await press(pilot, "enter")  # no more bulls: the day alone is written
        assert len(app.screen_stack) == 1
    group = desk.groups()["", "Cows"]
    assert date.fromordinal(group.turnout) == date(2026, 5, 12)
    assert len(desk.board().bulls) == 1


async def test_the_day_a_group_has_already_is_not_asked_about(tmp_path: Path) -> None:
    keys = [*group_page("Cows", "9 may"), *typed("347"), "escape"]
    later = ["w", *group_page("cows", "9 may"), *typed("348"), "escape"]
    desk, _ = await begun(tmp_path / "b.duckdb", [*keys, *later])
    assert len(desk.board().bulls) == 2


async def test_the_end_of_a_tag_in_the_book_books_no_second_bull_unasked(tmp_path: Path) -> None:
    """Everywhere else 347 means the bull whose tag ends so."""
    keys = [*group_page("Cows", "9 may"), *typed("UK 700914 400347"), "escape"]
    desk, _ = await begun(tmp_path / "b.duckdb", keys)
    app = crush_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "w", *group_page("cows", ""), *"347, 12", "enter")
        told = "347(UK700914400347):abullofthebookhastheselastdigits.Ishemeant,writehiswholetag."
        assert told in squeezed(app)
        assert len(desk.board().bulls) == 1
        await press(pilot, "enter", "escape")
    assert {bull.key for bull in desk.board().bulls} == {"UK700914400347", "347", "12"}


@pytest.mark.parametrize("pause", [0.15, 0.34, 0.7])
async def test_the_keys_of_a_further_group_typed_at_once_go_into_its_page(
    tmp_path: Path, pause: float
) -> None:
    """The 3 was swallowed, and the group's name ran as commands of the Board."""
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), demo=no_demo)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await at_pace(pilot, "w 3 B a n k enter", pause)
        assert app.screen.query_one("#field-group", Input).value == "Bank"


async def test_bulls_need_no_group(tmp_path: Path) -> None:
    desk, _ = await begun(tmp_path / "b.duckdb", ["3", *["enter"] * 5, *typed("347"), "escape"])
    assert [entry.kind for entry in standing(desk.book)] == ["bull"]


async def test_where_no_option_can_be_given_an_import_says_the_command_that_gives_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = tmp_path / "bulls.duckdb"
    desk = desk_at(book, [{"kind": "bull", "on": ago(9), "bull": "1", "born": "2020-05-06"}])
    days = ("tag,born\n1,2020-05-06\n2,03/04/2021\n", "orleavetheprogramandrun", "--datesdmy`(day")
    other = ("tag,born\n1,2021-01-02\n", "whereitismeant,leavetheprogramandrun", "--renames`")
    group = ("tag,group\n2,Hill\n", "writeitfirst:onitsownpage,withnotagonthepage",
             "readinessgroup\"Hill\"--turnoutDATE`")  # fmt: skip
    monkeypatch.setenv("READINESS_BOOK", str(book))
    app = crush_app(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        await press(pilot, "w", "2")
        for at, (text, do, command) in enumerate((days, other, group)):
            file = tmp_path / f"my bulls {at}.csv"
            file.write_text(text, encoding="utf-8")
            app.screen.query_one("#path", Input).value = str(file)
            await press(pilot, "enter")
            assert do in squeezed(app)
            assert command in squeezed(app)
            assert "say--" not in squeezed(app)
            if at < 2:
                assert f"`readinessimport'{squeeze(str(file))}'--" in squeezed(app)


def squeeze(text: str) -> str:
    return "".join(text.split())


async def test_an_import_takes_a_file_in_and_a_wrong_one_is_refused_calmly(tmp_path: Path) -> None:
    file = tmp_path / "entries.jsonl"
    file.write_text("\n".join(json.dumps(each) for each in estate()), encoding="utf-8")
    wrong = tmp_path / "wrong.jsonl"
    wrong.write_text('{"kind": "bull", "on": "31/02"}\n', encoding="utf-8")
    app = make_app(desk_at(tmp_path / "bulls.duckdb"))
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        await press(pilot, "2")
        path = app.screen.query_one("#path", Input)
        for there, said in ((tmp_path / "no.jsonl", "nosuchfile"), (tmp_path, "thisisafolder")):
            path.value = str(there)
            await press(pilot, "enter")
            assert said in squeezed(app)
        path.value = str(wrong)
        await press(pilot, "enter")
        assert "line 1" in screen_text(app)
        assert not (tmp_path / "bulls.duckdb").exists()
        await press(pilot, "escape")  # of several things that are wrong each has its lines
        path.value = str(file)
        await press(pilot, "enter", "escape")  # what is odd is shown first
        assert len(keys_shown(app)) == 9


async def test_a_sheet_with_turnouts_is_a_first_board_by_itself(tmp_path: Path) -> None:
    roster = tmp_path / "bulls.csv"
    roster.write_text(
        "Tag,Name,Born,Group,Turnout\n347,Tarn,2022,Hill,9 May\n348,Wren,14/3/2021,hill,\n", "utf-8"
    )
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "2")
        app.screen.query_one("#path", Input).value = str(roster)
        await press(pilot, "enter")
        [told] = app._notifications
        assert "New group Hill: turnout 9 May" in told.message
        assert "cows." in told.message
        assert sorted(keys_shown(app)) == ["347", "348"]
    groups = [entry.body["turnout"] for entry in standing(desk.book) if entry.kind == "group"]
    assert groups == [f"{desk.on.year}-05-09"]


async def test_a_rosters_warnings_are_all_there_to_be_read(tmp_path: Path) -> None:
    roster = tmp_path / "bulls.csv"
    roster.write_text(
        "Ear tag,Name,Arrived,Handling notes\n"
        "UK 700915 500015,Tern,2026-03-01,quiet\n"  # the check digit is 6
        "UK 700915 700016,Wren,2026-03-02,dangerous\n",
        encoding="utf-8",
    )
    app = make_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "2")
        app.screen.query_one("#path", Input).value = str(roster)
        await press(pilot, "enter")
        text = squeezed(app)
        assert "Written:2entries.Odd,butkept" in text
        assert len(app._notifications) == 0, "it would lie over what is to be read"
        for words in ("checkdigitis5", "Handlingnotes", "quarantine"):
            assert words in text, words
        await press(pilot, "escape")
        assert len(keys_shown(app)) == 2


async def test_the_demo_is_a_book_of_its_own(tmp_path: Path) -> None:
    own = tmp_path / "bulls.duckdb"

    def demo() -> Desk:
        return desk_at(tmp_path / "demo.duckdb", estate())

    app = make_app(desk_at(own), demo=demo)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "1")
        assert len(keys_shown(app)) == 9
        assert app.desk.book.path == tmp_path / "demo.duckdb"
    assert not own.exists()


async def test_a_demo_asked_for_twice_is_built_once(tmp_path: Path) -> None:
    built = []

    def demo() -> Desk:
        built.append(1)
        return desk_at(tmp_path / "demo.duckdb", estate())

    app = make_app(desk_at(tmp_path / "bulls.duckdb"), demo=demo)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        for key in "1213":
            app.post_message(Key(key, key))
        await settled(pilot)
        assert len(keys_shown(app)) == 9
    assert built == [1]


@pytest.mark.parametrize("keys", ["w enter", "w 0 enter", "w 1 enter", "w 1 1 enter enter"])
@pytest.mark.parametrize("pause", [0.0, 0.34])
async def test_a_walk_typed_from_habit_on_the_board_opens_no_demo_in_place_of_the_book(
    tmp_path: Path, keys: str, pause: float
) -> None:
    """What was typed next went into the demo."""
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), demo=no_demo)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        wait = await at_pace(pilot, keys, pause)
        assert app.desk.book.path == tmp_path / "bulls.duckdb"
        wait(10)
        await press(pilot, "enter")
        assert not isinstance(app.screen, Welcome), "Enter goes back to the board"


def no_demo() -> Desk:
    raise AssertionError("nobody asked for the demo")


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_of_the_demo_every_screens_head_says_that_it_is(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    build_demo(tmp_path / "demo.duckdb", date(2026, 4, 3))
    desk = Desk(Book(tmp_path / "demo.duckdb", CLOCK), None, CLOCK)
    desk.add([{"kind": "bull", "on": ago(0), "bull": "347"}])
    app = crush_app(desk)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        for keys in ("", "d", "v", "i", "t 1", "c escape"):
            await press(pilot, *keys.split())
            assert screen_lines(app)[0].startswith("  DEMO "), keys
            assert not keys or "2026" in screen_lines(app)[0], keys
            await press(pilot, *["escape"] * bool(keys))
        await press(pilot, "enter")
        held = " ".join(screen_text(app).split())
        assert "DEMO ■ HOLD" in held


async def test_undo_takes_back_what_was_last_written(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=0.02)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        app.desk.add([{"kind": "mobility", "on": ago(0), "bull": "00288", "scale": "gb0-3",
                       "score": 3}])  # fmt: skip
        await press(pilot, "r")
        assert keys_shown(app).index("00288") < 4
        await press(pilot, "u")
        assert "Last written on this device, 1 entry:" in screen_text(app)
        assert "Walk 3 (GB scale 0-3)." in screen_text(app)
        assert keys_shown(app).index("00288") < 4
        await press(pilot, "y", "r")
        assert keys_shown(app).index("00288") > 6
        assert "Taken back, 1 entry:" in screen_text(app)


async def test_a_slip_in_a_choice_is_mended_by_a_digit(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3", *["enter"] * 5, *typed("00417"), "enter", "enter")
        await press(pilot, *typed("grumpy"))
        assert "1quiet,2watchor3dangerous" in squeezed(app)
        await press(pilot, *["backspace"] * 6, "1")
        assert app.screen.query_one("#field-temper", Input).value == "quiet"
        assert "none of these" not in screen_text(app)
        await press(pilot, *["enter"] * 4)
        assert keys_shown(app) == ["00417"]
    assert standing(desk.book)[-1].body["temper"] == "quiet"


def test_a_list_of_tags_is_read_as_it_is_shown() -> None:
    assert list(tags_in(" UK 123456 700002 ,347;348\n349,, 347 ")) == [
        "UK 123456 700002", "347", "348", "349",
    ]  # fmt: skip
    assert tags_words(tags_in("347")) == "1 bull: 347"
    assert tags_words(tags_in("1,2,3,4,5")) == "5 bulls: 1, 2, 3 and 2 more"
    assert "the check digit is 7" in tags_words({"UK 123456 700002": ""})
    with pytest.raises(DataError, match="too long"):
        tags_in("3" * 121)


FIRST, SECOND = "UK 123456 300101", "UK 123456 400102"


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        (f"1. {FIRST} Hector\n2. {SECOND}\n", {FIRST: "Hector", SECOND: ""}),
        ("1) Hill\n2) 347\n3) Moor", {"Hill": "", "347": "", "Moor": ""}),
        ("- Hill\n- 347", {"Hill": "", "347": ""}),
        (f"* {FIRST}\n* 347", {FIRST: "", "347": ""}),
        ("• Hill", {"Hill": ""}),
        ("• Tag\n• Hill", {"Hill": ""}),
        ("1. Tags\n2. Hill", {"Hill": ""}),
        ("Tags\n1. Hill\n2. Moor", {"Hill": "", "Moor": ""}),
        ("1.\tHill\n2.\tMoor", {"Hill": "", "Moor": ""}),
        (f"3. {FIRST}\n4. 347", {FIRST: "", "347": ""}),  # the end of a longer list
        (f"1. {FIRST}, 2. {SECOND}", {FIRST: "", SECOND: ""}),
        (f"1. {FIRST}", {FIRST: ""}),
        ("Tag\n\"347\"\n'348'", {"347": "", "348": ""}),
        (f'"{FIRST}", "{SECOND}"', {FIRST: "", SECOND: ""}),
        (f'1. "{FIRST}"\n2. "348"', {FIRST: "", "348": ""}),
        (f"{FIRST} {SECOND}", {FIRST: "", SECOND: ""}),
        (f"{FIRST} Hector {SECOND} Tom", {FIRST: "Hector", SECOND: "Tom"}),
        # Marks that may belong to a tag.
        ("1. Hill", {"1. Hill": ""}),
        ("- Hill", {"- Hill": ""}),
        ("347. Rowan\n348. Ullin", {"347. Rowan": "", "348. Ullin": ""}),
        ("1. Hill\nMoor", {"1. Hill": "", "Moor": ""}),
        ("1.5\n2.5", {"1.5": "", "2.5": ""}),
    ],
)
def test_the_marks_of_a_list_and_quotes_are_no_part_of_a_tag(
    text: str, tags: dict[str, str]
) -> None:
    assert tags_in(pasted(text)) == tags


@pytest.mark.parametrize("text", ["7.00914E+11", '"7,00914e+11"', "347, 7E+11", "7.00914E+11 Tom"])
def test_a_long_number_as_a_spreadsheet_shows_it_is_no_tag(text: str) -> None:
    with pytest.raises(DataError, match="how a spreadsheet shows a long number"):
        tags_in(pasted(text))


def test_a_name_before_two_tags_is_not_booked_as_one_bull() -> None:
    with pytest.raises(DataError, match=f"{FIRST} and {SECOND} are 2 tags in one"):
        tags_in(f"Hector {FIRST} {SECOND}")


def test_a_name_behind_a_tag_is_his_and_a_day_is_no_bull() -> None:
    assert tags_in("UK 123456 300101 Hector, uk123456400102: Old Tom, Bluey 7, 3/47, 20230314") == {
        "UK 123456 300101": "Hector", "uk123456400102": "Old Tom", "Bluey 7": "", "3/47": "",
        "20230314": "",
    }  # fmt: skip
    assert tags_words(tags_in("UK 123456 300101 Hector")) == "1 bull: UK 123456 300101 (Hector)"
    assert tags_in("208 Keir, 0417: Old Tom, 3/47 Méabh, 208 B, Hill 2 Keir, 209 Bull 7") == {
        "208": "Keir", "0417": "Old Tom", "3/47": "Méabh", "208 B": "", "Hill 2 Keir": "",
        "209 Bull 7": "",
    }  # fmt: skip
    assert list(tags_in("415, 420 and 421 & 422")) == ["415", "420", "421", "422"]
    assert tags_in("HM 0453 Bruno, HM0454 Keir") == {"HM 0453": "Bruno", "HM0454": "Keir"}
    for day in ("mar 2023", "14/3/23", "14 mar 2023", "2023-03-14", "3 years"):
        with pytest.raises(DataError, match=f'"{day}" is no tag'):
            tags_in(f"UK 123456 300101 Hector, {day}")
