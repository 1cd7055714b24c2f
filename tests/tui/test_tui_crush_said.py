"""On the real screen: a severity that is not said, wraps, a part of him, and what the vet says."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from readiness.desk.desk import Desk
from readiness.tui.app import ReadinessApp
from tests.tui.crush_driver import bodies, crush_app, ids, line_of, to_crush, type_in
from tests.tui.driver import press, screen_text
from tests.tui.estate import desk_at, estate, of
from tests.volume import sampled

SIZE = (80, 24)
HIM = ("slash", "4", "1", "7", "enter")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def wrapped(tmp_path: Path) -> Desk:
    """00417 has had a wrap on his left fore for two days."""
    work = [{"foot": "LF", "act": "wrap"}]
    lift = of("00417", "feet", 2, lifted=["LF"], work=work)
    return desk_at(tmp_path / "bulls.duckdb", [*estate(), lift])


def shown(app: ReadinessApp) -> str:
    return " ".join(screen_text(app).split())


async def test_no_enter_is_offered_where_the_line_cannot_be_read(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=SIZE) as pilot:
        screen = await to_crush(pilot, "s", "l")
        await type_in(pilot, "; wolk")
        await press(pilot, "escape")
        assert "Enter saves" not in shown(app)
        assert "The line cannot be read yet: l mends it, Backspace takes" in shown(app)
        await press(pilot, "w", *["backspace"] * 6, "escape")
        assert line_of(screen) == "all ok" and "Enter saves" in shown(app)
        assert "cannot be read" not in shown(app)


async def test_a_severity_gone_past_is_said_to_hold_him_before_and_after_saving(desk: Desk) -> None:
    told = "white line fissure, LF outer: severity not said: it holds him"
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=SIZE) as pilot:
        await to_crush(pilot, "1", "o", "w", "l", "f", "2")
        assert "how bad?" in shown(app)
        assert "1 slight 2 moderate 3 severe" in shown(app)
        assert "not said" not in shown(app)
        await press(pilot, "p")
        assert "white line fissure, severity not said: it holds him" in shown(app)
        await press(pilot, "s")
        assert shown(app).count(told) == 1
        await press(pilot, "enter")
        assert "saved 00417 Corran" in shown(app)
        assert told in shown(app)
    [feet] = bodies(desk, before)
    assert "severity" not in feet["findings"][0]
    assert desk.card("417").state.feet.open["LF", "outer", "WLF"].holds


async def test_a_severity_said_by_one_digit_is_written(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=SIZE) as pilot:
        await to_crush(pilot, "1", "o", "w", "l", "f", "full_stop", "1", "1", "p", "enter")
        assert "not said" not in shown(app)
        await press(pilot, "enter")
    [feet] = bodies(desk, before)
    assert feet["findings"] == [
        {"foot": "LF", "claw": "outer", "code": "WLF", "zone": 11, "severity": 1}
    ]


@sampled("size", [SIZE, (60, 20), (120, 40)])
async def test_a_wrap_that_is_on_is_said_on_his_card_at_every_size(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = crush_app(wrapped(tmp_path))
    async with app.run_test(size=size) as pilot:
        await to_crush(pilot, *HIM)
        assert "WRAP 1 Apr" in shown(app)
        await press(pilot, "w", "0")
        assert "not lame, but on a wrap" in shown(app)


async def test_a_wrap_comes_off_by_its_key_or_with_the_lift(tmp_path: Path) -> None:
    desk = wrapped(tmp_path)
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=SIZE) as pilot:
        screen = await to_crush(pilot, *HIM, "1")
        assert "Left fore, wrapped: which claw?" in shown(app)
        assert "r wrap off" in shown(app)
        await press(pilot, "r", "enter")
        assert line_of(screen) == "lf unwrap"
        assert "WRAP" not in shown(app)
        await press(pilot, "enter")
        assert bodies(desk, before)[0]["work"] == [{"foot": "LF", "act": "unwrap"}]
    assert desk.card("417").state.wraps == {}


async def test_after_a_fight_a_part_of_him_that_is_wrong_holds_him_and_asks_the_vet(
    desk: Desk,
) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await to_crush(pilot, "slash", "2", "8", "8", "enter", *"a910", "enter", "a")
        await press(pilot, "4", "plus")
        assert line_of(screen) == "fight not lame; body eyes wrong"
        await press(pilot, "enter")
        assert [body["kind"] for body in bodies(desk, before)] == ["incident", "body"]
        assert "HOLD for a reason: eyes wrong" in shown(app)
        assert "vet look" in shown(app)


async def test_esc_takes_a_part_of_him_back_on_the_screen(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=SIZE) as pilot:
        screen = await to_crush(pilot, "a", "4", "plus", "a", "4", "escape")
        assert line_of(screen) == ""


LOOKS = [
    (("3", "1"), "eyes", {"about": "body", "outcome": "fit", "part": "eyes"}),
    (("3", "3"), "", {"about": "body", "outcome": "again"}),
    (("1", "2"), "", {"about": "lame", "outcome": "unfit"}),
    (("4", "1"), "", {"about": "illness", "outcome": "fit"}),
    (("5", "3"), "", {"about": "other", "outcome": "again"}),
]


@sampled(("answers", "part", "said"), LOOKS, first=2)
async def test_a_vets_look_is_said_from_the_crush_with_its_outcome(
    desk: Desk, answers: tuple[str, str], part: str, said: dict[str, str]
) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=SIZE) as pilot:
        await to_crush(pilot, "v", "2")
        for answer in answers:
            await press(pilot, answer, "enter")
        await press(pilot, "enter", "enter")  # neither a day nor a foot
        await type_in(pilot, part)
        await press(pilot, *["enter"] * 4)  # no limb, nobody else who looked, no note
        if said["outcome"] == "again":
            assert "no day: his next look is asked for from 10 Apr" in shown(app)
        await press(pilot, "enter")
    [look] = bodies(desk, before)
    assert look == {"kind": "vet-look", **said}


async def test_a_vet_who_looks_again_on_a_day_of_his_own_is_asked_for_then(desk: Desk) -> None:
    app = crush_app(desk)
    before = ids(desk)
    async with app.run_test(size=SIZE) as pilot:
        await to_crush(pilot, "v", "2")
        await press(pilot, "2", "enter", "3", "enter")
        await type_in(pilot, "20 apr")
        await press(pilot, "enter")
        await type_in(pilot, "lf")
        await press(pilot, *["enter"] * 5)
        assert "gave no day" not in shown(app)
        await press(pilot, "enter")
    assert bodies(desk, before) == [
        {"kind": "vet-look", "about": "foot", "outcome": "again", "again_on": "2026-04-20",
         "foot": "LF"},
    ]  # fmt: skip
    asked = [c for c in desk.card("417").assessment.outstanding if c.check == "vet-again"]
    assert [c.not_before for c in asked] == [date(2026, 4, 20).toordinal()]
