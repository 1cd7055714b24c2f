"""A form on the screen: moved through, read back, refused and given over."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest
from rich.cells import cell_len
from textual import events
from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input, Static

from readiness.desk.desk import Desk
from readiness.forms import FORMS, Form, content_of, form_for, typed_of
from readiness.tui.app import ReadinessApp
from readiness.tui.shared.form import FormScreen
from tests.entries.samples import FULL
from tests.tui.driver import settled
from tests.tui.test_tui_hostile import NAMES, UNSEEN
from tests.volume import sampled

TODAY = date(2027, 3, 28)
UNSET = object()
OF_ONE_ENTRY = [form for form in FORMS.values() if form.id == form.kind]
SIZES = [(60, 20), (80, 24)]
Typed = dict[str, str]


def _no_desk() -> Desk:
    raise AssertionError("a form asks for no desk")


class OneForm(ReadinessApp):
    """Nothing but a form, and what it gave."""

    CSS_PATH = "../../readiness/tui/readiness.tcss"

    def __init__(self, form: Form, typed: Typed | None = None, *, encoding: str = "utf-8") -> None:
        super().__init__(_no_desk, encoding=encoding)
        self.form = form
        self.typed = typed
        self.result: Any = UNSET

    def get_default_screen(self) -> Screen[None]:
        return Screen()

    def on_mount(self) -> None:
        self.push_screen(FormScreen(self.form, TODAY, self.typed), self._given)

    def _given(self, result: dict[str, Any] | None) -> None:
        self.result = result


def lines(app: App[None]) -> list[str]:
    strips = app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip).rstrip() for strip in strips]


def shown(app: App[None]) -> str:
    """What stands on the screen, its wrapped lines in one."""
    return " ".join(re.sub(r"[│|╭╮╰╯─+]+", " ", "\n".join(lines(app))).split())


async def keys(pilot: Pilot[None], *pressed: str) -> None:
    await pilot.press(*("space" if key == " " else key for key in pressed))
    await pilot.pause()


def box(app: App[None], key: str) -> Input:
    return app.screen.query_one(f"#field-{key}", Input)


def here(app: App[None]) -> str:
    return (app.screen.focused.id or "") if app.screen.focused else ""


async def test_enter_down_and_tab_move_and_enter_on_the_last_gives_the_answers() -> None:
    app = OneForm(FORMS["vet-word"])
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, "2", "enter", *"20 apr", "down", *"36.5", "tab", *"65", "enter", "78")
        await keys(pilot, "up", "down", *"78", "down", "y", "enter", "enter")
        assert here(app) == "field-note"
        await keys(pilot, *"seen", "enter")
    assert app.result == {
        "outcome": "deferred", "again_on": "2027-04-20", "scrotum_cm": 36.5, "motility_pct": 65,
        "normal_pct": 78, "feet_seen": True, "note": "seen",
    }  # fmt: skip


async def test_letters_typed_straight_after_an_arrow_go_into_the_field_it_leads_to() -> None:
    app = OneForm(FORMS["vet-word"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for key in ("1", "up", "up", "s", "up", "y", "down", "e", "shift+tab", "shift+tab", "tab"):
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await settled(pilot)
        assert [box(app, key).value for key in ("outcome", "stands", "note")] == [
            "satisfactory", "y", "se",
        ]  # fmt: skip
        assert here(app) == "field-stands"


async def test_escape_gives_nothing() -> None:
    app = OneForm(FORMS["weight"], {"kg": "980"})
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, "down", *"x", "backspace", "escape")
    assert app.result is None


async def test_what_is_typed_is_not_dropped_by_one_escape_nor_by_one_held_down() -> None:
    app, clock = OneForm(FORMS["weight"]), iter((0.0, 0.5, 0.6, 9.0, 19.0, 29.0, 30.0))
    app.ticks = lambda: next(clock)
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, *"980", "escape", "escape", "escape")
        assert "! Not saved yet: Enter on the last saves it, Esc again leaves it out." in shown(app)
        assert app.result is UNSET and box(app, "kg").value == "980"
        await keys(pilot, "1")
        assert "Not saved yet" not in shown(app)
        await keys(pilot, "backspace", "down", *"y", "up", "backspace", *"o", "down")
        assert "weight, kg:" in shown(app)
        await keys(pilot, "escape")
        assert app.result is UNSET and "Not saved yet" in shown(app)
        await keys(pilot, "escape")
    assert app.result is None


@sampled("size", SIZES)
@sampled("encoding", ["utf-8", "ascii"], most=1)
@pytest.mark.parametrize("form", OF_ONE_ENTRY, ids=lambda form: form.id)
async def test_each_form_stands_whole_and_gives_back_what_it_was_given(
    form: Form, encoding: str, size: tuple[int, int]
) -> None:
    said = {key: value for key, value in FULL[form.kind].items() if form.field(key)}
    app = OneForm(form, typed_of(form, said), encoding=encoding)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        text = shown(app)
        assert form.title in text
        assert "Arrows" in text and "Esc: back" in text
        assert all(cell_len(line) <= size[0] for line in lines(app))
        if encoding == "ascii":
            assert "\n".join(lines(app)).isascii()
        await keys(pilot, "up")  # the day stands above the field that one begins with
        for field in form.fields:  # a long one scrolls
            await pilot.wait_for_scheduled_animations()
            assert f"> {field.label}{' *' if field.needed else ''}" in shown(app)
            await keys(pilot, "enter")
    assert app.result == said


@sampled("size", SIZES)
async def test_choices_stand_under_the_form_and_a_digit_chooses(size: tuple[int, int]) -> None:
    app = OneForm(FORMS["bull"])
    async with app.run_test(size=size) as pilot:
        box(app, "temper").focus()
        await pilot.pause()
        assert "1 quiet 2 watch 3 dangerous" in shown(app)
        await keys(pilot, "3")
        assert box(app, "temper").value == "dangerous"
        await keys(pilot, "backspace", "1")
        assert box(app, "temper").value == "quiet"
        await keys(pilot, "down", "up", "2")
        assert box(app, "temper").value == "watch"
        box(app, "name").focus()
        await keys(pilot, "2")
        assert box(app, "name").value == "2"
        assert "1 quiet" not in shown(app)


@pytest.mark.parametrize("figure", ["38,5", "31", "1/2", "12"])
async def test_a_figure_typed_into_a_choice_stays_that_figure_and_is_refused(figure: str) -> None:
    """Else a circumference becomes the vet's word, or a half another choice."""
    app = OneForm(FORMS["vet-word"])
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, *figure, "down")
        assert (box(app, "outcome").value, here(app)) == (figure, "field-outcome")
        assert f'"{figure}" is none of these' in shown(app)


async def test_no_digit_wipes_a_word_that_is_typed() -> None:
    app = OneForm(FORMS["vet-word"])
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, *"fine", "down", "3")
        assert box(app, "outcome").value == "fine3"
        await keys(pilot, *["backspace"] * 5, *"ok", "down")
        assert here(app) == "field-again_on"


async def test_a_digit_that_a_groups_name_begins_with_is_its_first_letter() -> None:
    app = OneForm(form_for("join", groups=["Hill", "12 acre"]))
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, *"12 acre", "enter", "enter", "enter")
    assert app.result == {"group": "12 acre"}


async def test_a_digit_within_a_name_is_a_digit() -> None:
    app = OneForm(form_for("join", groups=["Lot 1", "Lot 2"]))
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, *"lot 2", "enter", "1", "enter", "enter")
    assert app.result == {"group": "Lot 2", "role": "reserve"}


async def test_a_day_is_read_back_in_full_while_it_is_typed() -> None:
    app = OneForm(FORMS["group"])
    async with app.run_test(size=(60, 20)) as pilot:
        box(app, "turnout").focus()
        await keys(pilot, *"9 apr")
        assert "turnout Fri 9 Apr 2027, in 12 days" in shown(app)
        await keys(pilot, "backspace", "backspace")
        assert "2027, in" not in shown(app)


async def test_a_needed_field_left_empty_is_said_on_saving_with_the_cursor_in_it() -> None:
    app = OneForm(FORMS["treatment"])
    async with app.run_test(size=(60, 20)) as pilot:
        await keys(pilot, "down", *"x")
        assert "needed" not in shown(app)
        assert here(app) == "field-product"
        box(app, "note").focus()
        await keys(pilot, "enter")
        assert "! given by: it is needed" in shown(app)
        assert here(app) == "field-given_by"
        await keys(pilot, *"vet")
        assert "needed" not in shown(app)


async def test_when_the_terminal_loses_the_focus_nothing_is_said() -> None:
    app = OneForm(FORMS["treatment"])
    async with app.run_test(size=(80, 24)) as pilot:
        app.app_focus = False
        await pilot.pause()
        assert "needed" not in shown(app)


@pytest.mark.parametrize("key", ["enter", "down", "up", "tab"])
async def test_a_wrong_answer_is_said_when_it_is_left_and_the_cursor_stays(key: str) -> None:
    app = OneForm(FORMS["group"])
    async with app.run_test(size=(60, 20)) as pilot:
        await keys(pilot, *"Heifers", "enter", *"09/04", key)
        assert "turnout:" in shown(app) and "two ways" in shown(app)
        assert here(app) == "field-turnout"
        await keys(pilot, *["backspace"] * 3, *" apr")
        assert "two ways" not in shown(app)
        await keys(pilot, "enter")
        assert (box(app, "turnout").value, here(app)) == ("09 apr", "field-weeks")


async def test_no_key_empties_a_field() -> None:
    """Neither one typed after a refusal or after coming back, nor those that do so elsewhere."""
    form = FORMS["weight"]
    app = OneForm(form._replace(fields=(form.begin,)), {"kg": "98O"})
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, "enter")
        assert "weight, kg:" in shown(app)
        await keys(pilot, "ctrl+u", "ctrl+k")
        assert box(app, "kg").value == "98O"
        await keys(pilot, "backspace", "0", "enter")
    assert app.result == {"kg": 980}


async def test_saving_names_the_wrong_field_and_a_digit_chooses_once_it_is_empty() -> None:
    app = OneForm(FORMS["check"], {"check": "bvd-test", "result": "grumpy"})
    async with app.run_test(size=(80, 24)) as pilot:
        await keys(pilot, *["down"] * 5, "enter")
        assert app.result is UNSET
        assert here(app) == "field-result"
        assert '! result: "grumpy" is none of these; write 1 pass or 2 fail' in shown(app)
        await keys(pilot, *["backspace"] * 6, "2")
        assert box(app, "result").value == "fail"
        assert "grumpy" not in shown(app)
        await keys(pilot, *["enter"] * 5)
    assert app.result == {"check": "bvd-test", "result": "fail"}


async def test_what_the_entry_refuses_is_said_in_its_field_before_anything_is_lost() -> None:
    app = OneForm(FORMS["bull"])
    async with app.run_test(size=(60, 20)) as pilot:
        box(app, "origin").focus()
        await keys(pilot, "2")
        box(app, "note").focus()
        await keys(pilot, "enter")
        assert "! arrived: is missing; a bought bull needs the day he arrived" in shown(app)
        assert here(app) == "field-arrived"
        await keys(pilot, *"1 feb")
        assert "is missing" not in shown(app)
        box(app, "note").focus()
        await keys(pilot, "enter")
    assert app.result == {"origin": "bought", "arrived": "2027-02-01"}


async def test_the_field_with_the_cursor_is_marked_without_colour(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = OneForm(FORMS["weight"])
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        assert "> weight, kg *" in shown(app) and "> note" not in shown(app)
        await keys(pilot, "down")
        assert "> note" in shown(app) and "> weight" not in shown(app)


@sampled("name", NAMES, of=("markup", "wide"), most=5)
@sampled("encoding", ["utf-8", "ascii"])
async def test_hostile_names_stay_text(name: str, encoding: str) -> None:
    hostile = NAMES[name]
    form = form_for("join", groups=[hostile, "Hill"])
    typed = {"group": hostile, "note": hostile}
    expected = content_of(form, typed, TODAY)
    app = OneForm(form, typed, encoding=encoding)
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        for line in lines(app):
            assert not UNSEEN.search(line)
            assert cell_len(line) <= 60
            assert encoding != "ascii" or line.isascii()
        assert "[red]" not in hostile or "[red]" in shown(app)
        await keys(pilot, "enter", "enter", "enter")
    assert app.result == expected


async def test_a_name_that_the_terminal_cannot_show_can_be_chosen() -> None:
    app = OneForm(form_for("join", groups=["Färsen", "Fürsen", "שור"]), encoding="ascii")
    async with app.run_test(size=(60, 20)) as pilot:
        await keys(pilot, "2", "enter", "enter", "enter")
        assert "\n".join(lines(app)).isascii()
    assert app.result == {"group": "Fürsen"}


async def test_a_title_is_the_callers_and_stays_text() -> None:
    app = OneForm(FORMS["weight"])
    async with app.run_test(size=(60, 20)) as pilot:
        app.push_screen(FormScreen(FORMS["weight"], TODAY, None, "Weight of [b]Bo[/b]"))
        await pilot.pause()
        first = app.screen.query(Static).first()
        assert str(first.render()) == "Weight of [b]Bo[/b]"


async def test_the_ways_and_parts_of_an_examination_stand_under_their_field() -> None:
    app = OneForm(FORMS["vet-exam"])
    async with app.run_test(size=(60, 20)) as pilot:
        box(app, "examined").focus()
        await pilot.pause()
        assert "seen, felt, rectal, scanned, heard: then eyes, mouth" in shown(app)
        assert "accessory" not in shown(app) and "glands" in shown(app)
