"""An earlier entry corrected from the Bull screen: withdrawn and said again in one step."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Input

from readiness.desk.desk import Desk
from readiness.entries.entry import Entry
from readiness.shorthand import WRITABLE
from readiness.system.errors import BookBusy, DataError
from readiness.tui.app import ReadinessApp
from readiness.tui.bull.correct import CorrectLine
from readiness.tui.bull.screen import BullScreen
from readiness.tui.shared.form import FormScreen
from tests.build import standing
from tests.entries.samples import FULL
from tests.tui.crush_driver import crush_app, ids, type_in
from tests.tui.driver import make_app, press, screen_lines, screen_text, settled
from tests.tui.estate import desk_at, estate, of
from tests.tui.test_tui_hostile import NAMES, UNSEEN
from tests.volume import sampled

KINDS = [kind for kind in FULL if kind not in ("strike", "group")]  # of a bull
HOSTILE = {**NAMES, "quotes": 'O\'Neill "the; one" says:', "a part": "; walk 3;"}


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def written(desk: Desk, *contents: dict[str, Any]) -> list[Entry]:
    done = desk.add(list(contents))
    by_id = {entry.id: entry for entry in desk.entries(done.written)}
    return [by_id[entry_id] for entry_id in done.written]


def since(desk: Desk, before: set[str]) -> list[Entry]:
    return [entry for entry in desk.book.snapshot().entries if entry.id not in before]


async def to_rowan(pilot: Pilot[None]) -> None:
    await settled(pilot)
    await press(pilot, "slash", *"rowan", "enter", "enter")


async def choose(pilot: Pilot[None], desk: Desk, entry: Entry) -> None:
    """From the Bull screen to the correction of this entry."""
    at = [each.id for each in desk.card("288").entries].index(entry.id)
    await press(pilot, "e", *["down"] * at, "enter")


def box(app: ReadinessApp, name: str) -> Input:
    return app.screen.query_one(f"#{name}", Input)


async def fill(pilot: Pilot[None], app: ReadinessApp, name: str, text: str) -> None:
    box(app, name).value = text
    await settled(pilot)


async def enter_to_the_end(pilot: Pilot[None], app: ReadinessApp) -> None:
    """Enter through all fields."""
    for _ in range(12):
        if isinstance(app.screen, CorrectLine | FormScreen):
            await press(pilot, "enter")


def flat(app: ReadinessApp) -> str:
    return " ".join(screen_text(app).replace("│", " ").split())


@sampled("kind", KINDS, of=("feet", "check", "bull"), most=9)
async def test_each_kind_is_corrected_in_one_step_that_one_undo_takes_back(
    desk: Desk, kind: str
) -> None:
    more = {"name": "Rowan"} if kind == "bull" else {}
    [entry] = written(desk, {**FULL[kind], "bull": "00288", "on": "2026-04-01", **more})
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        await enter_to_the_end(pilot, app)
        assert since(desk, before) == []
        assert "nothing is changed" in flat(app)
        await choose(pilot, desk, entry)
        changed = {"on": "2026-03-31"} | ({} if kind in WRITABLE else {"note": "put right"})
        if kind in WRITABLE:
            await fill(pilot, app, "correct-day", "31 mar")
        else:
            await fill(pilot, app, "field-on", "31 mar")
            await fill(pilot, app, "field-note", "put right")
        await enter_to_the_end(pilot, app)
        strike, said = sorted(since(desk, before), key=lambda each: each.kind != "strike")
        assert strike.body["entry"] == entry.id
        assert dict(said.body) == {**entry.body, **changed}
        await press(pilot, "u", "y")
    assert [dict(e.body) for e in standing(desk.book) if e.id not in before] == [dict(entry.body)]


async def test_a_day_still_to_come_is_refused_once_and_while_it_is_typed(desk: Desk) -> None:
    """It was refused at the last Enter, and said of each part of the line."""
    [entry] = written(desk, of("00288", "mobility", 0, scale="gb0-3", score=0))
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        await fill(pilot, app, "correct-line", "walk 1; cond 3")
        await fill(pilot, app, "correct-day", "2026-04-09")
        assert flat(app).count("is still to come") == 1
        await press(pilot, "enter")
        assert isinstance(app.screen, CorrectLine)
    assert ids(desk) == before
    with pytest.raises(DataError) as refused:
        desk.add([{**entry.body, "on": "2026-04-09", "score": score} for score in (1, 2)])
    assert str(refused.value).count("is still to come") == 1


@pytest.mark.long
async def test_an_empty_line_only_withdraws(desk: Desk) -> None:
    [entry] = written(desk, of("00288", "weight", 0, kg=90))
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        await press(pilot, "ctrl+u")
        assert "the entry is taken back" in flat(app)
        await press(pilot, "enter")
        assert [e.body["entry"] for e in since(desk, before)] == [entry.id]
        assert "Taken back: Weight 90 kg" in flat(app)


@sampled(
    ("days_ago", "typed", "day"),
    [
        (3, "2 apr", "2026-04-02"),  # written under a day too early: later, and still this year
        (3, "4 apr", "2025-04-04"),  # lies ahead: the last one
        (3, "3 apr", "2026-04-03"),
        (-6, "7 apr", "2026-04-07"),  # the entry itself lies ahead, on the 9th
        (-6, "2026-04-08", "2026-04-08"),
    ],
    first=2,
)
async def test_a_day_without_a_year_is_the_last_one_up_to_today(
    desk: Desk, days_ago: int, typed: str, day: str
) -> None:
    [entry] = written(desk, of("00288", "weight", days_ago, kg=900))
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        await fill(pilot, app, "correct-day", typed)
        await enter_to_the_end(pilot, app)
    [said] = [e for e in since(desk, before) if e.kind == "weight"]
    assert said.body["on"] == day


@sampled("typed", ["", "99", "03/04", "2026-02-30", "x" * 200, "\x1b[31m"])
@pytest.mark.long
async def test_a_wrong_day_is_said_and_not_written(desk: Desk, typed: str) -> None:
    [entry] = written(desk, of("00288", "weight", 0, kg=900))
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(60, 20)) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        await fill(pilot, app, "correct-day", typed)
        await press(pilot, "enter", "enter", "enter")
        assert isinstance(app.screen, CorrectLine)
        assert since(desk, before) == []
        assert not any(UNSEEN.search(line) for line in screen_lines(app))


@pytest.mark.long
async def test_of_two_lifts_of_one_day_one_is_corrected_into_two(desk: Desk) -> None:
    first, second = written(
        desk, of("00288", "feet", 0, lifted=["LF"]), of("00288", "feet", 0, lifted=["RF"])
    )
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, second)
        await type_in(pilot, "; then; rh ok")
        await press(pilot, "enter")
    said = [e.body for e in since(desk, before)]
    assert [body["lifted"] for body in said if body["kind"] == "feet"] == [["RF"], ["RH"]]
    assert [body["entry"] for body in said if body["kind"] == "strike"] == [second.id]
    assert first.id in {entry.id for entry in standing(desk.book)}


@pytest.mark.long
async def test_what_was_struck_meanwhile_is_not_said_twice(desk: Desk) -> None:
    [entry] = written(desk, of("00288", "weight", 0, kg=900))
    other = desk_at(desk.book.path)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        other.strike(entry.id, "twice")
        before = ids(desk)
        await press(pilot, "backspace", "enter")
        assert ids(desk) == before
        assert "was taken back already" in flat(app)
        assert isinstance(app.screen, BullScreen)


@sampled("kind", ["weight", "bull"])
@pytest.mark.long
async def test_where_the_book_is_busy_nothing_that_was_typed_is_lost(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    more = {"name": "Rowan"} if kind == "bull" else {}
    [entry] = written(desk, {**FULL[kind], "bull": "00288", "on": "2026-04-01", **more})
    before = ids(desk)

    def busy(*_: object, **__: object) -> None:
        raise BookBusy("The book is held by process 4711.")

    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await choose(pilot, desk, entry)
        name, text = ("correct-line", "kg 987") if kind == "weight" else ("field-pen", "7")
        await fill(pilot, app, name, text)
        with monkeypatch.context() as patched:
            patched.setattr(desk, "correct", busy)
            await enter_to_the_end_once(pilot, app)
        assert "4711" in flat(app)
        assert box(app, name).value == text
        assert ids(desk) == before
        await enter_to_the_end(pilot, app)
    [said] = [e.body for e in since(desk, before) if e.kind != "strike"]
    assert said.get("kg") == 987 if kind == "weight" else said["pen"] == "7"


async def enter_to_the_end_once(pilot: Pilot[None], app: ReadinessApp) -> None:
    """Enter through the fields of this one screen."""
    asked = app.screen
    while app.screen is asked:
        await press(pilot, "enter")


async def test_readonly_corrects_nothing_and_says_so_first(desk: Desk) -> None:
    desk.readonly = True
    app = crush_app(desk)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_rowan(pilot)
        await press(pilot, "e")
        assert isinstance(app.screen, BullScreen)
        assert "read only" in flat(app)


@sampled("name", HOSTILE, of=("escape",), most=4)
@pytest.mark.long
async def test_hostile_text_is_shown_as_text_and_comes_through_a_correction_unharmed(
    desk: Desk, name: str
) -> None:
    text = HOSTILE[name]
    entries = written(
        desk,
        of("00288", "feet", 1, lifted=["LF"], note=text, by=text),
        of("00288", "treatment", 1, given_by=text, product=text, reason=text, note=text),
    )
    app = make_app(desk)
    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        await to_rowan(pilot)
        for entry in entries:
            before = ids(desk)
            await choose(pilot, desk, entry)
            shown = [screen_lines(app)]
            await fill(pilot, app, "correct-day", "2026-04-01")
            shown.append(screen_lines(app))
            await press(pilot, "enter")
            shown.append(screen_lines(app))
            for line in (line for lines in shown for line in lines):
                assert not UNSEEN.search(line)
                assert cell_len(line) <= 60
            [said] = [e for e in since(desk, before) if e.kind == entry.kind]
            assert dict(said.body) == {**entry.body, "on": "2026-04-01"}
