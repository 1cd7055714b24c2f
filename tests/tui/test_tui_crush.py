"""The crush on the screen, driven by its keys over a real book: what is pressed is in it."""

from __future__ import annotations

import gc
from dataclasses import replace
from pathlib import Path
from typing import cast

import pytest
from rich.cells import cell_len
from rich.table import Table
from textual.widgets import Static

from readiness.desk.desk import Desk
from readiness.entries import validate
from readiness.herd.team import Team
from readiness.system import garbage
from readiness.tui.app import ReadinessApp
from readiness.tui.crush.paint import picture
from readiness.tui.crush.screen import CrushScreen
from readiness.tui.shared.keymap import bindings_of, key_words
from readiness.tui.shared.keys import in_rows
from readiness.tui.shared.looks import BIG_ROWS, glyphs_for
from tests.build import standing
from tests.crush.yard import Yard
from tests.tui.crush_driver import (
    bodies,
    crush_app,
    crush_of,
    ids,
    line_of,
    quickly,
    to_crush,
    type_in,
)
from tests.tui.driver import press, screen_lines, screen_text, settled
from tests.tui.estate import FEET, ago, bull, desk_at, done, estate, of
from tests.volume import sampled

BIG = 9
"""The cells that the foot in large letters takes."""
SOUND = {"kind": "feet", "lifted": FEET}
WALK_0 = {"kind": "mobility", "scale": "gb0-3", "score": 0}
COND = {"kind": "condition", "scale": "five", "score": 3.25}


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


async def test_the_race_holds_who_is_due_and_the_first_stands_large(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        text = screen_text(app)
        assert screen.session.race.keys == ("00417", "UK123456700002", "00093", "00777")
        assert "0 done, 4 in the race" in text
        assert "CORRAN" in text
        assert "! watch him" in text
        assert "today: lift LF (by today)" in text
        assert "Last lifted 2 Feb" in text
        assert "next: 00002 Sorrel, 00093 Brock, 00777 Wren" in " ".join(text.split())


async def test_a_sound_bull_is_saved_whole_and_the_next_one_comes(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "w", "0", "c", "3", "2")
        assert line_of(screen) == "all ok; walk 0; cond 3.25"
        assert bodies(desk, before) == []
        await press(pilot, "enter")
        assert bodies(desk, before) == [SOUND, WALK_0, COND]
        assert screen.session.key == "UK123456700002"
        text = " ".join(screen_text(app).split())
        assert "saved 00417 Corran" in text
        assert "1 done, 3 in the race" in text
    [feet] = [entry for entry in standing(desk.book) if entry.id not in before][:1]
    assert feet.body["bull"] == "00417"
    assert feet.body["on"] == "2026-04-03"


async def test_what_was_saved_is_echoed_with_what_it_means(desk: Desk) -> None:
    """block.least 28 and block.most 42 days (published: AHDB "How to block a lame cow's foot", look
    at 28 d; NZ hoof-care training, 4 to 6 weeks): fitted 3 Apr, off from 1 May to 15 May."""
    app = crush_app(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        await to_crush(pilot, "1", "o", "s", "u", "4", "2", "p", "d", "b", "s", "enter")
        text = " ".join(screen_text(app).split())
        assert "saved 00417 Corran" in text
        assert "HOLD for a reason: " in text
        assert "block on LF inner" in text
        assert "block off LF between 1 May and 15 May" in text


async def test_a_foot_that_would_not_lift_is_told_of_once_he_is_saved(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "2", "x", "s", "enter")
        text = " ".join(screen_text(app).split())
        assert "saved 00417 Corran" in text and "RF would not lift." in text


async def test_an_open_finding_is_asked_for_and_silence_leaves_it_open(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "slash", "9", "3", "enter", "s")
        assert screen.session.key == "00093"
        text = " ".join(screen_text(app).split())
        assert "Sole ulcer, moderate, LH inner, open since 4 Mar: and now?" in text
        assert "h healed = as it was + worse" in text
        await press(pilot, "w", "0", "c", "3", "enter")
        assert bodies(desk, before) == []
        await press(pilot, "escape", "enter", "enter")  # asked again: keys were not taken
        assert bodies(desk, before) == [SOUND]
        assert "not spoken of, so it stays open" in " ".join(screen_text(app).split())
    assert any(f.code == "SU" for f in desk.card("93").state.feet.open.values())


async def test_healed_too_soon_is_said_before_it_is_saved(desk: Desk) -> None:
    """clear.days of a foul (IP) is 7 days (published: MSD Veterinary Manual); found 5 days ago."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "n")
        assert screen.session.key == "UK123456700002"
        await press(pilot, "2", "h")
        text = " ".join(screen_text(app).split())
        assert "cannot be believed gone before" in text


async def test_keys_and_line_are_two_views_of_one_slip(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "4", "o", "w", "l", "f", "2", "p", "enter", "l")
        entry = screen.query_one("#entry")
        assert entry.has_focus
        await type_in(pilot, "; rest ok; walk 1")
        assert "RH outer: white line fissure, zone 2; pared." in " ".join(screen_text(app).split())
        await press(pilot, "escape")
        assert line_of(screen) == "rh o wlf@2 pare; lf rf lh ok; walk 1"
        await press(pilot, "c", "3", "5", "enter")
        assert [body["kind"] for body in bodies(desk, before)] == ["feet", "mobility", "condition"]


async def test_a_note_goes_with_the_feet(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "w", "0", "m")
        await type_in(pilot, "kicks [b]hard[/b]")
        await press(pilot, "enter")
        assert line_of(screen) == 'all ok "kicks [b]hard[/b]"; walk 0'
        await press(pilot, "enter")
    assert bodies(desk, before) == [{**SOUND, "note": "kicks [b]hard[/b]"}, WALK_0]


async def test_undo_takes_a_bull_back_to_be_said_better_over_many_levels_and_restarts(
    desk: Desk,
) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter", "s", "h", "h", "enter")
        assert screen.session.key == "00093"
        await press(pilot, "u")
        assert screen.session.key == "UK123456700002"
        assert "taken back: 00002" in " ".join(screen_text(app).split())
        assert line_of(screen) == "lf ok; rf s dd healed ip healed; lh rh ok"
    again = crush_app(desk)
    async with again.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "u")
        assert "Last written on this device, 1 entry:" in screen_text(again)
        assert len(bodies(desk, before)) == 1
        await press(pilot, "enter", "u", "y")
        assert screen.session.key == "00417"
        assert bodies(desk, before) == []
        await press(pilot, "w", "1", "enter")
        kept = bodies(desk, before)
        assert kept == [SOUND, {**WALK_0, "score": 1}]
    strikes = [entry for entry in desk.book.snapshot().entries if entry.kind == "strike"]
    assert len(strikes) == 2


async def test_a_key_held_down_takes_back_one_bull_only(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter", "s", "escape", "escape", "enter")
        assert len(bodies(desk, before)) == 2
        app.ticks = lambda: 1000.0
        await press(pilot, "u", "u", "u", "u")
        assert len(bodies(desk, before)) == 1
        assert "held down, it takes back one bull only" in screen_text(app)
        assert crush_of(pilot) is screen


async def test_keys_pressed_while_a_bull_is_saved_are_for_the_next_one(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        for key in ("enter", "w", "1", "enter"):
            await pilot.press(key)
        await settled(pilot)
        # Enter was on its way before anybody saw him: it is pressed again.
        assert (screen.session.key, line_of(screen)) == ("UK123456700002", "walk 1")
        await press(pilot, "enter")
        saved = [e.body for e in standing(desk.book) if e.id not in before]
        assert [(body["bull"], body["kind"]) for body in saved] == [
            ("00417", "feet"), ("UK 123456 700002", "mobility"),
        ]  # fmt: skip
        assert screen.session.key == "00093"


async def test_of_two_bulls_that_fit_nobody_is_guessed(tmp_path: Path) -> None:
    more = [*bull("10417", "Other", "Heifers"), *done("10417")]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", [*estate(), *more]))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "n", "slash", "4", "1", "7", "enter")
        assert screen.session.typing is not None
        assert "Which of them?" in screen_text(app)
        await press(pilot, "down", "down", "enter")
        assert screen.session.key in ("00417", "10417")


async def test_skip_drop_and_bring_back(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "n")
        assert screen.session.key == "UK123456700002"
        assert screen.session.race.keys[-1] == "00417"
        await press(pilot, "up")
        assert screen.session.key == "00417"
        await press(pilot, "x", "x")
        assert screen.session.key == "UK123456700002"
        assert "00417" not in screen.session.race.keys
        await press(pilot, "escape", "c")
        assert "00417" not in crush_of(pilot).session.race.keys


async def test_a_whole_group_is_let_in(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "g", "1")
        assert len(screen.session.race.keys) == 9
        assert "5 bulls new in the race" in screen_text(app)


async def test_a_half_entered_bull_survives_leaving_and_coming_back(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "1", "o", "s", "u", "4", "escape", "escape", "c")
        assert line_of(crush_of(pilot)) == "lf o su@4"
        await press(pilot, "q")
    again = crush_app(desk)
    async with again.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        assert line_of(screen) == "lf o su@4"
        assert "00417 Corran is half entered, not saved" in screen_text(again)


async def test_what_was_saved_before_a_crash_is_not_offered_again(desk: Desk) -> None:
    """The ids are kept before the book is written: the draft of a saved bull is known as saved."""
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        screen.drafts.drop = lambda key: None  # type: ignore[method-assign]
        await press(pilot, "enter")
    again = crush_app(desk)
    async with again.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        assert "Half entered" not in screen_text(again)
        assert screen.session.half_entered == []
    assert bodies(desk, before) == [SOUND]


async def test_readonly_writes_nothing_and_says_so(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.readonly = True
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "s", "enter")
        assert "read only" in screen_text(app)
        await press(pilot, "u")
        assert ids(desk) == before
    assert [path.name for path in tmp_path.iterdir() if "unsaved" in path.name] == []


async def test_a_failed_saving_loses_nothing(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    from readiness.system.errors import BookBusy

    app = crush_app(desk)
    before = ids(desk)

    def busy(*_: object, **__: object) -> None:
        raise BookBusy("The book is busy: another process holds it. Try again.")

    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        with monkeypatch.context() as patched:
            patched.setattr(desk, "add", busy)
            await press(pilot, "enter")
        assert "The book is busy" in screen_text(app)
        assert line_of(screen) == "all ok"
        assert ids(desk) == before
        await press(pilot, "enter")
        assert bodies(desk, before) == [SOUND]


async def test_two_windows_on_one_book_lose_and_double_nothing(desk: Desk, tmp_path: Path) -> None:
    other_desk = desk_at(tmp_path / "bulls.duckdb")
    before = ids(desk)
    one, other = crush_app(desk), crush_app(other_desk)
    async with one.run_test(size=(80, 24)) as first, other.run_test(size=(80, 24)) as second:
        here = await to_crush(first, "s")
        there = await to_crush(second, "n", "1")
        assert here.session.key == "00417"
        assert there.session.key == "UK123456700002"
        await second.press("enter", "s", "h", "h", "w", "0")
        await first.press("w", "0", "enter")
        await second.press("enter")
        await settled(first)
        await settled(second)
        saved = [(e.bull, e.kind) for e in standing(desk.book) if e.id not in before]
        assert sorted(saved) == [
            ("00417", "feet"), ("00417", "mobility"),
            ("UK123456700002", "feet"), ("UK123456700002", "mobility"),
        ]  # fmt: skip
        assert there.session.half_entered == []


async def test_after_a_fight_the_foot_is_asked_for_before_the_shoulder_is_believed(
    desk: Desk,
) -> None:
    """lame.from_foot: about 90 % (published: NADIS, of dairy cattle)."""
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "slash", "2", "8", "8", "enter", *"a9113", "2")
        assert line_of(screen) == "fight lame lh shoulder"
        text = " ".join(screen_text(app).split())
        assert "Lift LH before the shoulder is believed: about 90 % of lameness" in text
        assert "NADIS" in text
        await press(pilot, "enter")
        assert bodies(desk, before)[0]["suspect"] == "shoulder"
        card = desk.card("288")
        assert {"lift", "mobility"} <= {c.check for c in card.assessment.outstanding}
        await press(pilot, "slash", "2", "8", "8", "enter")
        await press(pilot, "3", "o", "s", "u", "4", "enter", "enter")
        await press(pilot, "slash", "2", "8", "8", "enter")
        text = " ".join(screen_text(app).split())
        assert "the shoulder LH was suspected on 3 Apr; on 3 Apr the foot showed sole ulcer LH" in (
            text
        )


async def test_lame_with_nothing_found_in_the_foot_asks_the_vet(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        await to_crush(pilot, "s", "enter")
        assert "vet look" in screen_text(app)


@pytest.mark.parametrize("key", ["slash", "g", "tab"])
async def test_no_key_is_lost_while_a_crush_opens_in_which_nobody_waits(
    tmp_path: Path, key: str
) -> None:
    """The first ones after it was opened went nowhere, and nothing was said."""
    far = {"kind": "group", "on": ago(9), "group": "Late", "farm": "Sallow Fell"}
    far["turnout"] = "2026-09-20"
    desk = desk_at(tmp_path / "bulls.duckdb", [far, *bull("555", "Young", "Late")])
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await quickly(pilot, "c", key)
        await settled(pilot)
        screen = app.screen_stack[1]
        assert isinstance(screen, CrushScreen)
        if key == "slash":
            assert screen.session.typing is not None
        else:
            assert app.screen is not screen, "a list stands over it"


async def test_the_first_key_is_not_lost_while_the_book_is_read(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await pilot.press("c", "s", "w", "0")
        await settled(pilot)
        assert line_of(crush_of(pilot)) == "all ok; walk 0"


async def test_each_code_explains_itself_with_its_source(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        await to_crush(pilot, "e")
        text = " ".join(screen_text(app).split())
        assert "ICAR Claw Health Atlas" in text
        assert "Asymmetric claws (AC), on a claw." in text
        await press(pilot, "escape", "1", "o", "question_mark")
        assert "What each code means" in screen_text(app)


async def test_at_several_farms_one_is_asked_at_which_one_is(tmp_path: Path) -> None:
    more = [
        {"kind": "bull", "on": ago(200), "bull": "55", "name": "Far", "farm": "Low End"},
        of("55", "mobility", 1, scale="gb0-3", score=2, limb="LF"),
    ]
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", [*estate(), *more]))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "c")
        assert "At which farm are you?" in screen_text(app)
        await press(pilot, "1")
        assert crush_of(pilot).session.race.keys == ("55",)


async def test_a_key_pressed_before_the_farm_is_asked_for_answers_that_and_no_bull(
    tmp_path: Path,
) -> None:
    """Fingers know "c 2" after a day: the 2 is no right fore of whoever comes first."""
    more = [{"kind": "bull", "on": ago(200), "bull": "55", "name": "Far", "farm": "Low End"},
            of("55", "mobility", 1, scale="gb0-3", score=2, limb="LF")]  # fmt: skip
    app = crush_app(desk_at(tmp_path / "bulls.duckdb", [*estate(), *more]))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        screen = CrushScreen()
        await app.push_screen(screen)
        screen.errands.wait("2", 0)
        await settled(pilot)
        assert "At which farm are you?" not in screen_text(app)
        assert screen.session.team == Team("Sallow Fell")
        assert screen.session.pad is not None and screen.session.pad.mode == screen.session.pad.top


async def test_the_help_names_no_key_for_what_the_screen_uses_it_otherwise(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(120, 60)) as pilot:
        await to_crush(pilot, "question_mark")
        text = screen_text(app)
        assert "the last one in the race comes first" in text
        assert "every action by name" not in text


async def test_every_answer_and_action_is_in_the_help_and_in_the_palette(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(120, 60)) as pilot:
        screen = await to_crush(pilot)
        offered = {
            command.title: command.callback for command in app.get_system_commands(app.screen)
        }
        assert {"All four sound", "Walk", "Block", "Take back what was last saved, to say it again",
                "A note in your own words", "Quit"} <= offered.keys()  # fmt: skip
        offered["All four sound"]()
        await settled(pilot)
        assert line_of(screen) == "all ok"
        await press(pilot, "question_mark")
        text = screen_text(app)
        assert "a part of him, fight, illness" in text
        assert "a whole group or farm comes next" in text


async def test_keys_that_waited_go_where_they_would_have_gone(desk: Desk) -> None:
    """While a bull is being saved: the line into which the next tag is typed, too."""
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        await quickly(pilot, "enter", "slash", "9", "3", "enter", "b", "minus")
        assert screen.session.key == "00093"
        assert line_of(screen) == "block lh o off"
        await quickly(pilot, "enter", "l", *"walk", "space", "1", "enter")
    kinds = [entry.kind for entry in standing(desk.book) if entry.id not in before]
    assert kinds == ["feet", "block-off", "mobility"]


async def test_a_key_that_waited_behind_a_form_says_nothing_of_the_bull(desk: Desk) -> None:
    """Pressed while the bull before is saved: 1 is the outcome in the form, no left fore."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        await quickly(pilot, "enter", "v", "1", "1", "x")
        assert "Vet's word: 00002" in screen_text(app)
        assert screen.session.pad is not None and screen.session.pad.mode == screen.session.pad.top
        assert line_of(screen) == ""


async def test_undo_shows_what_another_screen_wrote_before_it_takes_that_back(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter")
        walk = next(e for e in desk.card("288").entries if e.kind == "mobility")
        desk.correct(walk.id, [{**walk.body, "score": 1}])
        before = ids(desk)
        await press(pilot, "u")
        text = " ".join(screen_text(app).split())
        assert "00288 31 Mar: Walk 1 (GB scale 0-3)." in text
        assert "stands again: 31 Mar: Walk 0 (GB scale 0-3)." in text
        assert ids(desk) == before
        await press(pilot, "y")
        assert screen.session.key == "00288"
        assert next(e for e in desk.card("288").entries if e.kind == "mobility").body["score"] == 0


async def test_a_slip_on_q_or_x_loses_nobody(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "q")
        assert "q again ends the program" in screen_text(app)
        await press(pilot, "w", "0", "x", "x")
        assert app.is_running
        assert "00417 Corran is out of the race for today" in screen_text(app)
        await press(pilot, "slash", "4", "1", "7", "enter")
        assert line_of(screen) == "all ok; walk 0"
        await press(pilot, "q", "q")
    assert app.return_code == 0


async def test_a_line_sent_in_one_go_is_read_whole(desk: Desk) -> None:
    """As over a slow line, where many keys come at once."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        await quickly(pilot, "l", *"all", "space", *"ok", "semicolon", *"wa", "tab", "2", "escape")
        assert line_of(screen) == "all ok; walk 2"
        await quickly(pilot, "slash", *"93", "enter", "s", "h")
        assert (screen.session.key, line_of(screen)) == ("00093", "lf rf ok; lh i su healed; rh ok")


PATHS = (
    "", "1", "1 o", "1 o t", "1 o s u", "1 , d d", "1 , d d 0", "1 o enter z", "w", "w 2", "c",
    "c 3", "k", "b", "1 o s u 4", "1 o s u 4 2", "1 o s u .", "1 o s u z", "a", "a 6", "a 4", "b 2",
    "a 9", "a 9 1", "a 9 1 1", "a 9 1 1 1", "a 9 4",
)  # fmt: skip
KNOWN = [*"abcdefghijklmnopqrstuvwxyz0123456789,+-=.?/", "Enter", "Esc", "up"]
SIZES = [(60, 20), (80, 24), (120, 40)]


@pytest.mark.parametrize("size", SIZES)
def test_every_question_fits_its_rows(size: tuple[int, int]) -> None:
    """No key that answers is cut off, whatever is asked."""
    for path in PATHS:
        pad = (yard := Yard(*path.split())).session.pad
        assert pad is not None
        made = picture(None, yard.session, *size, glyphs_for("utf-8"))
        assert made is not None and bool(made.keys) == bool(path)
        lines = made.parts["question"].plain.split("\n")
        assert len(lines) <= made.heights["asking"], path
        assert max(map(cell_len, lines)) <= size[0] - (BIG if made.big else 0), path
        shown = " ".join(" ".join(lines).split())
        for key, words, spare in pad.keys:
            # From 80x24 on names stand before the codes.
            bare = spare and size[0] < 80
            named = f"{words} {key}" if spare else f"{key} {words}"
            assert (key if bare else named.strip()) in shown, (path, key, words)


async def test_every_question_fits_the_smallest_screen(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=SIZES[0]) as pilot:
        screen = await to_crush(pilot)
        for path in PATHS:
            await quickly(pilot, *path.replace(".", "full_stop").replace(",", "comma").split())
            assert screen.session.pad is not None
            shown = " ".join(screen_text(app).split())
            for key, words, spare in screen.session.pad.keys:
                assert (key if spare else f"{key} {words}".strip()) in shown, (path, key, words)
            keys = " ".join(" ".join(screen_lines(app)[-2:]).split())
            assert keys.startswith("Backspace back" if path else "Enter save"), path
            for key in ("Esc", "m note", "g group", "n next", "/ bull", "? help"):
                assert f" {key}" in keys, path
            await quickly(pilot, *["backspace"] * len(screen.session.pad.steps))


def test_that_a_foot_is_wrapped_is_not_cut_off_behind_what_else_was_done() -> None:
    made = picture(None, Yard(*"1osu42pdbr").session, 80, 24, glyphs_for("utf-8"))
    assert made is not None
    assert "LF lifted wrap" in " ".join(made.parts["feet"].plain.split())


@pytest.mark.parametrize("size", [*SIZES, (100, 30), (200, 50)])
@pytest.mark.parametrize("keys", ["", "1", "w"])
def test_what_leads_out_and_the_keys_for_a_note_and_a_group_stand_on_every_screen(
    size: tuple[int, int], keys: str
) -> None:
    """At 60x20 they were the first to go; a message takes a row of them, and not these."""
    for message in ("", "A message. " * 9):
        session = replace(Yard(*keys.split()).session, message=message)
        made = picture(None, session, *size, glyphs_for("utf-8"))
        assert made is not None
        own = bindings_of([*CrushScreen.BINDINGS, *ReadinessApp.BINDINGS])
        line = made.keys or [(key_words(each), each.description) for each in own if each.show]
        shown = in_rows(line, size[0], made.heights["keys"]).plain
        assert all(cell_len(row) <= size[0] for row in shown.split("\n"))
        if size[0] >= 80:
            assert all(f" {key} {words}" in shown for key, words in line), shown
        assert all(key in shown for key in ("Esc", "m note", "g group", "? help")), shown
        rows = 1 + BIG_ROWS + 1 + made.heights["due"] + made.heights["feet"] + made.heights["keys"]
        rows += made.heights["words"] + made.heights["asking"] + made.heights["coming"]
        assert rows + made.parts["line"].plain.count("\n") + bool(message) <= size[1]


def test_an_open_finding_stands_at_its_zone_beside_the_block_of_the_other_claw() -> None:
    made = picture(None, Yard("/", *"93", "enter").session, 120, 40, glyphs_for("utf-8"))
    assert made is not None
    drawn = made.parts["feet"].plain.split("\n")
    [row] = [line for line in drawn if "SU2" in line]
    assert row.index("│") < row.index("■SU2")  # on the claw, not beside its name
    assert "BLOCK" in "\n".join(drawn)
    narrow = picture(None, Yard("/", *"93", "enter").session, 80, 24, glyphs_for("utf-8"))
    assert narrow is not None and "■SU2@4 open" in narrow.parts["feet"].plain


def test_a_wrap_said_today_stands_on_the_drawn_feet() -> None:
    made = picture(None, Yard("1", "r").session, 120, 40, glyphs_for("utf-8"))
    assert made is not None and "LF left fore, lifted, wrapped" in made.parts["feet"].plain


@sampled("path", ["1 o s u 4", "", "1", "1 o", "b"])
async def test_help_lists_each_key_once(desk: Desk, path: str) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(120, 70)) as pilot:
        await to_crush(pilot, *path.split())
        app.action_help()
        await settled(pilot)
        table = cast(Table, app.screen.query_one("#left", Static).content)
        keys = [key for cell in table.columns[0]._cells for key in str(cell).split(", ")]
        known = [key for key in keys if key in KNOWN]
        assert len(known) == len(set(known)), sorted(known)
        assert {"m", "g", "u", "Enter"} <= set(known)


@sampled(
    ("keys", "key", "line"),
    [
        (("slash", "9", "3", "enter", "s", "h"), "00093", "lf rf ok; lh i su healed; rh ok"),
        (("slash", "2", "8", "8", "s", "w", "0"), "00288", "all ok; walk 0"),
        (("l", *"walk", "space", "1", "enter", "w", "0"), "UK123456700002", "walk 0"),
        (("s", "m", *"calm", "enter", "w", "0"), "00417", 'all ok "calm"; walk 0'),
    ],
    first=2,
)
async def test_keys_sent_in_one_go_behind_an_open_line_are_for_what_comes_after_it(
    desk: Desk, keys: tuple[str, ...], key: str, line: str
) -> None:
    """The line takes the keys that are its own and no more, however fast they come."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        opens = 2 if keys[0] == "s" else 1
        screen = await to_crush(pilot, *keys[:opens])
        await quickly(pilot, *keys[opens:])
        assert (screen.session.key, line_of(screen)) == (key, line)


async def test_the_first_bull_saved_waits_for_nothing_that_could_be_made_ready_before(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def late(shape: object) -> None:
        raise AssertionError(f"built when a bull is saved: {shape}")

    validate.adapter.cache_clear()
    before, app = ids(desk), crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot)
        monkeypatch.setattr(validate, "TypeAdapter", late)
        await press(pilot, "s", "w", "0", "enter")
    assert len(ids(desk) - before) == 2


async def test_whoever_never_rests_sees_what_others_wrote_but_no_saving_of_his_own_as_theirs(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        at = screen.session.pressed[1]
        app.ticks = lambda: at + 0.2
        asked: list[object] = []
        monkeypatch.setattr(screen, "run_worker", lambda job, **how: asked.append(job))
        screen.errands.busy = True
        for _ in range(20):
            screen._look()
        assert asked == []
        screen.errands.busy = False
        screen._look()
        assert asked == [screen._look_for_others]


async def test_garbage_is_looked_for_while_nobody_presses_keys_and_as_usual_after_the_crush(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: list[float] = []
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "enter")
        assert not gc.isenabled()
        monkeypatch.setattr(garbage, "MUCH", 0)
        monkeypatch.setattr(gc, "collect", lambda: looked.append(app.ticks()))
        at = screen.session.pressed[1]
        app.ticks = lambda: at + 0.2
        screen._look()
        assert looked == []
        app.ticks = lambda: at + 2
        screen._look()
        assert looked == [at + 2]
        monkeypatch.setattr(garbage, "MUCH", 10**9)
        screen._look()
        assert len(looked) == 1
        await press(pilot, "escape")
        assert gc.isenabled()
