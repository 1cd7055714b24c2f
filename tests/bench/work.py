"""What is worked out inside a process: assessments, cover, a page."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

from readiness.cover.whole import cover_of
from readiness.herd.board import Herd, assess_herd, fold_book
from readiness.report.board_page import board_page
from tests.bench.books import ON, working_book
from tests.bench.measure import Aim, Row, timed
from tests.build import RULES, day, entries_of
from tests.cover.farms import ON as COVERED
from tests.cover.farms import bull, cows

RUNS = 9
BULLS, ENTRIES = 500, 40
GROUPS, CARRIERS = 20, 200


def rows(folder: Path, most: int) -> Iterator[Row]:
    entries = entries_of(working_book(BULLS, ENTRIES))
    gc.collect()
    gc.disable()  # as commands do
    try:
        yield from _assessments(entries)
        yield from _cover()
    finally:
        gc.enable()


def _assessments(entries: list) -> Iterator[Row]:  # type: ignore[type-arg]
    on = ON.toordinal()
    one_pass = timed(lambda: [entry.body.get("kind") for entry in entries], RUNS).per(BULLS)
    herd = fold_book(entries, RULES, on)
    folded = timed(lambda: fold_book(entries, RULES, on), RUNS).per(BULLS)
    yield Row(f"history of a bull of {ENTRIES} entries", folded, "one pass over them", one_pass.ms)
    assessed = timed(lambda: assess_herd(herd), RUNS).per(BULLS)
    yield Row(
        f"assess a bull of {ENTRIES} entries", assessed, "his history", folded.ms,
        Aim("at most 60 us", ms=0.06),
    )  # fmt: skip
    board = assess_herd(herd)
    page = timed(lambda: "".join(board_page(board, RULES)), 3)
    yield Row(
        f"board --html, the page of {BULLS} bulls", page, "their assessment", assessed.ms * BULLS
    )


def _cover() -> Iterator[Row]:
    """200 bulls in 20 groups, some of them short, with the moves that mend it."""
    lines = [cows(250 if at % 4 else 400, f"G {at}") for at in range(GROUPS)]
    for at in range(CARRIERS):
        where = f"G {at % GROUPS}" if at % 10 else None
        lines += bull(f"B {at}", where, f"20{20 + at % 5}-0{1 + at % 9}-11", pen=f"pen {at % 7}")
    herd: Herd = fold_book(entries_of(lines), RULES, day(COVERED))
    board = assess_herd(herd)
    floor = timed(lambda: assess_herd(herd), RUNS).ms
    took = timed(lambda: cover_of(herd, board), 3)
    yield Row(f"cover, {CARRIERS} bulls in {GROUPS} groups", took, "their assessment", floor)
