"""What was said of a bull's feet, mended on the feet as they are drawn."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from readiness.desk.desk import Desk
from readiness.system.errors import BookBusy
from readiness.tui.crush.screen import CrushScreen
from readiness.tui.shared.mend import Mend
from readiness.tui.shared.reading import told
from tests.build import standing
from tests.tui.crush_driver import (
    bodies,
    crush_app,
    ids,
    line_of,
    quickly,
    to_crush,
    type_in,
)
from tests.tui.driver import press, screen_lines, screen_text, settled, squeezed
from tests.tui.estate import desk_at, estate, of
from tests.volume import sampled


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


async def to_brock(pilot: Pilot[None]) -> None:
    """On a block for a sole ulcer of the left hind, inner claw, since 30 days."""
    await settled(pilot)
    await press(pilot, "slash", *"brock", "enter", "enter", "asterisk")


def feet_of(desk: Desk, before: set[str]) -> list[dict[str, Any]]:
    return [each for each in bodies(desk, before) if each["kind"] not in ("strike", "mobility")]


ULCER = {"foot": "LH", "claw": "inner", "code": "SU", "zone": 4, "severity": 2}
EROSION = {"foot": "LH", "claw": "outer", "code": "HHE", "zone": 6, "severity": 1}
PARED = {"foot": "LH", "claw": "inner", "act": "pare"}
FOUND = {"kind": "feet", "lifted": ["LH"], "findings": [ULCER, EROSION], "work": [PARED]}
BLOCK = {"kind": "block-on", "foot": "LH", "claw": "outer"}


@sampled(
    ("keys", "said"),
    [
        (  # the foot and all that was said of it, the block too
            ["3", "f", "4"],
            [
                {
                    "kind": "feet",
                    "lifted": ["RH"],
                    "findings": [{**ULCER, "foot": "RH"}, {**EROSION, "foot": "RH"}],
                    "work": [{**PARED, "foot": "RH"}],
                },
                {**BLOCK, "foot": "RH"},
            ],
        ),
        (["3", "down", "plus"],
         [{**FOUND, "findings": [{**ULCER, "severity": 3}, EROSION]}, BLOCK]),
        (["3", "down", "minus", "minus"],
         [{**FOUND, "findings": [{**ULCER, "severity": 1}, EROSION]}, BLOCK]),
        (["3", "down", "z", "5"],
         [{**FOUND, "findings": [{**ULCER, "zone": 5}, EROSION]}, BLOCK]),
        (["3", "down", "z", "full_stop", "1"],
         [{**FOUND, "findings": [{**ULCER, "zone": 11}, EROSION]}, BLOCK]),
        (["3", "down", "o"],
         [{**FOUND, "findings": [{**ULCER, "claw": "outer"}, EROSION]}, BLOCK]),
        (["3", "down", "f", "1"],
         [{**FOUND, "lifted": ["LH", "LF"],
           "findings": [{**ULCER, "foot": "LF"}, EROSION]}, BLOCK]),
        (["3", "x"],
         [{**FOUND, "findings": [{**ULCER, "claw": "outer"}, {**EROSION, "claw": "inner"}],
           "work": [{**PARED, "claw": "outer"}]}, {**BLOCK, "claw": "inner"}]),
    ],
)  # fmt: skip
async def test_what_was_wrong_is_said_anew_in_one_batch_and_one_undo_takes_it_back(
    desk: Desk, keys: list[str], said: list[dict[str, Any]]
) -> None:
    before, stood = ids(desk), standing(desk.book)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_brock(pilot)
        await press(pilot, *keys, "enter")
        assert feet_of(desk, before) == said
        new = [each.body for each in standing(desk.book) if each.id not in before]
        assert {(each["on"], each["by"]) for each in new if each["kind"] == "feet"} == {
            ("2026-03-04", "A. Trimmer")
        }
        await press(pilot, "u", "y")
    assert [each.body for each in standing(desk.book)] != []
    assert sorted(str(e.body) for e in standing(desk.book)) == sorted(str(e.body) for e in stood)


@pytest.mark.long
async def test_two_feet_mistaken_for_each_other_change_places_and_the_others_stay(
    desk: Desk,
) -> None:
    sound = {"foot": "RH", "act": "trim"}
    desk.add([of("00288", "feet", 1, lifted=["LF", "LH", "RH"], refused=["RF"],
                 findings=[{**ULCER, "foot": "LH"}], healed=[{"foot": "LF", "claw": "inner",
                 "code": "SH"}], work=[sound])])  # fmt: skip
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(60, 20)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"rowan", "enter", "enter", "asterisk", "3", "f", "4", "enter")
    [said] = feet_of(desk, before)
    assert said == {
        "kind": "feet",
        "lifted": ["LF", "RH", "LH"],
        "refused": ["RF"],
        "findings": [{**ULCER, "foot": "RH"}],
        "healed": [{"foot": "LF", "claw": "inner", "code": "SH"}],
        "work": [{**sound, "foot": "LH"}],
    }


async def test_the_day_of_all_that_was_said_at_the_crush_is_put_right(desk: Desk) -> None:
    desk.add(
        [
            of("00288", "feet", 2, lifted=["LF"]),
            of("00288", "mobility", 2, scale="gb0-3", score=0),
            of("00288", "treatment", 2, given_by="A", product="B"),
        ]
    )
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"rowan", "enter", "enter", "asterisk", "d")
        await type_in(pilot, "31 mar")
        await press(pilot, "enter", "enter")
    new = [each.body for each in standing(desk.book) if each.id not in before]
    assert [(each["kind"], each["on"]) for each in new] == [
        ("feet", "2026-03-31"),
        ("mobility", "2026-03-31"),
    ]


@pytest.mark.long
async def test_a_day_to_come_and_no_day_are_refused_where_they_are_typed(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_brock(pilot)
        await press(pilot, "d")
        for text, told in (("2027-01-01", "isstilltocome"), ("31 feb", "31feb")):
            await press(pilot, "ctrl+u")
            await type_in(pilot, text)
            await press(pilot, "enter")
            assert told in squeezed(app)
        await press(pilot, "escape", "enter")
    assert ids(desk) == before


async def test_what_cannot_be_said_there_is_refused_and_nothing_changes(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_brock(pilot)
        await press(pilot, "3", "down", "comma")  # a sole ulcer of the skin
        assert "SU" in screen_text(app) and "!" in screen_text(app)
        await press(pilot, "3", "plus")
        assert "Ofwhichthing?" in squeezed(app)
        await press(pilot, "down", "plus", "plus")
        assert "worstalready" in squeezed(app)
        await press(pilot, "backspace", "enter")
    assert ids(desk) == before


async def test_a_key_that_means_nothing_takes_what_follows_in_one_breath_with_it(
    desk: Desk,
) -> None:
    app = crush_app(desk)
    app.ticks = lambda: 0.0
    before = ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"brock", "enter", "enter", "asterisk")
        await quickly(pilot, "w", "3", "f", "4")
        assert "w means nothing here" in screen_text(app)
        await press(pilot, "enter")
        assert not isinstance(app.screen, Mend)
    assert ids(desk) == before


async def test_a_zone_that_is_none_is_refused_and_the_one_said_stays(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_brock(pilot)
        await press(pilot, "3", "z")
        assert "Ofwhichfinding?" in squeezed(app)
        await press(pilot, "down", "z")
        assert "Inwhichzonewasit?0-9,or.for10-12" in squeezed(app)
        await press(pilot, "full_stop", "7")
        assert "7meansnothinghere" in squeezed(app)
        await press(pilot, "z", "w", "enter")
        assert not isinstance(app.screen, Mend)
    assert ids(desk) == before


async def test_what_stays_on_a_foot_when_one_finding_leaves_it_is_said(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_brock(pilot)
        await press(pilot, "3", "down", "f", "1")
        assert "Thisalone;LHkeepswhatelsewassaidofit(fofLH)." in squeezed(app)


async def test_a_foot_put_right_says_that_his_walk_is_still_lame_on_the_other(desk: Desk) -> None:
    """The vet's look at the foot he was lame on answered nothing."""
    desk.add(
        [
            of("00288", "feet", 2, lifted=["RF"], findings=[{**ULCER, "foot": "RF"}]),
            of("00288", "mobility", 2, scale="gb0-3", score=2, limb="RF"),
        ]
    )
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"rowan", "enter", "enter", "asterisk", "2", "f", "1")
        assert "ThatheislameRFstayssaid" in squeezed(app)


@pytest.mark.long
async def test_earlier_lifts_are_a_key_away_but_not_from_what_is_not_saved(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_brock(pilot)
        assert "lift 2 of 2" in screen_text(app)
        await press(pilot, "left")
        assert "lift 1 of 2" in screen_text(app) and "2 Feb 2026" in screen_text(app)
        await press(pilot, "left")
        assert "no earlier lift" in screen_text(app)
        await press(pilot, "right", "3", "down", "plus", "left")
        assert "lift 2 of 2" in screen_text(app) and "notsaved" in squeezed(app)
    assert ids(desk) == before


@sampled("size", [(60, 20), (80, 24), (120, 40)], of=((60, 20),))
async def test_the_foot_in_the_hand_is_drawn_and_what_was_said_of_it_listed(
    desk: Desk, size: tuple[int, int]
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=size) as pilot:
        await to_brock(pilot)
        await press(pilot, "down")
        lines = screen_lines(app)
        assert any("LH left hind" in line for line in lines)
        assert any("SU2" in line for line in lines)
        assert any("BLOCK" in line for line in lines)
        assert any("inner: sole ulcer" in line for line in lines)
        assert any("Esc leaves it" in line for line in lines) or "Escleavesit" in squeezed(app)


async def test_where_the_book_is_busy_what_was_mended_stands_there_again(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = ids(desk)

    def busy(*_: object, **__: object) -> None:
        raise BookBusy("The book is held by process 4711.")

    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_brock(pilot)
        await press(pilot, "3", "f", "4")
        with monkeypatch.context() as patched:
            patched.setattr(desk, "instead", busy)
            await press(pilot, "enter")
        assert ids(desk) == before
        assert isinstance(app.screen, Mend)
        await press(pilot, "enter")
    assert [each["lifted"] for each in feet_of(desk, before) if each["kind"] == "feet"] == [["RH"]]


@pytest.mark.long
async def test_what_was_withdrawn_meanwhile_is_not_said_twice(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_brock(pilot)
        last = next(each for each in desk.card("00093").entries if each.kind == "feet")
        desk_at(desk.book.path).strike(last.id, "twice")
        before = ids(desk)
        await press(pilot, "3", "f", "4", "enter")
        assert ids(desk) == before
        assert "meanwhile" in screen_text(app)


@pytest.mark.long
async def test_readonly_and_a_bull_never_lifted_say_so(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settled(pilot)
        await press(pilot, "slash", *"wren", "enter", "enter", "asterisk")
        assert "No lift of his" in screen_text(app)
        desk.readonly = True
        await press(pilot, "asterisk")
        assert "read only" in screen_text(app)


@pytest.mark.parametrize(
    ("keys", "line"),
    [
        (["plus"], "lf o su@4/3 pare; block lf i"),
        (["minus"], "lf o su@4/1 pare; block lf i"),
        (["i"], "lf i su@4/2; o pare; block lf i"),
        (["c", *"bu", "enter"], "lf o bu@4/2 pare; block lf i"),
    ],
    ids=lambda each: each[0] if isinstance(each, list) else "",
)
async def test_the_one_finding_of_a_foot_is_meant_without_choosing_it(
    desk: Desk, keys: list[str], line: str
) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await of_rowan(pilot, "1", *"osu42pb", "enter", "asterisk", "1", *keys, "enter")
        assert line_of(screen) == line


async def test_what_is_asked_goes_once_it_is_chosen_and_right_chooses_where_one_lift_stands(
    desk: Desk,
) -> None:
    """Right, the first arrow that one tries, said that there is no later lift."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "slash", *"wren", "enter")  # he was never lifted before
        await press(pilot, "1", *"osu42", "i", *"sh41", "enter", "asterisk", "1")
        await press(pilot, "plus")
        assert "Ofwhichthing?Upanddownchoose" in squeezed(app)
        await press(pilot, "right")
        assert "Ofwhichthing?" not in squeezed(app)
        await press(pilot, "plus", "right", "left", "plus")
        assert "worstalready" in squeezed(app)
        await press(pilot, "right", "plus", "enter")
        assert line_of(screen) == "lf o su@4/3; i sh@4/2"


async def test_with_several_lifts_right_says_which_arrows_choose(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_brock(pilot)
        await press(pilot, "3", "right")
        assert "Thereisnolaterlift.Upanddownchoose" in squeezed(app)


async def test_two_feet_that_change_places_are_said_to_before_it_is_saved(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await of_rowan(pilot, "1", *"osu42", "enter", "2", *"osh41", "enter", "asterisk")
        await press(pilot, "2", "f", "1")
        assert "RF'sgoestoLF,andLF'stoRF." in squeezed(app)
        await press(pilot, "backspace")
        assert "goesto" not in squeezed(app)
        await press(pilot, "2", "f", "3")
        assert "goesto" not in squeezed(app)  # of LH nothing was said


# ---- in the crush --------------------------------------------------------------------------------


async def of_rowan(pilot: Pilot[None], *keys: str) -> CrushScreen:
    """In the crush stands Rowan, who has nothing open."""
    return await to_crush(pilot, "slash", *"rowan", "enter", *keys)


async def test_half_entered_the_foot_is_mended_and_backspace_takes_that_back(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(60, 20)) as pilot:
        screen = await of_rowan(pilot, "1", *"osu42pdb", "enter", "asterisk", "f", "2", "enter")
        assert line_of(screen) == "rf o su@4/2 pare dress; block rf i"
        await press(pilot, "backspace")
        assert line_of(screen) == "lf o su@4/2 pare dress; block lf i"
        await press(pilot, "asterisk", "1", "down", "plus", "escape")
        assert line_of(screen) == "lf o su@4/2 pare dress; block lf i"
    assert ids(desk) == before


async def test_the_day_of_what_is_half_entered_is_the_one_it_is_saved_under(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await of_rowan(pilot, "s", "w", "0", "asterisk", "d")
        await type_in(pilot, "1 apr")
        await press(pilot, "enter", "enter", "enter")
    new = [each.body for each in standing(desk.book) if each.id not in before]
    assert {(each["kind"], each["on"]) for each in new} == {
        ("feet", "2026-04-01"),
        ("mobility", "2026-04-01"),
    }


async def test_what_holds_him_on_the_foot_it_was_is_asked_for(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "slash", *"brock", "enter", "4", *"osh41", "enter")
        await press(pilot, "asterisk", "f", "3", "enter")
        assert "Sole ulcer" in screen_text(app) and "and now?" in screen_text(app)
        await press(pilot, "equals_sign")
        assert line_of(screen) == "lh o sh@4/1; i su"


@pytest.mark.long
async def test_what_was_saved_before_is_mended_from_the_crush_too(desk: Desk) -> None:
    before, app = ids(desk), crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "slash", *"brock", "enter")
        await press(pilot, "asterisk", "3", "f", "4", "enter")
        assert screen.session.last is not None
        assert screen.session.last.title.startswith("mended 00093")
        gone = [words for words in screen.session.last.means if "look LH" in words]
        assert [words.partition(":")[0] for words in gone] == ["asked no more"]  # nobody looked
        assert [each["lifted"] for each in feet_of(desk, before) if "lifted" in each] == [["RH"]]
        await press(pilot, "u", "y")
    assert feet_of(desk, before) == [FOUND, BLOCK]  # they stand again, under new ids


async def test_once_one_who_is_done_is_mended_he_who_was_in_front_stands_there_again(
    desk: Desk,
) -> None:
    """The mended one stayed: Enter said that nothing is said of him, and the next bull's keys were
    typed onto him."""
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "1", *"osu42", "enter", "s", "enter")
        front, through = screen.session.key, screen.session.through
        await press(pilot, "slash", *"417", "enter", "asterisk", "1", "down", "plus", "enter")
        assert (screen.session.key, screen.session.through) == (front, through)
        told = "Mended 00417 Corran. 00002 Sorrel stands in the crush."
        assert told in screen_text(app)
        await press(pilot, "s")
        assert line_of(screen) == "all ok" and list(screen.session.drafts) == [front]


@pytest.mark.long
async def test_where_nothing_can_be_mended_that_is_said(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "slash", *"wren", "enter", "asterisk")
        assert "No lift of his" in screen_text(app)
        assert not isinstance(app.screen, Mend)


@pytest.mark.long
async def test_keys_typed_in_one_go_reach_the_feet_as_drawn(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await of_rowan(pilot, "1", *"osu42", "enter")
        await quickly(pilot, "asterisk", "f", "2", "enter")
        assert line_of(screen) == "rf o su@4/2"
        await press(pilot, "backspace")
        await quickly(pilot, "asterisk", "down", "plus", "enter", "w", "0")
        assert line_of(screen) == "lf o su@4/3; walk 0"


async def test_a_wrong_code_is_mended_by_a_key_and_what_is_typed_for_it(desk: Desk) -> None:
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(60, 20)) as pilot:
        await to_brock(pilot)
        await press(pilot, "3", "c")
        assert "Ofwhichfinding?" in squeezed(app)
        await press(pilot, "down", "c")
        await type_in(pilot, "ulcer")
        assert "SUsoleulcer,BUbulbulcer,TUtoeulcer" in squeezed(app)
        await press(pilot, "enter")
        assert "Whichofthem?SU,BU,TU" in squeezed(app)
        await press(pilot, *["backspace"] * 5)
        await type_in(pilot, "bu")
        await press(pilot, "enter", "enter")
    [said] = [each for each in feet_of(desk, before) if each["kind"] == "feet"]
    assert said["findings"] == [{**ULCER, "code": "BU"}, EROSION]


def test_what_is_about_to_be_taken_back_is_told_once_beside_what_stands_again(desk: Desk) -> None:
    """A lift mended: the foot it is now goes and the one it was comes back, the bull named once.
    The walk, withdrawn and said again word for word, is not told; another day is."""
    walk = of("00093", "mobility", 2, scale="gb0-3", score=0)
    first = desk.add([of("00093", "feet", 2, lifted=["LF"]), walk])
    desk.instead(first.written, [of("00093", "feet", 0, lifted=["RF"]), walk], "mended")
    last = told(desk, desk.last_said())
    assert last.strikes
    assert last.said == (
        "00093 RF lifted, nothing to note.",
        "stands again: 1 Apr: LF lifted, nothing to note.",
    )
