"""The crush attacked: stray keys by the hundred, pastes, a killed terminal, a book taken away."""

from __future__ import annotations

import os
import pty
import random
import select
import signal
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from readiness.book import Book
from readiness.book.drafts import Draft, Drafts
from readiness.desk.desk import Desk
from readiness.entries.validate import validate
from readiness.system.clock import SystemClock
from readiness.tui.app import ReadinessApp
from readiness.tui.crush.screen import CrushScreen
from tests.build import standing
from tests.tui.crush_driver import bodies, crush_app, crush_of, ids, line_of, to_crush
from tests.tui.driver import press, screen_lines, screen_text, settled, until
from tests.tui.estate import DAY, desk_at, estate, of
from tests.tui.test_tui_hostile import UNSEEN
from tests.volume import sampled

PATIENCE = 30.0


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return desk_at(tmp_path / "bulls.duckdb", estate())


def flat(app: ReadinessApp) -> str:
    return " ".join(screen_text(app).split())


# ---- keys ------------------------------------------------------------------------------------

PRINTED = "stbwckj1234oihvlfrmdnpuxgeayz0987665.,;@/ +-="
NAMED = (
    "enter", "enter", "enter", "escape", "backspace", "tab", "up", "down", "left", "right",
    "pageup", "home", "delete", "ctrl+u", "ctrl+w", "question_mark", "f1", "shift+tab",
)  # fmt: skip
BY_NAME = {
    " ": "space",
    ";": "semicolon",
    "@": "at",
    "/": "slash",
    ".": "full_stop",
    ",": "comma",
    "+": "plus",
    "-": "minus",
    "=": "equals_sign",
}
KEYS = (*(BY_NAME.get(key, key) for key in PRINTED), *NAMED)


WAYS_BACK = 12
"""Screens that may stand over the crush, or beside it, at the most."""


@sampled("seed", range(2))
async def test_a_flood_of_random_keys_writes_valid_entries_and_loses_no_draft(
    desk: Desk, seed: int
) -> None:
    """Whatever was pressed: nothing breaks, what is in the book is valid, and what is half said
    reads back from its line, which is what a crash leaves."""
    app, before, chance = crush_app(desk), ids(desk), random.Random(seed)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "g", "1")
        for _ in range(8):
            if not any(isinstance(screen, CrushScreen) for screen in app.screen_stack):
                await press(pilot, "escape", "escape", "c")
            await pilot.press(*(chance.choice(KEYS) for _ in range(17)))
        await settled(pilot)
        for _ in range(WAYS_BACK):
            if not isinstance(app.screen, CrushScreen):
                # The Board may be asked for a name: a letter alone would go there for ever.
                await press(pilot, *(["escape"] if len(app.screen_stack) > 1 else ["escape", "c"]))
        pad = crush_of(pilot).session.pad
        if pad is not None:
            scales = pad.before.scales
            said = tuple(dict(content) for content in pad.slip.contents)
            assert pad.slip.read(pad.slip.line(scales), scales).contents == said
    for entry in desk.book.snapshot().entries:
        if entry.id not in before:
            assert validate(dict(entry.body)) == (dict(entry.body), [])
    assert desk.book.verify().ok


async def test_enter_held_down_saves_no_half_entered_bull_after_the_first(desk: Desk) -> None:
    left = Drafts(desk.book.path)
    left.open()
    left.put(Draft("UK123456700002", "walk 2 lf", "2026-04-03"))
    left.close()
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        app.ticks = lambda: 1000.0
        await pilot.press(*["enter"] * 10)
        await settled(pilot)
        assert [body["kind"] for body in bodies(desk, before)] == ["feet"]
        assert screen.session.key == "UK123456700002"
        assert line_of(screen) == "walk 2 lf"


# ---- pastes ----------------------------------------------------------------------------------

PASTES = ["all ok\nwalk 0\ns\nw\n0\n", "s", "sw0\r\r", "\x1b[31mx", "s" * 10_000]


async def paste(pilot: Pilot[None], text: str) -> None:
    pilot.app.post_message(events.Paste(text))
    await settled(pilot)


@pytest.mark.parametrize("text", PASTES, ids=["a day", "a key", "saving", "escape", "long"])
async def test_a_paste_is_not_read_as_keys(desk: Desk, text: str) -> None:
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        await paste(pilot, text)
        assert line_of(screen) == ""
        assert ids(desk) == before


async def test_of_a_paste_into_the_line_the_first_row_is_read_back_and_not_saved(
    desk: Desk,
) -> None:
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "l")
        await paste(pilot, "all ok; walk 1\r\nleft sold\n")
        assert line_of(screen) == "all ok; walk 1"
        assert ids(desk) == before


async def test_controls_pasted_into_a_form_never_reach_the_terminal(desk: Desk) -> None:
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "v", "3")
        await paste(pilot, "Vet\x1b[31m\u202e Jones\nmore")
        assert not any(UNSEEN.search(line) for line in screen_lines(app))
        await press(pilot, "enter", "x", *["enter"] * 5)
        assert screen.session.pad is not None
        assert screen.session.pad.slip.contents[0]["given_by"] == "Vet[31m Jones"


# ---- forms -----------------------------------------------------------------------------------


async def test_a_group_begun_at_the_crush_is_on_the_farm_of_the_bull_there(desk: Desk) -> None:
    """Names are per farm: on none, no bull of this farm could join it."""
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "v", "8", *"new", "enter", "9", "space", *"may")
        await press(pilot, *["enter"] * 6)
        await press(pilot, "v", "6")
        assert "3 new" in flat(app)
        await press(pilot, "3", "enter", "enter", "enter")
        assert line_of(screen) == "join new"
    [group] = bodies(desk, before)
    assert group == {
        "kind": "group", "group": "new", "turnout": "2026-05-09", "farm": "Sallow Fell",
    }  # fmt: skip


# ---- the book goes, the day goes ---------------------------------------------------------------


async def test_a_book_taken_away_while_one_types_costs_nothing(desk: Desk) -> None:
    app, before, path = crush_app(desk), ids(desk), desk.book.path
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s", "w", "0")
        aside = path.with_name("aside")
        path.rename(aside)
        await press(pilot, "enter")
        assert line_of(screen) == "all ok; walk 0"
        assert screen.session.message
        assert not path.exists()
        aside.rename(path)
        await press(pilot, "enter")
        assert [body["kind"] for body in bodies(desk, before)] == ["feet", "mobility"]


async def test_wrong_rules_while_one_types_cost_nothing(desk: Desk, tmp_path: Path) -> None:
    rules = tmp_path / "rules.toml"
    rules.write_text("", encoding="utf-8")
    desk.rules_path = rules
    app, before = crush_app(desk), ids(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        rules.write_text("[rules]\nfeet.oldest = -3\n", encoding="utf-8")
        await press(pilot, "enter")
        assert "rules.toml" in flat(app)
        assert ids(desk) == before
        assert line_of(screen) == "all ok"
        rules.write_text("# put right\n", encoding="utf-8")
        await press(pilot, "enter")
        assert [body["kind"] for body in bodies(desk, before)] == ["feet"]


async def test_a_bull_that_leaves_elsewhere_while_half_entered_is_said(desk: Desk) -> None:
    app = crush_app(desk)
    app.poll = 0.02
    other = desk_at(desk.book.path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot, "s")
        other.add([of("00417", "moved", 0, act="left", reason="sold")])
        await until(pilot, lambda: "he has left" in flat(app))
        assert line_of(screen) == "all ok"


@dataclass
class Night:
    """A clock that can be put forward."""

    moment: datetime = datetime(2026, 4, 3, 21, 30, tzinfo=UTC)

    def now(self) -> datetime:
        return self.moment

    def today(self) -> date:
        return self.moment.date()


async def test_a_bull_begun_before_midnight_is_saved_whole_under_that_day(tmp_path: Path) -> None:
    night = Night()
    path = tmp_path / "bulls.duckdb"
    desk_at(path, estate())
    desk = Desk(Book(path, night, device="desk-one"), None, night)
    before = ids(desk)
    app = crush_app(desk)
    app.poll = 0.02
    async with app.run_test(size=(80, 24)) as pilot:
        await to_crush(pilot, "s", "w", "0")
        night.moment += timedelta(hours=4)
        await until(pilot, lambda: "Sat 4 Apr 2026" in flat(app))
        await press(pilot, "c", "3", "2", "enter")
    days = {entry.body["on"] for entry in standing(desk.book) if entry.id not in before}
    assert days == {DAY.isoformat()}


# ---- a real terminal that is killed --------------------------------------------------------------


class Terminal:
    """The real program on a terminal of its own."""

    def __init__(self, book: Path) -> None:
        self.painted = b""
        self.pid, self._fd = pty.fork()
        if self.pid == 0:
            os.environ.update(TERM="xterm-256color", LINES="24", COLUMNS="80")
            signal.signal(signal.SIGHUP, signal.SIG_DFL)  # ignored, where pytest runs under nohup
            command = ["-m", "readiness", "--book", str(book), "--on", DAY.isoformat()]
            os.execv(sys.executable, [sys.executable, *command])

    def until(self, seen: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE
        while not seen():
            if time.monotonic() > end:
                self.end(signal.SIGKILL)
                raise TimeoutError(self.painted[-2000:])
            if select.select([self._fd], [], [], 0.02)[0]:
                self.painted += os.read(self._fd, 65536)

    def watch(self, seconds: float) -> None:
        """Read for so long what is painted."""
        end = time.monotonic() + seconds
        self.until(lambda: time.monotonic() > end)

    def press(self, keys: str) -> None:
        os.write(self._fd, keys.encode())

    def end(self, number: int) -> None:
        os.kill(self.pid, number)
        os.waitpid(self.pid, 0)
        os.close(self._fd)


def last_kept(book: Path) -> str:
    """What the one window's file of half-entered bulls says last."""
    lines = [
        line
        for file in book.with_name(f"{book.name}.unsaved").glob("*.jsonl")
        for line in file.read_text(encoding="ascii").splitlines()
    ]
    return lines[-1] if lines else ""


def begun(book: Path) -> Terminal:
    """The program with the first bull in the crush."""
    window = Terminal(book)
    window.until(lambda: b"Hill cows" in window.painted)
    window.press("c")
    window.until(lambda: b"What is seen" in window.painted or b"What else" in window.painted)
    return window


@sampled("number", [signal.SIGKILL, signal.SIGTERM, signal.SIGHUP])
def test_what_was_typed_when_the_terminal_was_killed_is_there_again(
    desk: Desk, number: int
) -> None:
    path = desk.book.path
    window = begun(path)
    window.press("1osu4")
    window.until(lambda: '"lf o su@4"' in last_kept(path))
    window.end(number)
    after = Drafts(path)
    assert [(draft.key, draft.line) for draft in after.open()] == [("00417", "lf o su@4")]
    after.close()


@pytest.mark.long
def test_killed_at_enter_a_bull_is_saved_once_or_half_entered_still(desk: Desk) -> None:
    """At any moment of the saving: all of it is in the book, or none, and then it is half entered.
    What is said to be saved is in the book."""
    path, chance = desk.book.path, random.Random(4)
    reader = Book(path, SystemClock())
    for _ in range(4):  # as many as are in the race: each may be saved
        before = {entry.id for entry in reader.snapshot().entries}
        window = begun(path)
        window.press("w1")
        window.until(lambda: '"walk 1"' in last_kept(path))
        window.press("\r")
        window.watch(chance.uniform(0, 0.3))
        said = b"saved 0" in window.painted
        window.end(signal.SIGKILL)
        known = {entry.id for entry in reader.snapshot().entries}
        left = Drafts(path)
        half_entered = [draft for draft in left.open() if not known & set(draft.ids)]
        for draft in left.open():
            left.drop(draft.key)
        left.close()
        assert len(known - before) + len(half_entered) == 1
        assert known != before or not said
