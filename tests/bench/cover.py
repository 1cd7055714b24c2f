"""How long cover takes: 200 bulls in 20 groups, some of them short, with the moves that mend it."""

from __future__ import annotations

import statistics
import time

from readiness.cover.whole import cover_of
from readiness.herd.board import assess_herd, fold_book
from tests.build import RULES, day, entries_of
from tests.cover.farms import ON, bull, cows

GROUPS, BULLS, RUNS = 20, 200, 5


def main() -> None:
    lines = [cows(250 if at % 4 else 400, f"G {at}") for at in range(GROUPS)]
    for at in range(BULLS):
        where = f"G {at % GROUPS}" if at % 10 else None
        lines += bull(f"B {at}", where, f"20{20 + at % 5}-0{1 + at % 9}-11", pen=f"pen {at % 7}")
    entries = entries_of(lines)
    herd = fold_book(entries, RULES, day(ON))
    cover_of(herd, assess_herd(herd))
    times, boards = [], []
    for _ in range(RUNS):
        start = time.perf_counter()
        board = assess_herd(herd)
        boards.append(time.perf_counter() - start)
        found = cover_of(herd, board)
        times.append(time.perf_counter() - start - boards[-1])
    short = sum(group.short or 0 for group in found.groups)
    cover_ms, board_ms = (statistics.median(each) * 1000 for each in (times, boards))
    print(
        f"cover of {BULLS} bulls in {GROUPS} groups {cover_ms:.0f} ms, board {board_ms:.0f} ms; "
        f"short {short}, {len(found.moves)} moves"
    )


if __name__ == "__main__":
    main()
