"""The week's jobs on the wall: every check due within the week once, by day and by whom."""

from __future__ import annotations

from datetime import date

from readiness.herd.board import assess_book
from readiness.report.board_page import OVERDUE, week_tables
from readiness.rules.load import load_rules
from tests.bench.books import book
from tests.report.awkward import board

ON = date(2026, 4, 3).toordinal()


def test_the_small_farms_week_as_worked_out_by_hand() -> None:
    """Corran, lame since Wednesday, is lifted within 48 hours (Leach et al. 2012), so by Friday,
    and walked by Thursday's turnout, as Fenwick is; Brock's ulcer of 4 Mar is looked at by 8 Apr,
    and the vet examines him four weeks before his turnout on 8 May.
    """
    table = next(t for t in week_tables(board(), several=True) if "Sallow Fell" in t.title)
    assert table.title == "To do by 10 Apr at Sallow Fell"
    said = {(row.day, who): jobs for row in table.rows for who, jobs in row.jobs if jobs}
    assert said == {
        ("Fri 3 Apr", "trimmer"): ("Corran: lift LF",),
        ("Wed 8 Apr", "trimmer"): ("Brock: look LH inner",),
        ("Thu 9 Apr", "farmer"): ("Corran: walk", "Fenwick: walk"),
        ("Fri 10 Apr", "vet"): ("Brock: vet exam",),
    }


def test_in_random_books_each_check_due_within_the_week_stands_there_once() -> None:
    jobs = 0
    for seed in range(6):
        random = assess_book(book(12, 20, seed), load_rules(None), ON)
        due = [
            (bull.farm or "", check)
            for bull in random.bulls
            for check in bull.outstanding
            if check.overdue or (check.has_last_day and check.plan_by <= ON + 7)
        ]
        tables = week_tables(random, several=True)
        shown = [(row, who, job) for t in tables for row in t.rows for who, all_ in row.jobs
                 for job in all_]  # fmt: skip
        assert len(shown) == len(due)
        late = sum(check.overdue for _, check in due)
        assert sum(row.day == OVERDUE for row, _, _ in shown) == late
        for who in ("trimmer", "farmer", "vet"):
            assert sum(w == who for _, w, _ in shown) == sum(c.who == who for _, c in due)
        jobs += len(shown)
    assert jobs > 50
