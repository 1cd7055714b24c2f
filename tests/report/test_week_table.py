"""The week's jobs on the wall: every check due within the week once, by day and by whom."""

from __future__ import annotations

from datetime import date

from readiness.herd.board import assess_book
from readiness.report.board_page import OVERDUE, week_tables
from readiness.report.rows import check_words
from readiness.rules.load import load_rules
from readiness.trade.words import weekday_words
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
        ("Thu 9 Apr", "farmer"): ("Corran, Fenwick: walk",),
        ("Fri 10 Apr", "vet"): ("Brock: vet exam",),
    }


def test_in_random_books_each_check_due_within_the_week_stands_there_once() -> None:
    """A bull whose name could be taken for another's has the end of his tag before it."""
    jobs = 0
    for seed in range(6):
        random = assess_book(book(12, 20, seed), load_rules(None), ON)
        names = {bull.name for bull in random.bulls if bull.name}
        due = {
            (OVERDUE if check.overdue else weekday_words(check.plan_by, ON), check.who,
             bull.name or bull.bull, check_words(check))
            for bull in random.bulls
            for check in bull.outstanding
            if check.overdue or (check.has_last_day and check.plan_by <= ON + 7)
        }  # fmt: skip
        shown = [
            (row.day, who, next((n for n in names if f" {bull}".endswith(f" {n}")), bull), job)
            for table in week_tables(random, several=True)
            for row in table.rows
            for who, told in row.jobs
            for bulls, job in (each.rsplit(": ", 1) for each in told)
            for bull in (each.split(" (")[0] for each in bulls.split(", "))
        ]
        assert set(shown) == due and len(shown) == len(due)
        jobs += len(shown)
    assert jobs > 50
