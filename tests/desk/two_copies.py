"""Two copies of a book, each written to by a device of its own, and put together."""

from __future__ import annotations

import shutil
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from readiness.book import Book
from readiness.desk.desk import Desk
from readiness.engine.results import Assessment
from readiness.herd.board import Tally, assess_each
from tests.build import TAG, Line, booked, condition, exam, group, join, lift, walk

SAID = [
    group("2026-12-05", on="2026-10-01"),
    booked(on="2026-10-01", born="2022-03-01"),
    join(on="2026-10-01"),
    lift("2026-10-10"),
    condition("2026-11-25", 3.25),
    exam("2026-11-01"),
    walk("2026-11-25", 0),
]


class Ticking:
    """Every moment that is asked for is another one, for all copies."""

    def __init__(self) -> None:
        self.at = datetime(2026, 11, 29, 12, tzinfo=UTC)

    def now(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at

    def today(self) -> date:
        return self.at.date()


class Copies:
    """Two copies, ``a`` and ``b``, of a book in which this was said of one bull: a plain GO."""

    def __init__(self, folder: Path, said: list[Line] = SAID) -> None:
        self.folder, self.clock = folder, Ticking()
        self.a = self.desk("a")
        self.a.add(said)
        assert board(self.a)[TAG].status == "GO"
        self.b = self.copied("b")

    def desk(self, name: str) -> Desk:
        path = self.folder / name / "bulls.duckdb"
        path.parent.mkdir()
        return Desk(Book(path, self.clock, device=name), None, self.clock)

    def copied(self, name: str) -> Desk:
        copy = self.desk(name)
        shutil.copy(self.a.book.path, copy.book.path)
        return copy

    def together(self) -> dict[str, Assessment]:
        """The board once each took the other in: the same in both, and read bull by bull."""
        self.a.merge(self.b.book.path)
        self.b.merge(self.a.book.path)
        found = board(self.a)
        assert board(self.b) == found == by_bull(self.a)
        return found


def board(desk: Desk) -> dict[str, Assessment]:
    return {bull.bull: bull for bull in desk.board().bulls}


def by_bull(desk: Desk) -> dict[str, Assessment]:
    """As a big book is read."""
    with desk.book.streamed() as read:
        on = desk.on.toordinal()
        found = [*assess_each(read.bulls, read.groups, desk.rules(), on, Tally())]
    return {bull.bull: bull for bull in found}
