"""The first run: nothing there yet, and three ways to begin."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from textual.widgets import Input

from readiness.desk.desk import Desk
from readiness.forms import content_of
from readiness.system.errors import DataError
from readiness.tui.welcome.screen import FIELDS, FORM, FirstBull, Welcome, contents_of
from tests.build import standing
from tests.tui.driver import keys_shown, make_app, press, screen_text, settled, squeezed
from tests.tui.estate import DAY, ago, ahead, desk_at, estate


async def test_a_missing_book_is_welcomed_and_nothing_is_written(tmp_path: Path) -> None:
    path = tmp_path / "none" / "bulls.duckdb"
    app = make_app(desk_at(path))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert isinstance(app.screen, Welcome)
        text = screen_text(app)
        for words in ("look at the demo", "import a file", "write down a group and a bull"):
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


async def test_the_form_writes_real_entries_and_shows_the_board(tmp_path: Path) -> None:
    path = tmp_path / "new" / "bulls.duckdb"
    desk = desk_at(path)
    app = make_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        typed = {
            "group": "Cows", "turnout": "9 may", "females": "30", "temper": "watch",
            "bull": "UK 123456 700002", "name": "Corran", "breed": "Limousin", "born": "2022-03-14",
        }  # fmt: skip
        for field in FIELDS:
            keys = ("space" if key == " " else key for key in typed.get(field.key, ""))
            await pilot.press(*keys)
            await pilot.press("enter")
        await settled(pilot)
        assert keys_shown(app) == ["UK123456700002"]
        text = screen_text(app)
        assert "Cows" in text
        assert "turnout 9 May, in 36 days" in text
    kinds = {entry.kind: entry.body for entry in standing(desk.book)}
    assert kinds["group"] == {
        "kind": "group", "on": "2026-04-03", "group": "Cows", "turnout": "2026-05-09",
        "females": 30, "by": "A. Trimmer",
    }  # fmt: skip
    assert kinds["bull"]["name"] == "Corran"
    assert kinds["bull"]["temper"] == "watch"
    assert kinds["join"]["group"] == "Cows"


async def test_the_form_says_what_is_wrong_and_keeps_what_was_typed(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    app = make_app(desk_at(path))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        form = app.screen
        assert isinstance(form, FirstBull)
        form.query_one("#field-turnout", Input).value = "03/04"
        form.query_one("#field-bull", Input).value = "00417"
        form.query_one("#field-temper", Input).focus()
        await press(pilot, "enter")
        assert "readstwoways" in squeezed(app)
        assert form.focused is form.query_one("#field-turnout", Input)
        form.query_one("#field-turnout", Input).value = "9 apr"
        form.query_one("#field-temper", Input).focus()
        await press(pilot, "enter")
        assert "group:namethegroup" in squeezed(app)
        form.query_one("#field-group", Input).value = "Heifers"
        form.query_one("#field-temper", Input).value = "angry"
        form.query_one("#field-temper", Input).focus()
        await press(pilot, "enter")
        assert 'temper:"angry"isnoneofthese' in squeezed(app)
        assert form.query_one("#field-bull", Input).value == "00417"
        assert app.screen is form
        assert not path.exists()


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
        path.value = str(file)
        await press(pilot, "enter", "escape")  # what is odd is shown first
        assert len(keys_shown(app)) == 9


async def test_a_rosters_warnings_are_all_there_to_be_read(tmp_path: Path) -> None:
    roster = tmp_path / "bulls.csv"
    roster.write_text(
        "Ear tag,Name,Arrived,Handling notes\n"
        "UK 700915 500015,Tern,2026-03-01,quiet\n"  # the check digit is 6
        "UK 700915 700016,Wren,2026-03-02,dangerous\n",
        encoding="utf-8",
    )
    app = make_app(desk_at(tmp_path / "bulls.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "2")
        app.screen.query_one("#path", Input).value = str(roster)
        await press(pilot, "enter")
        text = squeezed(app)
        assert "Odd,butkept" in text
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


async def test_undo_takes_back_what_was_last_written(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=0.02)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        app.desk.add([{"kind": "mobility", "on": ago(0), "bull": "00288", "scale": "gb0-3",
                       "score": 3}])  # fmt: skip
        await press(pilot, "r")
        assert keys_shown(app).index("00288") < 4
        await press(pilot, "u", "u", "u")
        assert "Last written on this device, 1 entry:" in screen_text(app)
        assert "Walk 3 (GB scale 0-3)." in screen_text(app)
        assert keys_shown(app).index("00288") < 4
        await press(pilot, "enter", "r")
        assert keys_shown(app).index("00288") > 6
        assert "Taken back, 1 entry:" in screen_text(app)


async def test_a_slip_in_a_choice_is_typed_over(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb")
    app = make_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        form = app.screen
        form.query_one("#field-bull", Input).value = "00417"
        form.query_one("#field-temper", Input).focus()
        await press(pilot, *"grumpy", "enter")
        assert "1quiet,2watchor3dangerous" in squeezed(app)
        await press(pilot, *"quiet")
        assert form.query_one("#field-temper", Input).value == "quiet"
        assert "none of these" not in screen_text(app)
        await press(pilot, "enter")
        assert keys_shown(app) == ["00417"]
    assert standing(desk.book)[0].body["temper"] == "quiet"


async def test_the_form_names_its_arrow_keys_and_an_example_tag_that_is_right(
    tmp_path: Path,
) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb"))
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "3")
        text = screen_text(app)
        assert "Arrows" in text
        assert "Esc: back" in text
        assert "UK 123456 200002" in text


def meant(**typed: str) -> list[dict[str, Any]]:
    return contents_of(content_of(FORM, typed, DAY), DAY, "")


def test_a_group_without_turnout_is_only_joined() -> None:
    found = meant(group="Heifers", bull="00417")
    assert [each["kind"] for each in found] == ["bull", "join"]
    assert "by" not in found[0]


def test_the_form_asks_for_a_tag_and_for_a_whole_number_of_females() -> None:
    with pytest.raises(DataError, match="tag"):
        meant(name="Corran")
    with pytest.raises(DataError, match="whole number"):
        meant(bull="00417", females="many")
    found = meant(bull="1", group="G", turnout=ahead(9), females="7")
    assert found[0]["females"] == 7


def test_what_is_said_of_a_group_is_not_dropped_for_want_of_its_name_or_day() -> None:
    with pytest.raises(DataError, match=r"^group: name the group"):
        meant(bull="1", females="7")
    with pytest.raises(DataError, match=r"^turnout: say when"):
        meant(bull="1", group="Heifers", females="7")
