"""A roster written as of a day that is past: what may be later than that day, and what may not.

The days are worked out by hand; the real today is 20 Apr 2026 by a clock that stands still.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import FEET, write

TODAY = date(2026, 4, 20)


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("readiness.system.clock.SystemClock.today", lambda self: TODAY)


def roster(beside: Path, text: str) -> Path:
    path = beside.with_name("b.csv")
    path.write_text(text, encoding="utf-8")
    return path


def test_a_weight_of_a_day_after_it_and_not_after_today(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "x", "tag,kg,weighed\n00601,900,2026-04-20\n00602,880,2026-02-01\n")
    ran = run("import", path, "--on", "2026-03-01")
    assert (ran.code, ran.err) == (0, "")
    assert run("import", path, "--on", "2026-03-01", "--json").json()["written"] == []
    (weight,) = [
        entry["on"]
        for entry in run("bull", "00601", "--json", "--on", "2026-04-20").json()["history"]
        if entry["kind"] == "weight"
    ]
    assert weight == "2026-04-20"


def test_a_weight_after_today_is_refused(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "x", "tag,kg,weighed\n00601,900,2026-04-21\n")
    ran = run("import", path, "--on", "2026-03-01")
    assert ran.code == 65
    assert (
        'row 2, column C "weighed": 21 Apr 2026 is after today, 20 Apr 2026; correct it. Nothing'
        in ran.err
    )


def test_with_a_day_still_to_come_that_day_is_the_last(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "x", "tag,kg,weighed\n00601,900,2026-05-02\n")
    refused = run("import", path, "--on", "2026-05-01")
    assert "2 May 2026 is after the day of the import, 1 May 2026; correct it, or" in refused.err
    assert run("import", path, "--on", "2026-05-02").code == 0


def test_he_cannot_be_born_after_the_day_on_which_he_is_booked(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "x", "tag,born\n00601,2026-03-02\n")
    ran = run("import", path, "--on", "2026-03-01")
    assert "2 Mar 2026 is after the day of the import, 1 Mar 2026" in ran.err


def test_a_short_year_is_the_last_up_to_today(run: Run, tmp_path: Path) -> None:
    """With --on in 2025, 20 Apr 26 is of this year and not of 1926."""
    path = roster(tmp_path / "x", "tag,kg,weighed\n00601,900,20 Apr 26\n")
    ran = run("import", path, "--on", "2025-12-01")
    assert ran.code == 0, ran.err
    assert "years of two digits are the last such year up to 2026" in " ".join(ran.out.split())


def test_a_crush_day_before_the_import_counts(run: Run, tmp_path: Path) -> None:
    """As the README has it: the roster as of the crush day, then what was seen on it."""
    path = roster(tmp_path / "x", "tag,name\n00601,Wren\n")
    assert run("import", path, "--on", "2026-03-01").code == 0
    seen = {"kind": "feet", "on": "2026-03-01", "bull": "00601", "lifted": FEET}
    assert run("import", write(tmp_path / "seen.jsonl", [seen])).code == 0
    bull = run("bull", "00601", "--json", "--on", "2026-03-01").json()
    assert [entry["kind"] for entry in bull["history"]] == ["feet", "bull"]
