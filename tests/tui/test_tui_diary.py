"""The Diary screen: what is due, the week, the season, the visits, and what if."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from rich.cells import cell_len
from textual.content import Content
from textual.widgets import OptionList

from readiness.herd.changes import changes
from readiness.report.changes_text import change_words
from readiness.report.check_days import from_by_words
from readiness.report.diary_lines import UNDATED
from readiness.report.rows import short_tags
from readiness.report.visits_text import missed_lines
from readiness.system.errors import BookBusy
from readiness.tui.app import ReadinessApp
from readiness.tui.bull.screen import BullScreen
from readiness.tui.diary.moves import Moves
from readiness.tui.diary.screen import DiaryScreen
from readiness.tui.shared.dialogs import Paper
from readiness.tui.shared.listed import Listed
from readiness.visits.asked import Wishes
from readiness.visits.plan import VisitPlan, what_changes, with_moved, without_visits
from tests.tui.driver import (
    make_app,
    press,
    screen_lines,
    screen_text,
    settled,
    squeezed,
    to_diary,
    until,
)
from tests.tui.estate import DAY, ahead, desk_at, estate, of
from tests.tui.test_tui_hostile import NAMES, UNSEEN, hostile
from tests.tui.test_tui_looks import colours, segments
from tests.volume import sampled

SECOND = 10  # the estate's visits are on DAY and so many days later


@pytest.fixture
def app(tmp_path: Path) -> ReadinessApp:
    return make_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)


def rows(app: ReadinessApp) -> list[str]:
    """The list's lines, whole."""
    listed = app.screen.query_one(OptionList)
    return [str(option.prompt).strip() for option in listed.options]


def after(lines: list[str], head: str) -> list[str]:
    """What stands under a heading, up to the next day."""
    at = next(n for n, line in enumerate(lines) if line.startswith(head))
    end = next((n for n in range(at + 1, len(lines)) if " 2026" in lines[n][:15]), len(lines))
    return lines[at + 1 : end]


def wrapped(words: str) -> str:
    return "".join(words.split())


def underlined(app: ReadinessApp) -> str:
    return "".join(s.text for s in segments(app) if s.style and s.style.underline)


async def test_what_is_overdue_stands_first_then_day_by_day_with_visits_and_turnouts(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(100, 60)) as pilot:
        await to_diary(pilot)
        listed = rows(app)
        assert listed[0] == "! Overdue"
        assert [line.split()[0] for line in after(listed, "! Overdue")[:3]] == [
            "vet", "farmer", "farmer",
        ]  # fmt: skip
        today = after(listed, "Fri 3 Apr 2026, today")
        assert today[0].startswith("propose the vet at Sallow Fell: 5 examinations and 1 look (")
        assert today[1].startswith("visit ")
        assert "3 bulls, 37 min, 1 block" in today[1]
        assert [line.split()[:3] for line in today[2:]] == [["trimmer", "00417", "Corran"]]
        turnout = after(listed, "Thu 9 Apr 2026")[0]
        assert " ".join(turnout.split()) == "turnout Heifers, Sallow Fell 2 of 5 bulls GO"
        apart = after(listed, UNDATED)
        assert [line.split()[:3] for line in apart] == [  # Wren has no turnout: not under today
            [who, "00777", "Wren"] for who in ("vet", "trimmer", "farmer", "farmer")
        ]
        await press(pilot, "escape")
        assert app.screen is app.board_screen


async def test_a_plan_that_is_there_is_not_said_to_be_planned(app: ReadinessApp) -> None:
    """Just when the plan is there, the moment to say that it takes long can come."""
    async with app.run_test(size=(100, 60)) as pilot:
        diary = await to_diary(pilot)
        diary._say_planning()
        await settled(pilot)
        assert "Planning the visits" not in screen_text(app)


async def test_w_shows_one_persons_and_then_everyones_again(app: ReadinessApp) -> None:
    async with app.run_test(size=(100, 60)) as pilot:
        await to_diary(pilot)
        everyone = rows(app)
        for who in ("trimmer", "farmer", "vet"):
            await press(pilot, "w")
            said = {line.split()[0] for line in rows(app)} & {"trimmer", "farmer", "vet"}
            assert said == {who}
            assert f"only the {who}'s" in screen_text(app)
            assert ("visit" in {line.split()[0] for line in rows(app)}) is (who == "trimmer")
        await press(pilot, "w")
        assert rows(app) == everyone


async def test_enter_opens_the_bull_under_the_cursor_and_esc_comes_back_here(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_diary(pilot, "down", "down")
        key = screen.query_one(Listed).rows[screen.query_one(Listed).highlighted or 0].due
        assert key is not None and key.key == "UK123456700002"
        await press(pilot, "enter")
        assert isinstance(app.screen, BullScreen) and app.screen.key == key.key
        await press(pilot, "escape")
        assert app.screen_stack[-1] is screen


async def test_the_week_is_seven_days_and_never_before_this_one(app: ReadinessApp) -> None:
    async with app.run_test(size=(100, 60)) as pilot:
        screen = await to_diary(pilot, "2")
        heads = [line for line in rows(app) if " 2026, " in line]
        assert heads[0].startswith("Fri 3 Apr") and heads[-1].startswith("Thu 9 Apr")
        assert len(heads) == 7
        await press(pilot, "right")
        heads = [line for line in rows(app) if " 2026, " in line]
        assert heads[0].startswith("Fri 10 Apr") and len(heads) == 7
        assert any(line.startswith("visit") for line in after(rows(app), "Mon 13 Apr"))
        await press(pilot, "left", "left", "left")
        assert date.fromordinal(screen.first) == date(2026, 3, 30)


async def test_the_season_counts_what_the_diary_lists_and_enter_opens_the_week(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await to_diary(pilot, "3")
        assert screen.board is not None
        every = [check for bull in screen.board.bulls for check in bull.outstanding]
        outstanding = [check for check in every if check.has_last_day]
        assert len(outstanding) < len(every)  # a bull without a turnout is in no week
        counts = [
            line[11:35].split() for line in rows(app) if line[:1].isdigit() and "week" not in line
        ]
        for at, who in enumerate(("trimmer", "farmer", "vet")):
            listed = sum(int(count[at]) for count in counts if count[at].isdigit())
            assert listed == sum(check.who == who for check in outstanding) > 0
        assert "Heifers out 9 Apr" in screen_text(app)
        assert "visit 13 Apr" in screen_text(app)
        await press(pilot, "down", "enter")
        assert screen.view == "week"
        assert any(line.startswith("Mon 6 Apr") for line in rows(app))


async def test_a_moved_visit_shows_at_once_what_is_missed_and_who_changes(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(120, 50)) as pilot:
        screen = await to_diary(pilot, "4", "right")
        plan = screen.plan
        assert plan is not None and screen.after is not None
        marked = screen.query_one(OptionList).get_option_at_index(0).prompt
        assert isinstance(marked, Content) and marked.spans == []  # read on the cursor's ground
        today, next_day = DAY.toordinal(), DAY.toordinal() + 1
        expected = with_moved(plan, "Sallow Fell", today, next_day, 5.0)
        assert screen.after.placed == expected.placed
        shown = squeezed(app)
        assert "was today" in screen_text(app)
        await press(pilot, "1")  # it has moved wherever the visits stand
        assert after(rows(app), "Sat 4 Apr 2026")[0].startswith("visit")
        await press(pilot, "4")
        missed = missed_lines(expected, plan)
        assert missed and all(wrapped(words) in shown for words in missed)
        changed = what_changes(plan, expected)
        names = short_tags(change.after.bull for change in changed)
        assert changed
        for change in changed:
            assert change.minor or wrapped(change_words(change, names, today)) in shown
        await press(pilot, "escape")  # puts it back first
        assert app.screen is screen and screen.after is None
        assert "was today" not in screen_text(app)


async def test_a_dropped_visit_is_missed_and_x_again_takes_it_back(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 50)) as pilot:
        screen = await to_diary(pilot, "4", "down", "x")
        plan = screen.plan
        assert plan is not None and screen.after is not None
        on = DAY.toordinal() + SECOND
        expected = without_visits(plan, [("Sallow Fell", on)], 5.0)
        assert screen.after.placed == expected.placed and expected.unplaced
        assert "dropped" in screen_text(app)
        for words in missed_lines(expected, plan):
            assert wrapped(words) in squeezed(app)
        await press(pilot, "x")
        assert screen.after is None and "dropped" not in screen_text(app)


async def test_keys_pressed_fast_end_where_they_mean(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_diary(pilot, "4")
        await pilot.press("right", "right", "right", "left")
        await settled(pilot)
        assert screen.moves is not None and screen.after is not None
        days = [visit.on - DAY.toordinal() for visit in screen.after.visits]
        # 3 Apr is a Friday: Saturday, Monday, Tuesday, and one back to Monday
        assert days[0] == 3
        await pilot.press("right", "x", "x", "0")
        await settled(pilot)
        assert screen.after is None and not screen.moves.any
        await pilot.press("right", "right", "right", "x")
        await settled(pilot)
        assert screen.after is not None and len(screen.after.visits) == 1
        assert [line.split()[-1] == "dropped" for line in rows(app)] == [True, False]
        await pilot.press("0", "left", "down", "j", "k")  # there is no day before today
        await settled(pilot)
        assert screen.after is None and not screen.moves.any


async def test_a_promised_day_is_kept_and_the_others_are_planned_round_it(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await to_diary(pilot, "4", "down", "right", "y")
        promised = DAY.toordinal() + SECOND + 1
        assert screen.plan is not None and screen.after is None
        visits = [(visit.on, visit.promised) for visit in screen.plan.visits]
        assert (promised, True) in visits
        wishes = Wishes(kept=screen.promised)
        assert screen.plan.placed == app.desk.visits(wishes).placed
        assert "promised" in "\n".join(rows(app))
        await press(pilot, "y")  # taken back: the cursor stayed on it
        assert screen.promised == ()
        assert not any(visit.promised for visit in screen.plan.visits)


async def test_another_turnout_shows_the_bulls_that_change(app: ReadinessApp) -> None:
    async with app.run_test(size=(100, 50)) as pilot:
        await to_diary(pilot)
        await press(pilot, "t", "1", *"soon", "enter")
        assert "isnotaday" in squeezed(app)
        await press(pilot, *["backspace"] * 4, "2", "0", "space", *"apr", "enter")
        assert isinstance(app.screen, Paper)
        found = changes(
            app.desk.board(farm="Sallow Fell", group="Heifers"),
            app.desk.board(farm="Sallow Fell", group="Heifers", turnout=date(2026, 4, 20)),
        )
        names = short_tags(change.after.bull for change in found)
        large = [change for change in found if not change.minor]
        assert any(change.why for change in large)
        inside = [line.split("│") for line in screen_lines(app)]
        paper = wrapped("".join(parts[1] for parts in inside if len(parts) > 2))
        for change in large:
            assert wrapped(change_words(change, names, DAY.toordinal())) in paper
        assert wrapped("In all: 1 bull becomes ready in time") in paper
        assert wrapped("First calving moves from 16 Jan 2027 to 27 Jan 2027.") in paper


async def test_a_group_without_a_farm_is_not_that_of_the_same_name_on_a_farm(
    tmp_path: Path,
) -> None:
    """Kite's group is the third of the list, its turnout the 12th; Rowan's is another."""
    lines = [
        *estate(),
        {"kind": "group", "on": ahead(-9), "group": "Heifers", "turnout": ahead(9)},
        {"kind": "bull", "on": ahead(-9), "bull": "00777", "name": "Kite"},
        {"kind": "join", "on": ahead(-9), "bull": "00777", "group": "Heifers"},
    ]
    app = make_app(desk_at(tmp_path / "bulls.duckdb", lines), poll=3600)
    async with app.run_test(size=(100, 50)) as pilot:
        await to_diary(pilot)
        await press(pilot, "t", "2", *"20", "space", *"apr", "enter")
        assert isinstance(app.screen, Paper)
        said = squeezed(app)
        assert "IfHeiferswereturnedout" in said and "Tarn:" not in said


async def test_nothing_here_is_written_into_the_book(tmp_path: Path) -> None:
    path = tmp_path / "bulls.duckdb"
    before = desk_at(path, estate()).book.snapshot().entries
    app = make_app(desk_at(path, readonly=True), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_diary(pilot, *"1234", "right", "y", "x", "0")
        await press(pilot, "t", "escape", "escape")
    assert desk_at(path).book.snapshot().entries == before


async def test_a_book_that_changes_is_planned_anew_and_says_that_nothing_is_moved(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(100, 40)) as pilot:
        screen = await to_diary(pilot, "4", "right")
        app.desk.add([of("00777", "feet", 0, lifted=["LF", "RF", "LH", "RH"])])
        await press(pilot, "r")
        assert screen.after is None
        assert any("planned anew" in told.message for told in app._notifications)
        assert screen.plan is not None
        keys = {stop.bull.key for visit in screen.plan.visits for stop in visit.stops}
        assert "00777" not in keys and "00417" in keys


async def test_rules_without_a_working_day_are_said_and_the_diary_stands(tmp_path: Path) -> None:
    rules = tmp_path / "own.toml"
    rules.write_text('[rules]\nvisits.except = ["2026-01-01/2027-12-31"]\n')
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.rules_path = rules
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(100, 40)) as pilot:
        await to_diary(pilot)
        assert "There is no working day at Sallow Fell" in " ".join(screen_text(app).split())
        assert any("lift LF" in line for line in rows(app))


@sampled("size", [(60, 20), (80, 24), (120, 40)])
async def test_every_view_fits_with_hostile_names(tmp_path: Path, size: tuple[int, int]) -> None:
    told = estate()
    told.append(
        {"kind": "bull", "on": ahead(0), "bull": "00417", "name": "[red]x[/] " + "long " * 20,
         "farm": "Sallow Fell", "pen": "[@click=app.quit]5[/]"}
    )  # fmt: skip
    app = make_app(desk_at(tmp_path / "bulls.duckdb", told), poll=3600)
    async with app.run_test(size=size) as pilot:
        screen = await to_diary(pilot)
        for view in "1234":
            await press(pilot, view)
            assert all(len(line) <= size[0] for line in screen_lines(app))
            assert screen_lines(app)[-1].endswith("q quit")
            assert all(
                cell_len(row.content.plain) <= size[0] - 2 for row in screen.query_one(Listed).rows
            )
        assert "[@click=app.quit]5[/]" in squeezed(app)


async def test_an_empty_book_has_an_empty_diary(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", [estate()[0]])
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "escape", "d", "4")
        assert isinstance(app.screen, DiaryScreen)
        assert rows(app) == ["No visit is needed."]
        await press(pilot, "1")
        assert any("turnout" in line for line in rows(app))
        await press(pilot, "right", "x", "y")  # nothing to do them to
        assert isinstance(app.screen, DiaryScreen)


async def test_a_terminal_without_marks_or_colour_reads_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    app = make_app(desk, poll=3600, encoding="ascii")
    async with app.run_test(size=(80, 24)) as pilot:
        await to_diary(pilot, "4", "x")
        assert screen_text(app).isascii()
        assert "dropped" in screen_text(app)
        for keys in (("1",), ("2",), ("3",), ("4", "0"), ("right",)):
            await press(pilot, *keys)
            assert screen_text(app).isascii()
            assert not colours(app)
        assert "Sat 4 Apr, tomorrow" in underlined(app)  # the cursor stands out without colour


async def test_a_promised_visit_that_is_moved_is_promised_for_its_new_day_alone(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_diary(pilot, "4", "down", "y", "right", "y")
        assert screen.plan is not None
        visits = [(visit.on - DAY.toordinal(), visit.promised) for visit in screen.plan.visits]
        assert visits == [(0, False), (SECOND + 1, True)]
        said = [told.message for told in app._notifications]
        assert any("the others planned anew" in words for words in said)


async def test_a_promise_that_the_rules_rule_out_is_taken_back_aloud(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.rules_path = tmp_path / "own.toml"
    desk.rules_path.write_text("")
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_diary(pilot, "4", "down", "y")
        assert [promise.day for promise in screen.promised] == [date(2026, 4, 13)]
        desk.rules_path.write_text('[rules]\nvisits.except = ["2026-04-12/2026-04-20"]\n')
        await press(pilot, "r")
        assert not screen.promised and screen.plan is not None
        assert [visit.on - DAY.toordinal() for visit in screen.plan.visits] == [0, 18]
        [said] = [told.message for told in app._notifications if told.severity == "error"]
        assert "Mon 13 Apr 2026 is on a day that visits.except leaves out" in said
        assert said.endswith("No longer promised: Mon 13 Apr 2026.")


async def test_a_busy_book_costs_no_promise_and_is_planned_when_it_is_free(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    app = make_app(desk, poll=0.02)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_diary(pilot, "4", "down", "y")
        plan = desk.visits
        tries: list[int] = []
        free: list[int] = []

        def busy(*wishes: Any, **more: Any) -> VisitPlan:
            tries.append(1)
            if not free:
                raise BookBusy("The book is held by process 4711.")
            return plan(*wishes, **more)

        monkeypatch.setattr(desk, "visits", busy)
        await pilot.press("r")
        await until(pilot, lambda: len(tries) > 2)
        await until(pilot, lambda: "4711" in screen_text(app))  # between two tries it is not there
        free.append(1)
        await until(pilot, lambda: screen.plan is not None)
        await settled(pilot)
        assert "4711" not in screen_text(app)
        assert screen.plan is not None and screen.plan.visits[1].promised


async def test_leaving_while_it_plans_does_no_harm(
    app: ReadinessApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = Event()
    plan, outcome = app.desk.visits, Moves.outcome

    def slow_plan(*wishes: Any, **more: Any) -> VisitPlan:
        gate.wait()
        return plan(*wishes, **more)

    def slow_outcome(moves: Moves) -> VisitPlan:
        gate.wait()
        return outcome(moves)

    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        monkeypatch.setattr(app.desk, "visits", slow_plan)
        await pilot.press("d", "4")
        await until(pilot, lambda: "Planning the visits" in screen_text(app))
        await pilot.press("x", "y", "right", "0", "escape")
        assert app.screen is app.board_screen
        gate.set()
        await settled(pilot)
        monkeypatch.setattr(Moves, "outcome", slow_outcome)
        await to_diary(pilot, "4")
        gate.clear()
        await pilot.press("right", "escape", "escape")
        assert app.screen is app.board_screen
        gate.set()
        await settled(pilot)
        assert app.screen is app.board_screen


async def test_what_nobody_foresaw_is_no_planning_for_ever(
    app: ReadinessApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*wishes: Any, **more: Any) -> VisitPlan:
        raise ZeroDivisionError("a fault of ours")

    monkeypatch.setattr(app.desk, "visits", broken)
    with pytest.raises(ZeroDivisionError, match="a fault of ours"):
        async with app.run_test(size=(80, 24)) as pilot:
            await settled(pilot)
            await pilot.press("d")
            await until(pilot, lambda: not app.is_running)


@sampled("name", NAMES, of=("markup", "wide"), most=5)
async def test_hostile_names_stay_text_in_every_view(tmp_path: Path, name: str) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", hostile(NAMES[name])), poll=3600)
    async with app.run_test(size=(60, 20)) as pilot:
        screen = await to_diary(pilot)
        for keys in (("2",), ("3",), ("4",), ("right",), ("x",), ("t",)):
            await press(pilot, *keys)
            for line in screen_lines(app):
                assert not UNSEEN.search(line)
                assert cell_len(line) <= 60
            assert all(cell_len(row.content.plain) <= 58 for row in screen.query_one(Listed).rows)


async def test_without_a_book_it_says_so_and_plans_nothing(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "none.duckdb"), poll=3600)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "escape", "d", "4", "right", "x", "y", "t", "enter")
        assert "There is no book" in " ".join(screen_text(app).split())
    assert not (tmp_path / "none.duckdb").exists()


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_the_days_of_the_line_under_the_cursor_are_never_cut(
    app: ReadinessApp, size: tuple[int, int]
) -> None:
    async with app.run_test(size=size) as pilot:
        screen = await to_diary(pilot)
        listed, seen = screen.query_one(Listed), 0
        for at, row in enumerate(listed.rows[:40]):
            if row.due is None:
                continue
            listed.highlighted = at
            await settled(pilot)
            lines, check = screen_text(app), row.due.check
            asked = wrapped(f"{check.text}: {from_by_words(check, DAY.toordinal())}")
            assert asked in wrapped(lines), asked
            assert wrapped(f"{check.rule}: {check.standing}.") in wrapped(lines), check.rule
            seen += 1
        assert seen > 10
