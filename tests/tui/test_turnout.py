"""The Turnout screen: who goes and who stays, letting out what was shown, by name with a reason."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from readiness.book.drafts import Draft, Drafts
from readiness.desk.desk import Desk
from readiness.system.breath import UNHEARD
from readiness.tui.app import ReadinessApp
from readiness.tui.shared.decide import NOT_READ
from readiness.tui.turnout.screen import AskWhy, TurnoutScreen
from tests.build import Line, standing, walk
from tests.build import said as said_of
from tests.cover.farms import ON, bull, cows
from tests.tui.crush_driver import at_pace, crush_app, quickly
from tests.tui.driver import make_app, press, screen_text, settled, squeezed
from tests.tui.test_cover import desk_at

TEAM: list[Line] = [
    cows(70), *bull("B 1"), *bull("B 2"), walk("2026-04-27", 2, tag="B 2", limb="LF"),
    *bull("B 3", role="reserve"), *bull("B 4", go=False),
]  # fmt: skip
MOOR: list[Line] = [cows(30, "Moor"), *bull("B 5", "Moor", go=False)]
SIZES = [(60, 20), (80, 24), (120, 40)]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", TEAM)


@pytest.fixture
def app(desk: Desk) -> ReadinessApp:
    return crush_app(desk)


def out(desk: Desk) -> list[tuple[str, str | None]]:
    """(bull, note) of every entry that says that one goes out."""
    return [(e.body["bull"], e.body.get("note")) for e in standing(desk.book) if e.kind == "moved"]


def words(app: ReadinessApp) -> str:
    return " ".join(screen_text(app).split())


def said(app: ReadinessApp) -> str:
    return " ".join(note.message for note in app._notifications)


async def to_gate(pilot: Pilot[Any], *keys: str) -> None:
    await settled(pilot)
    await press(pilot, "t", *keys)


async def on_bull(pilot: Pilot[Any], app: ReadinessApp, tag: str) -> None:
    """The cursor on this bull."""
    screen = app.screen
    assert isinstance(screen, TurnoutScreen)
    at = [row.bull is not None and row.bull.bull == tag for row in screen._listed.rows]
    screen._listed.highlighted = at.index(True)
    await settled(pilot)


@pytest.mark.parametrize("size", SIZES)
async def test_t_shows_who_goes_who_stays_and_from_when_he_could_follow(
    app: ReadinessApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        await to_gate(pilot)
        assert isinstance(app.screen, TurnoutScreen)
        shown = "".join(f"{row.content.plain}\n" for row in app.screen._listed.rows)
        read = " ".join(shown.split())
        for each in (
            "Goes (1) ● B 1: walked today, 0 (GB scale 0-3)",
            "■ B 2: lame LF since 27 Apr; lift LF, asked for 27 Apr, not done",
            "could follow from 4 May, if every check passes",
            "□ B 4: checks to come", "Reserve (1) ● B 3: GO, to replace one who stays",
        ):  # fmt: skip
            assert each in read
        assert max(len(line) for line in shown.splitlines()) < size[0]
        top = words(app)
        assert "Turnout of Hill, Fri 1 May" in top and "Goes (1)" in top
        assert "Walk each of them once more" in top
        await press(pilot, "escape")
        assert app.screen_stack == [app.board_screen]


async def test_an_ascii_terminal_is_shown_nothing_that_it_cannot_show(desk: Desk) -> None:
    app = make_app(desk, poll=3600, encoding="ascii")
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        assert screen_text(app).isascii()
        assert "# B 2: lame LF" in words(app)


async def test_whoever_is_go_with_something_to_ask_first_is_named_before_he_is_let_out(
    app: ReadinessApp, desk: Desk
) -> None:
    given = {"bull": "B 1", "given_by": "vet", "product": "red one"}
    desk.add([{"kind": "treatment", "on": desk.on.isoformat(), **given}])
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        assert "Ask first of B 1: given what may be pain relief" in words(app)
        assert "Walked each once more? B 1." in words(app)


async def test_all_that_is_to_be_asked_first_of_a_bull_is_asked_before_he_is_let_out(
    app: ReadinessApp, desk: Desk
) -> None:
    """Of two things only the first was, and the other one was the vet's."""
    desk.log("B 1", "vet ok cm 28 mot 65 norm 80 stands")
    given = {"bull": "B 1", "given_by": "vet", "product": "red one"}
    desk.add([{"kind": "treatment", "on": desk.on.isoformat(), **given}])
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        assert "28 cm" in words(app) and "given what may be pain relief" in words(app)


async def test_what_is_half_entered_of_one_who_is_go_is_said_before_he_is_let_out(
    app: ReadinessApp, desk: Desk
) -> None:
    """An ulcer that a crash left half entered: no assessment knows of it."""
    drafts = Drafts(desk.book.path)
    drafts.put(Draft("B1", "lf o su", desk.on.isoformat()))
    drafts.close()
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        assert "Half entered in the crush and not saved: B 1 (lf o su)." in words(app)
    again = Drafts(desk.book.path)
    assert [draft.key for draft in again.open()] == ["B1"], "it is still there"
    again.close()


async def test_l_shows_those_who_are_go_and_lets_out_only_them_as_one_batch(
    app: ReadinessApp, desk: Desk
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        assert "B 1 of Hill: out to the females on Tue 28 Apr 2026, 3 days before" in words(app)
        assert "let B 1 out" in words(app) and "Walked each once more? B 1." in words(app)
        await press(pilot, "escape")
        assert out(desk) == []
        await press(pilot, "l", "enter")  # the first line leaves all as it is
        assert out(desk) == [] and "Nothing was written." in said(app)
        await press(pilot, "l", "down", "enter")
        assert out(desk) == [] and "Enter writes nothing here: y does it." in said(app)
        await press(pilot, "1", "y")
        assert out(desk) == [("B 1", None)]
        assert "Out already (1)" in words(app)
        await press(pilot, "l")  # nobody is left to let out
        assert "Enter lets out one by name" in said(app)
        await press(pilot, "u", "y", "r")
        assert out(desk) == []
        assert "Goes (1)" in words(app)


@pytest.mark.parametrize(
    ("keys", "pause"),
    [
        ("t l enter", 0.0),
        ("t l y", 0.0),
        ("t l y y y y", 0.08),
        ("t enter enter", 0.08),
        ("t slash 2 3 1 enter 1", 0.05),
        ("t slash 2 3 1 enter 1 y", 0.34),
        ("t a l l space o n y space l a m e enter enter", 0.34),
    ],
)
async def test_letting_out_takes_a_choice_that_was_seen(
    app: ReadinessApp, desk: Desk, keys: str, pause: float
) -> None:
    """What was typed in one go, held down, or for another screen answered the question unseen: 17
    bulls were let out."""
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await at_pace(pilot, keys, pause)
        assert out(desk) == []
        assert NOT_READ in said(app) or "means nothing here" in said(app)


async def test_a_key_that_means_nothing_takes_what_is_typed_in_one_breath_with_it_along(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        app.ticks = lambda: 1e6
        await quickly(pilot, "slash", "2", "3", "1", "enter", "l", "v")
        assert isinstance(app.screen, TurnoutScreen)
        told = [note.message for note in app._notifications]
        assert told == ["/ means nothing here: ? shows the keys.", UNHEARD]
        await press(pilot, "escape")
        assert app.screen_stack == [app.board_screen]


async def test_one_on_hold_goes_by_name_alone_and_not_without_a_reason(
    app: ReadinessApp, desk: Desk
) -> None:
    why = "the vet rang"
    typed = ["space" if letter == " " else letter for letter in why]
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        await on_bull(pilot, app, "B 2")
        await press(pilot, "enter", "space", "enter")
        assert isinstance(app.screen, AskWhy)
        assert "B 2 is on HOLD: lame LF since 27 Apr" in words(app)
        assert "Say what speaks for it" in words(app)
        await press(pilot, "escape")
        assert out(desk) == []
        await press(pilot, "enter", *typed, "enter")
        assert out(desk) == []
        assert "B 2 of Hill: out to the females" in words(app)
        assert "He is on HOLD. Noted: the vet rang" in words(app)
        await press(pilot, "y")
        assert out(desk) == [("B 2", why)]
        assert "Goes out on hold: lame LF" in said(app)
        assert "bring him in" in words(app) and "noted: the vet rang" in words(app)
        (held,) = [b for b in desk.board().bulls if b.bull == "B 2"]
        assert held.reasons[-1].text == "let out on 28 Apr, noted: the vet rang"


async def test_a_reserve_that_is_go_goes_alone_and_one_that_is_out_is_not_let_out_again(
    app: ReadinessApp, desk: Desk
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        await on_bull(pilot, app, "B 3")
        await press(pilot, "enter")
        assert "let B 3 out" in words(app)
        await press(pilot, "y")
        assert out(desk) == [("B 3", None)]
        await on_bull(pilot, app, "B 3")
        await press(pilot, "enter")
        assert "B 3 is out already" in words(app)
        await press(pilot, "escape")
        assert out(desk) == [("B 3", None)]


async def test_one_who_went_lame_at_work_is_brought_in_by_enter_and_u_takes_it_back(
    tmp_path: Path,
) -> None:
    gone = said_of("moved", ON, "B 1", act="out")
    lame = walk(ON, 2, tag="B 1", limb="RF")
    desk = desk_at(tmp_path / "bulls.duckdb", [cows(70), *bull("B 1"), gone, lame])
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        await on_bull(pilot, app, "B 1")
        await press(pilot, "enter")
        assert "B 1 is out already. Bring him in on Tue 28 Apr 2026" in words(app)
        assert len(out(desk)) == 1
        await press(pilot, "l")
        last = [e for e in standing(desk.book) if e.kind == "moved"][-1]
        assert (last.body["act"], last.body["reason"]) == ("in", "lame")
        assert "In: B 1. u takes it back." in said(app)
        assert "Out already" not in words(app) and "Stays (1)" in words(app)
        await press(pilot, "u", "y", "r")
        assert "Out already (1)" in words(app)


async def test_when_all_who_are_go_are_out_it_does_not_say_that_nobody_is_go(
    tmp_path: Path,
) -> None:
    gone = said_of("moved", ON, "B 1", act="out")
    app = crush_app(desk_at(tmp_path / "b.duckdb", [cows(70), *bull("B 1"), gone]))
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        assert "All who are GO are out already." in words(app)
        assert "Nobody is GO." not in words(app)


async def test_what_is_odd_of_several_is_told_once_and_that_it_is_before_turnout(
    tmp_path: Path,
) -> None:
    desk = desk_at(tmp_path / "b.duckdb", [cows(70), *bull("B 1"), *bull("B 2")])
    ahead = Desk(desk.book, None, desk.clock, who=desk.who, on=date(2026, 4, 30))
    app = crush_app(ahead)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        assert "2bullsofHill:outtothefemalesonThu30Apr2026,1daybeforeturnout?" in squeezed(app)
        await press(pilot, "y")
        assert said(app).count("a day still to come") == 1


async def test_one_who_is_go_for_turnout_alone_goes_before_it_only_with_a_reason(
    app: ReadinessApp, desk: Desk, tmp_path: Path
) -> None:
    lag = '[[check]]\nname = "fluke"\nwho = "farmer"\nfrom = 60\nlag = 5\n'
    desk.rules_path = tmp_path / "own.toml"
    desk.rules_path.write_text(lag, encoding="utf-8")
    desk.add([said_of("check", "2026-04-25", "B 1", check="fluke", result="pass")])
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        assert out(desk) == [] and "Enter lets out one by name" in said(app)
        assert "Nobody who is GO may go today already." in words(app)
        await on_bull(pilot, app, "B 1")
        await press(pilot, "enter")
        assert "B 1 is GO for 1 May, too early today" in words(app)
        await press(pilot, *"lent", "enter")
        assert "It is too early for him. Noted: lent" in words(app)
        await press(pilot, "y")
        assert out(desk) == [("B 1", "lent")]


async def test_who_went_lame_while_he_was_shown_is_not_let_out(
    app: ReadinessApp, desk: Desk, tmp_path: Path
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "l")
        desk_at(tmp_path / "bulls.duckdb", [walk(ON, 2, tag="B 1")])
        await press(pilot, "y")
        assert "Nothing was written" in said(app)
        assert out(desk) == []
        assert "Goes" not in words(app) and "Nobody is GO." in words(app)


async def test_t_is_of_the_group_in_view_and_else_asks_whatever_the_cursor_is_on(
    tmp_path: Path,
) -> None:
    """The cursor stands at first on the worst bull: his group is not what is asked about."""
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", [*TEAM, *MOOR]))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert app.board_screen.shown()[0].bull == "B 2"
        await press(pilot, "t")
        assert "Whose turnout?" in words(app)
        await press(pilot, "2")
        assert "Turnout of Moor" in words(app) and "B 5" in words(app)
        await press(pilot, "g", "1")
        assert "Turnout of Hill" in words(app) and "B 1" in words(app)
        await press(pilot, "escape", "g", "3", "t")  # the group in view
        assert "Turnout of Moor" in words(app)


async def test_without_groups_it_says_how_to_write_one(tmp_path: Path) -> None:
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", bull("B 1", None)))
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        assert "readiness group" in said(app)
        assert app.screen is app.board_screen


async def test_o_writes_the_page_for_the_gate_beside_the_book(
    app: ReadinessApp, tmp_path: Path
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot, "o")
        page = tmp_path / "bulls-turnout-Hill.html"
        assert page.name in said(app)
        assert page.read_text(encoding="utf-8").count("☐") == 1


async def test_names_and_notes_of_people_are_never_markup(tmp_path: Path) -> None:
    lines = [cows(70), *bull("[b]1[/b]", name="Hill")]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", lines))
    async with app.run_test(size=(80, 24)) as pilot:
        await to_gate(pilot)
        assert "[b]1[/b]: walked today" in words(app)
        assert app.screen.query_one("#told", Static).display
