"""A farm whose bulls are GO unless told otherwise, on 28 Apr 2026, and its cover."""

from __future__ import annotations

from typing import Any

from readiness.cover.moves import Move
from readiness.cover.results import GroupCover
from readiness.cover.whole import Cover, cover_of
from readiness.herd.board import Herd, assess_herd, fold_book
from tests.build import RULES, Line, booked, day, entries_of, group, join, ready

ON = "2026-04-28"
TURNOUT = "2026-05-01"
FOUR_YEARS = "2022-04-01"


def herd_of(*lines: Line, on: str = ON, turnout: str | None = None) -> Herd:
    when = None if turnout is None else day(turnout)
    return fold_book(entries_of(lines), RULES, day(on), when)


def cover(*lines: Line, on: str = ON) -> Cover:
    herd = herd_of(*lines, on=on)
    return cover_of(herd, assess_herd(herd))


def only(*lines: Line, on: str = ON) -> GroupCover:
    (found,) = cover(*lines, on=on).groups
    return found


def mended(*lines: Line, on: str = ON) -> tuple[Move, ...]:
    return cover(*lines, on=on).moves


def cows(
    females: int | None = 100, name: str = "Hill", turnout: str = TURNOUT, **more: Any
) -> Line:
    said: dict[str, Any] = {} if females is None else {"females": females}
    return group(turnout, name, **said, **more)


def bull(
    tag: str, name: str | None = "Hill", born: str | None = FOUR_YEARS, *, go: bool = True,
    role: str = "worker", **more: Any,
) -> list[Line]:  # fmt: skip
    """One bull: in that group, or in none; all done that GO asks for, or nothing."""
    birth: dict[str, Any] = {} if born is None else {"born": born}
    joined = [] if name is None else [join(tag, name, role=role)]
    return [booked(tag, **birth, **more), *joined, *(ready(tag=tag) if go else [])]


def team(count: int, **more: Any) -> list[Line]:
    return [line for at in range(count) for line in bull(f"B {at}", **more)]
