"""The days on which one may come: a recurrence rule (RFC 5545, 3.3.10) less exceptions.

Held to dates read off a calendar, and to dateutil where a rule begins on a day of its own.
"""

from __future__ import annotations

import tomllib
from datetime import date, datetime
from pathlib import Path

import pytest
from dateutil.rrule import rrulestr

from readiness.__main__ import main
from readiness.rules.load import load_rules
from readiness.rules.workdays import days_of, days_off, is_off, workdays

MONDAY_TO_SATURDAY = "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR,SA"


def between(rule: str, first: str, last: str, *exceptions: str) -> list[str]:
    """The days as ISO dates, the rule and its exceptions checked as a rules file's are."""
    ends = (date.fromisoformat(day).toordinal() for day in (first, last))
    days = days_of(workdays(rule), days_off(exceptions), *ends)
    return [date.fromordinal(day).isoformat() for day in days]


# ---- read off a calendar -------------------------------------------------------------------------


def test_monday_to_saturday_unless_the_rules_say_otherwise() -> None:
    """3 Apr 2026 is a Friday, the 5th and 12th are Sundays."""
    rules = load_rules(None).common.visits
    assert rules.visits_workdays == MONDAY_TO_SATURDAY
    assert rules.visits_except == ()
    april = between(rules.visits_workdays, "2026-04-03", "2026-04-13")
    assert april == [f"2026-04-{day:02}" for day in (3, 4, 6, 7, 8, 9, 10, 11, 13)]


def test_both_ends_are_among_the_days() -> None:
    assert between(MONDAY_TO_SATURDAY, "2026-04-06", "2026-04-06") == ["2026-04-06"]
    assert between(MONDAY_TO_SATURDAY, "2026-04-05", "2026-04-05") == []


@pytest.mark.parametrize(
    ("rule", "days"),
    [
        ("FREQ=WEEKLY;BYDAY=TU,TH", (2, 7, 9, 14, 16, 21, 23, 28, 30)),
        ("RRULE:FREQ=WEEKLY;BYDAY=WE", (1, 8, 15, 22, 29)),
        ("freq=weekly;byday=we", (1, 8, 15, 22, 29)),
        ("FREQ=MONTHLY;BYDAY=1MO", (6,)),
        ("FREQ=MONTHLY;BYDAY=-1FR", (24,)),
        ("FREQ=MONTHLY;BYMONTHDAY=1,15,-1", (1, 15, 30)),
        ("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1", (30,)),
        ("FREQ=YEARLY;BYMONTH=4;BYMONTHDAY=23", (23,)),
        ("FREQ=DAILY;BYMONTH=5", ()),
        ("FREQ=WEEKLY;BYDAY=MO;UNTIL=20260414", (6, 13)),
    ],
)
def test_april_2026_by_the_calendar(rule: str, days: tuple[int, ...]) -> None:
    """Wednesday 1 to Thursday 30 April 2026."""
    found = between(rule, "2026-04-01", "2026-04-30")
    assert found == [f"2026-04-{day:02}" for day in days]


def test_the_31st_is_not_made_another_day_in_shorter_months() -> None:
    """RFC 5545: a day that a month does not have is passed over."""
    assert between("FREQ=MONTHLY;BYMONTHDAY=31", "2026-04-01", "2026-08-31") == [
        "2026-05-31", "2026-07-31", "2026-08-31",
    ]  # fmt: skip


# ---- every other week ----------------------------------------------------------------------------

FORTNIGHT = "DTSTART:20260406\nFREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TH"
FORTNIGHTLY = ["2026-04-06", "2026-04-09", "2026-04-20", "2026-04-23", "2026-05-04", "2026-05-07"]


def test_a_fortnight_counts_from_its_own_start() -> None:
    """From Monday 6 Apr: Mondays and Thursdays of that week and of every other one after it."""
    assert between(FORTNIGHT, "2026-04-01", "2026-05-10") == FORTNIGHTLY


@pytest.mark.parametrize("start", range(1, 31))
def test_a_fortnight_does_not_shift_with_the_day_on_which_one_asks(start: int) -> None:
    first = f"2026-04-{start:02}"
    asked = between(FORTNIGHT, first, "2026-05-10")
    assert asked == [day for day in FORTNIGHTLY if day >= first]


def test_there_is_no_day_before_the_start() -> None:
    assert between("DTSTART:20260415\nFREQ=WEEKLY;BYDAY=MO", "2026-04-01", "2026-04-30") == [
        "2026-04-20", "2026-04-27",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        '"DTSTART:20260406\\nFREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TH"',
        '"DTSTART;VALUE=DATE:20260406\\nRRULE:FREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TH"',
        '"""DTSTART:20260406\r\nRRULE:FREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TH\r\n"""',
    ],
    ids=["escaped", "with names", "two lines"],
)
def test_the_start_stands_on_a_line_before(text: str) -> None:
    rule = tomllib.loads(f"rule = {text}")["rule"]
    assert between(rule, "2026-04-01", "2026-05-10") == FORTNIGHTLY


# ---- against dateutil, from the rule's own first day ---------------------------------------------


@pytest.mark.parametrize(
    "body",
    [
        "FREQ=DAILY",
        "FREQ=DAILY;INTERVAL=3",
        "FREQ=DAILY;INTERVAL=10;BYDAY=MO,TU,WE,TH,FR",
        "FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR,SA",
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=SU",
        "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=MO",
        "FREQ=WEEKLY;INTERVAL=3",
        "FREQ=MONTHLY;INTERVAL=2;BYDAY=2WE",
        "FREQ=MONTHLY;BYMONTHDAY=13;BYDAY=FR",
        "FREQ=YEARLY;BYWEEKNO=17,20,40;BYDAY=MO",
        "FREQ=YEARLY;BYYEARDAY=100,200,-1",
        "FREQ=DAILY;UNTIL=20260601",
    ],
)
@pytest.mark.parametrize("start", ["20250113", "20260406"])
@pytest.mark.parametrize("asked", ["2026-04-03", "2026-04-19"])
def test_a_rule_names_the_days_that_dateutil_names(body: str, start: str, asked: str) -> None:
    """All of dateutil's, from the start on, and of these the ones asked for."""
    begin = datetime.strptime(start, "%Y%m%d")
    first, last = date.fromisoformat(asked), date(2027, 4, 3)
    known = rrulestr(body, dtstart=begin).xafter(begin, count=1000, inc=True)
    wanted = [moment.date() for moment in known if first <= moment.date() <= last]
    rule = f"DTSTART:{start}\n{body}"
    assert between(rule, asked, last.isoformat()) == [day.isoformat() for day in wanted]
    assert wanted or "FREQ=DAILY;UNTIL" in body


def test_the_examples_of_the_standard_itself() -> None:
    """RFC 5545, 3.8.5.3: "every other week on Tuesday and Thursday, for 8 occurrences" from 2 Sep
    1997, and "the first Friday" of a month from 5 Sep 1997."""
    week = "DTSTART:19970902\nRRULE:FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=TU,TH"
    assert between(week, "1997-09-01", "1997-10-16") == [
        "1997-09-02", "1997-09-04", "1997-09-16", "1997-09-18", "1997-09-30",
        "1997-10-02", "1997-10-14", "1997-10-16",
    ]  # fmt: skip
    friday = "DTSTART:19970905\nRRULE:FREQ=MONTHLY;BYDAY=1FR"
    assert between(friday, "1997-09-01", "1998-01-31") == [
        "1997-09-05", "1997-10-03", "1997-11-07", "1997-12-05", "1998-01-02",
    ]  # fmt: skip


# ---- exceptions ----------------------------------------------------------------------------------


def test_exceptions_take_single_days_and_spans_with_both_their_ends() -> None:
    found = between(
        MONDAY_TO_SATURDAY, "2026-04-03", "2026-04-13", "2026-04-04", "2026-04-07/2026-04-10"
    )
    assert found == ["2026-04-03", "2026-04-06", "2026-04-11", "2026-04-13"]


def test_an_exception_outside_or_on_a_free_day_takes_nothing() -> None:
    days = between(MONDAY_TO_SATURDAY, "2026-04-03", "2026-04-06")
    assert days == ["2026-04-03", "2026-04-04", "2026-04-06"]
    assert between(MONDAY_TO_SATURDAY, "2026-04-03", "2026-04-06", "2026-04-05") == days
    assert between(MONDAY_TO_SATURDAY, "2026-04-03", "2026-04-06", "2025-04-03/2026-04-02") == days


def test_exceptions_may_leave_nothing() -> None:
    assert between(MONDAY_TO_SATURDAY, "2026-04-03", "2026-04-06", "2026-01-01/2026-12-31") == []


def test_whether_a_day_is_an_exception() -> None:
    off = ("2026-04-06", "2026-12-24/2027-01-02")
    taken = ("2026-04-06", "2026-12-24", "2027-01-01", "2027-01-02")
    assert all(is_off(off, date.fromisoformat(day)) for day in taken)
    free = ("2026-04-05", "2026-04-07", "2026-12-23", "2027-01-03")
    assert not any(is_off(off, date.fromisoformat(day)) for day in free)
    assert not is_off((), date(2026, 4, 6))


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("[2026-04-06]", ("2026-04-06",)),
        ('["2026-04-06", 2026-05-01]', ("2026-04-06", "2026-05-01")),
        ('["2026-12-24/2027-01-02"]', ("2026-12-24/2027-01-02",)),
        ("2026-04-06", ("2026-04-06",)),
        ('"2026-04-06/2026-04-06"', ("2026-04-06/2026-04-06",)),
        ("[]", ()),
    ],
)
def test_exceptions_as_a_rules_file_writes_them(
    tmp_path: Path, text: str, days: tuple[str, ...]
) -> None:
    path = tmp_path / "own.toml"
    path.write_text(f"[rules]\nvisits.except = {text}\n", encoding="utf-8")
    assert load_rules(path).common.visits.visits_except == days


def test_one_farm_may_have_days_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(
        '[rules]\nvisits.except = ["2026-04-06"]\n'
        '[farm."Low Farm".rules]\nvisits.workdays = "FREQ=WEEKLY;BYDAY=WE"\n',
        encoding="utf-8",
    )
    book = load_rules(path)
    low, other = book.for_farm("Low Farm").visits, book.for_farm("Hill Farm").visits
    assert (low.visits_workdays, low.visits_except) == ("FREQ=WEEKLY;BYDAY=WE", ("2026-04-06",))
    assert other.visits_workdays == MONDAY_TO_SATURDAY


# ---- wrong ones ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ('workdays = "FREQ=WEEKLY;BYDAY=XX"', "BYDAY=XX is no day of the week"),
        ('workdays = "FREQ=WEEKLY;BYDAY="', "BYDAY= is no day of the week"),
        ('workdays = ""', "known are FREQ, INTERVAL"),
        ('workdays = "Mondays"', "MONDAYS is no part of it"),
        ("workdays = 5", "a recurrence rule is wanted"),
        ('workdays = ["MO"]', "a recurrence rule is wanted"),
        ('workdays = "BYDAY=MO"', "FREQ must be one of DAILY, WEEKLY, MONTHLY, YEARLY"),
        ('workdays = "FREQ=HOURLY"', "FREQ must be one of"),
        ('workdays = "FREQ=WEEKLY;COUNT=3"', "COUNT is no part of it"),
        ('workdays = "FREQ=WEEKLY;BYDAY=MO;BYHOUR=5"', "BYHOUR is no part of it"),
        ('workdays = "FREQ=WEEKLY;INTERVAL=2;BYDAY=MO"', "it needs a day to count from"),
        (
            'workdays = "DTSTART:20260406\\nFREQ=DAILY;INTERVAL=x"',
            "INTERVAL=X is no number of steps",
        ),
        ('workdays = "DTSTART:20261306\\nFREQ=WEEKLY;BYDAY=MO"', "visits.workdays: "),
        ('workdays = "FREQ=WEEKLY;BYDAY=MO;UNTIL=soon"', "UNTIL=SOON is no day"),
        ('except = ["tomorrow"]', "'tomorrow' is no day; write 2026-12-24, or "),
        ("except = [5]", "5 is no day"),
        ('except = ["2026-02-30"]', "'2026-02-30' is no day"),
        ('except = ["/2026-04-06"]', "is no day"),
        ("except = [2026-04-06T10:00:00]", "is no day"),
        ('except = ["2026-12-24/2026-12-01"]', "'2026-12-24/2026-12-01' runs backwards"),
    ],
)
def test_a_wrong_rule_is_refused_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], line: str, words: str
) -> None:
    path = tmp_path / "own.toml"
    path.write_text(f"[rules]\nvisits.{line}\n", encoding="utf-8")
    assert main(["rules", "--check", str(path)]) == 78
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("readiness: own.toml: [rules] visits.")
    assert words in said.err
    assert said.err.count("\n") == 1
    assert "A fault" not in said.err


def test_a_right_one_passes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "own.toml"
    path.write_text(
        '[rules]\nvisits.workdays = "DTSTART:20260406\\nFREQ=WEEKLY;INTERVAL=2;BYDAY=MO"\n'
        'visits.except = [2026-04-20, "2026-12-24/2027-01-02"]\n',
        encoding="utf-8",
    )
    assert main(["rules", "--check", str(path)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert "2 values of its own" in said.out


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        ("FREQ=WEEKLY;BYDAY=99MO", "BYDAY=99MO"),
        ("FREQ=WEEKLY;BYDAY=1MO", "BYDAY=1MO"),
        ("FREQ=MONTHLY;BYDAY=54MO", "BYDAY=54MO"),
        ("DTSTART:20260406\nFREQ=WEEKLY;INTERVAL=0", "INTERVAL=0"),
        ("FREQ=WEEKLY;BYDAY=MO\nRRULE:FREQ=SECONDLY", "BYDAY=MO"),
        ("FREQ=DAILY;BYMONTH=13", "BYMONTH=13"),
        ("FREQ=WEEKLY;BYDAY=MO;BYDAY=TU", "given twice"),
        ("FREQ=WEEKLY", "a day to count from"),
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "names no day"),
        ("DTSTART:20261399\nFREQ=WEEKLY;BYDAY=MO", "20261399 is no day"),
    ],
)
def test_a_rule_that_would_hang_or_shift_is_refused_at_once(rule: str, said: str) -> None:
    """RFC 5545, 3.3.10: numbers before a weekday only in a month or year, each part once."""
    with pytest.raises(ValueError, match=said):
        workdays(rule)
