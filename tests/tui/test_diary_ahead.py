"""What the Diary screen has beside the checks: the days of the season and of the vet, and what
Enter makes of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from readiness.report.ahead_words import NO_DAY, left, notes
from readiness.tui.app import ReadinessApp
from readiness.tui.bull.screen import BullScreen
from readiness.tui.cover.screen import CoverScreen
from readiness.tui.diary.rows import DiaryRow
from readiness.tui.diary.screen import DiaryScreen
from readiness.tui.shared.dialogs import Choose
from readiness.tui.shared.listed import Listed
from readiness.tui.turnout.screen import TurnoutScreen
from tests.tui.driver import make_app, press, screen_lines, screen_text, settled, squeezed, to_diary
from tests.tui.estate import DAY, desk_at, estate
from tests.volume import sampled


@pytest.fixture
def app(tmp_path: Path) -> ReadinessApp:
    return make_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)


def listed(screen: DiaryScreen) -> list[DiaryRow]:
    return list(screen.query_one(Listed).rows)


async def put_on(pilot: Pilot[Any], wanted: Callable[[DiaryRow], bool]) -> DiaryRow:
    """Put the cursor on the first line that is wanted."""
    the_list = pilot.app.screen.query_one(Listed)
    at = next(at for at, row in enumerate(the_list.rows) if wanted(row))
    the_list.highlighted = at
    await settled(pilot)
    found: DiaryRow = the_list.rows[at]
    return found


def heading(rows: list[DiaryRow], row: DiaryRow) -> str:
    """The heading over a line."""
    return [each.content.plain for each in rows[: rows.index(row)] if each.head][-1].strip()


async def test_every_day_of_season_and_vet_that_the_paper_tells_is_listed(
    app: ReadinessApp,
) -> None:
    async with app.run_test(size=(200, 60)) as pilot:
        screen = await to_diary(pilot)
        told = app.desk.ahead()
        rows = listed(screen)
        shown = [row for row in rows if row.note is not None]
        assert {note.what for note in notes(told)} == {"season", "propose"}
        assert sorted(row.note.text for row in shown if row.note) == sorted(
            note.text for note in notes(told)
        )
        for row in shown:
            assert row.note is not None
            assert row.content.plain.split() == f"{row.note.what} {row.note.text}".split()
        returns = next(r for r in shown if r.note and "watch for returns" in r.note.text)
        assert heading(rows, returns) == "Mon 27 Apr 2026, in 24 days"
        turnouts = [row.turnout.group for row in rows if row.turnout]
        assert turnouts == ["Heifers", "Hill cows"]


async def test_a_check_of_the_vets_without_a_day_is_named_with_the_reason(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.rules_path = tmp_path / "own.toml"
    desk.rules_path.write_text('[rules]\nvisits.except = ["2026-01-01/2027-12-31"]\n')
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(200, 60)) as pilot:
        rows = listed(await to_diary(pilot, "w", "w", "w"))
        said = [row.content.plain for row in rows]
        below = said[said.index(f" {NO_DAY}") + 1 :]
        missing = list(left(desk.ahead()))
        assert len(missing) == 7
        for line, each in zip(below, missing, strict=True):
            assert f"{each.text}: {each.why}" in line and each.bull.split()[0] in line


async def test_the_vets_days_are_the_vets_and_the_season_is_everybodys(app: ReadinessApp) -> None:
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await to_diary(pilot)
        for whose, vet in (("trimmer", False), ("farmer", False), ("vet", True)):
            await press(pilot, "w")
            assert screen.whom == whose
            told = [row.note for row in listed(screen) if row.note is not None]
            assert any(note.what == "season" for note in told)
            assert any(note.what == "propose" for note in told) is vet


async def test_the_week_tells_what_is_under_way_in_it(app: ReadinessApp) -> None:
    """Returns of the Heifers are watched for from 27 April to 3 May: the week from the 24th has
    them on the 27th, that from 1 May on its first day."""
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await to_diary(pilot, "2", "right", "right", "right")
        rows = listed(screen)
        [first] = [row for row in rows if row.note and "returns" in row.note.text]
        assert heading(rows, first).startswith("Mon 27 Apr")
        await press(pilot, "right")
        rows = listed(screen)
        [second] = [row for row in rows if row.note and "returns" in row.note.text]
        assert heading(rows, second).startswith("Fri 1 May")
        assert second.note and first.note and second.note.text == first.note.text


@sampled("size", [(60, 20), (80, 24), (120, 40)])
async def test_enter_opens_what_a_line_is_of(app: ReadinessApp, size: tuple[int, int]) -> None:
    async with app.run_test(size=size) as pilot:
        screen = await to_diary(pilot)
        await put_on(pilot, lambda row: row.turnout is not None and row.turnout.group == "Heifers")
        assert "Enter shows who of it goes out, who stays." in screen_text(app)
        await press(pilot, "enter")
        assert isinstance(app.screen, TurnoutScreen) and app.screen.team.group == "Heifers"
        await press(pilot, "escape")
        await put_on(pilot, lambda row: row.note is not None and row.note.group == "Hill cows")
        assert "Enter shows its cover" in screen_text(app)
        await press(pilot, "enter")
        assert isinstance(app.screen, CoverScreen)
        assert "> Hill cows" in screen_text(app) and "> Heifers" not in screen_text(app)
        await press(pilot, "escape")
        assert app.screen is screen


async def test_enter_on_a_day_of_the_vets_lists_his_bulls_and_opens_one(app: ReadinessApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await to_diary(pilot)
        row = await put_on(pilot, lambda row: row.note is not None and bool(row.note.dues))
        assert row.note is not None
        keys = list(dict.fromkeys(due.key for due in row.note.dues))
        assert len(keys) > 2
        await press(pilot, "enter")
        assert isinstance(app.screen, Choose)
        assert "ProposedforthevetFri3Apr2026:" in squeezed(app).replace(",", "")
        await press(pilot, "3")
        assert isinstance(app.screen, BullScreen) and app.screen.key == keys[2]
        await press(pilot, "n")
        assert app.screen.key == keys[3 % len(keys)]


async def test_what_a_weeks_line_cuts_off_stands_below_in_full(app: ReadinessApp) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        screen = await to_diary(pilot, "3")
        row = await put_on(pilot, lambda row: "returns" in row.whole and "in " in row.whole)
        assert row.whole not in row.content.plain
        assert "".join(row.whole.split()) in squeezed(app)
        assert screen.view == "season" and all(len(line) <= 60 for line in screen_lines(app))


async def test_the_diary_stands_where_nobody_knows_the_holidays(tmp_path: Path) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    desk.rules_path = tmp_path / "own.toml"
    desk.rules_path.write_text('[rules]\nvisits.holidays = "XX"\n')
    app = make_app(desk, poll=3600)
    async with app.run_test(size=(100, 40)) as pilot:
        rows = listed(await to_diary(pilot))
        assert "the public holidays of XX are not known" in " ".join(screen_text(app).split())
        assert any(row.due is not None for row in rows)
        assert {row.turnout.group for row in rows if row.turnout} == {"Heifers", "Hill cows"}
        assert DAY.toordinal() == desk.board().on
