"""Days as people write them, by hand: each worked out from the calendar.

ISO 8601 for year-month-day; a spreadsheet counts days from 30 Dec 1899 or 1 Jan 1904 (ECMA-376
part 1, 18.17.4): 44289 is 3 Apr 2021 in the one, 42827 in the other.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest

from readiness.entries.entry import Entry
from readiness.trade.ages import birth_in
from tests.roster.grids import ON, Rows, fields, read, read_xlsx, said, take

APRIL = date(2021, 4, 3)


def born(*written: object, heading: str = "born", dates: str | None = None) -> Any:
    """The days of a column, or what is wrong with it."""
    rows: Rows = [["tag", heading], *([f"00{n}", day] for n, day in enumerate(written, start=601))]
    roster = read(rows, dates)
    return said(roster.problems) or [row.fields.get("born") for row in roster.rows]


def born_xlsx(*written: object) -> Any:
    rows: Rows = [["tag", "born"], *([f"00{n}", day] for n, day in enumerate(written, start=601))]
    roster = read_xlsx(rows)
    return said(roster.problems) or [row.fields.get("born") for row in roster.rows]


@pytest.mark.parametrize(
    "written",
    [
        "2021-04-03", "2021/4/3", "2021.04.03", "20210403", "2021-04-03 00:00:00",
        "2021-04-03T00:00:00Z", "3 Apr 2021", "03 April 2021", "3rd April 2021", "3-Apr-21",
        "3-Apr-2021", "3Apr2021", "3.Apr.2021", "April 3, 2021", "Apr 3 2021", "Apr-03-2021",
        "Sat 3 Apr 2021", "Saturday, 3 April 2021", "3 APR 2021", "3rd of April 2021",
    ],
)  # fmt: skip
def test_a_day_that_can_be_read_one_way_only(written: str) -> None:
    assert born(written) == [APRIL]


def test_september_has_two_short_names() -> None:
    assert born("1 Sep 2021", "1 Sept 2021") == [date(2021, 9, 1)] * 2


@pytest.mark.parametrize("mark", ["/", ".", "-"])
def test_one_value_settles_the_column(mark: str) -> None:
    """13 is no month; so 03/04 beside it is 3 April, and beside 04/13 it is 4 March."""
    day_first, month_first = (
        [text.replace("/", mark) for text in pair]
        for pair in (("03/04/2021", "13/04/2021"), ("03/04/2021", "04/13/2021"))
    )
    assert born(*day_first) == [APRIL, date(2021, 4, 13)]
    assert born(*month_first) == [date(2021, 3, 4), date(2021, 4, 13)]


def test_where_no_value_settles_it_both_readings_are_named() -> None:
    (text,) = born("05/05/2021", "03/04/2021", "01/02/2021")
    assert text.startswith(
        'column B "born": 03/04/2021 in row 3 is 3 Apr 2021 or 4 Mar 2021, and no other value of '
        "the column shows which (2 days can be read both ways)"
    )
    assert "--dates dmy" in text and "2021-04-03" in text


def test_the_same_day_both_ways_needs_no_order() -> None:
    assert born("05/05/2021", "12/12/2020") == [date(2021, 5, 5), date(2020, 12, 12)]


def test_the_person_or_the_heading_may_say_it() -> None:
    assert born("03/04/2021", dates="dmy") == [APRIL]
    assert born("03/04/2021", dates="mdy") == [date(2021, 3, 4)]
    assert born("03/04/2021", heading="D.O.B. (dd/mm/yyyy)") == [APRIL]
    assert born("03/04/21", heading="born mm-dd-yy") == [date(2021, 3, 4)]


def test_what_contradicts_the_person_is_a_problem_of_its_row() -> None:
    assert born("03/04/2021", "04/13/2021", dates="dmy") == [
        'row 3, column B "born": 04/13/2021 cannot be read day first, as --dates dmy says; write '
        "it as 3 Apr 2021 or 2021-04-03"
    ]


def test_a_column_written_in_two_ways_is_refused_with_both_rows() -> None:
    (text,) = born("13/04/2021", "03/04/2021", "04/13/2021")
    assert text.startswith(
        'column B "born": 13/04/2021 in row 2 has the day first and 04/13/2021 in row 4 the month'
    )


def test_each_column_stands_for_itself() -> None:
    roster = read([["tag", "born", "arrived"], ["00601", "13/04/2021", "03/04/2022"]])
    (text,) = said(roster.problems)
    assert text.startswith('column C "arrived": 03/04/2022 in row 2 is 3 Apr 2022 or 4 Mar 2022')


@pytest.mark.parametrize(
    ("written", "day"),
    [("3 Apr 21", APRIL), ("3 Apr 26", date(2026, 4, 3)), ("3 Apr 27", date(1927, 4, 3)),
     ("3 Apr 99", date(1999, 4, 3))],
)  # fmt: skip
def test_a_year_of_two_digits_is_the_last_one_up_to_the_import(written: str, day: date) -> None:
    assert born(written) == [day]


@pytest.mark.parametrize(
    ("written", "why"),
    [
        ("31/02/2021", "there is no such day in the calendar"),
        ("29 Feb 2021", "there is no such day in the calendar"),
        ("2021-13-01", "there is no such day in the calendar"),
        ("Apr-21", "has no year, or no day"),
        (
            "3 Apr",
            "has no year, or no day, and rows of a list go back for years; write it as 3 Apr",
        ),
        ("sat 3 apr", "has no year"),
        ("apr 3", "has no year"),
        ("today", "no day that can be read"),
        ("3/4", "has no year"),
        ("44289", "a spreadsheet's number of a day"),
        ("03042021", "is no day that can be read"),
        ("spring 2021", "is no day that can be read"),
        ("3 Foo 2021", "is no day that can be read"),
    ],
)
def test_what_is_no_day_is_refused_by_row(written: str, why: str) -> None:
    (text,) = born("13 Apr 2020", written)
    assert text.startswith('row 3, column B "born": ') and why in text


@pytest.mark.parametrize("written", ["", "-", "n/a", "unknown", " "])
def test_nothing_is_said(written: str) -> None:
    assert born(written) == [None]


def test_the_days_of_a_spreadsheet_are_what_they_are() -> None:
    assert born_xlsx(datetime(2021, 4, 3, 14, 30), APRIL, 44289, "13 Apr 2020") == [
        APRIL, APRIL, APRIL, date(2020, 4, 13),
    ]  # fmt: skip


def test_a_spreadsheet_that_counts_from_1904() -> None:
    def change(sheet: Any) -> None:
        from openpyxl.utils.datetime import CALENDAR_MAC_1904

        sheet.parent.epoch = CALENDAR_MAC_1904

    rows: Rows = [["tag", "born"], ["00601", 42827], ["00602", datetime(2021, 4, 3)]]
    assert [row["born"] for row in fields(read_xlsx(rows, change))] == [APRIL, APRIL]


def test_a_time_or_a_year_in_a_spreadsheet_is_no_day() -> None:
    rows: Rows = [["tag", "came"], ["1", datetime(2021, 4, 3).time()], ["2", 2021], ["3", True]]
    texts = said(read_xlsx(rows).problems)
    assert [text.split(":")[0] for text in texts] == [
        f'row {n}, column B "came"' for n in (2, 3, 4)
    ]
    assert "only a year" in texts[1]
    assert len(born_xlsx(datetime(2021, 4, 3).time(), True)) == 2


def test_days_that_a_foreign_spreadsheet_swapped_are_refused() -> None:
    """British 3/4/2021, 12/1/2022 and 23/2/2022 opened where the month comes first: the first two
    become 4 March and 1 December, the last stays text. Nothing else tells them from right ones."""
    damaged = (datetime(2021, 3, 4), datetime(2022, 12, 1), "23/2/2022", "30/11/2020")
    (text,) = born_xlsx(*damaged)
    assert text.startswith(
        'column B "born": 2 values are days of the spreadsheet\'s own and not after the 12th of '
        "the month, as most of its own days here are, while rows 4-5 (23/2/2022 in row 4) stayed "
        "text"
    )
    assert "Row 2 says 4 Mar 2021 and may be 3 Apr 2021" in text


def test_one_day_after_the_12th_does_not_clear_the_others() -> None:
    """One right day typed beside three that came swapped out of another sheet; and a text that can
    be read both ways beside them changes nothing."""
    swapped = (datetime(2021, 3, 4), datetime(2022, 12, 1), datetime(2020, 2, 1))
    for more in ((), ("03/04/2021",)):
        (text,) = born_xlsx(*swapped, datetime(2022, 1, 25), "23/2/2022", *more)
        assert text.startswith('column B "born": 3 values are days of the spreadsheet')


def test_where_few_may_have_been_swapped_they_are_named() -> None:
    """The same day both ways, 5 May, is right whatever was done to it."""
    written = (
        datetime(2021, 3, 4), datetime(2022, 1, 25), "23/2/2022", datetime(2021, 5, 5),
    )  # fmt: skip
    rows: Rows = [["tag", "born"], *([f"00{n}", day] for n, day in enumerate(written, start=601))]
    roster = read_xlsx(rows)
    assert [row.fields["born"] for row in roster.rows] == [
        date(2021, 3, 4), date(2022, 1, 25), date(2022, 2, 23), date(2021, 5, 5),
    ]  # fmt: skip
    assert [(row, text[:60]) for row, text in roster.warnings if row] == [
        (2, 'column B "born": 4 Mar 2021 may be 3 Apr 2021: days after the'[:60])
    ]


def test_named_months_cannot_have_been_swapped() -> None:
    assert born_xlsx(datetime(2021, 3, 4), "23 Feb 2022") == [date(2021, 3, 4), date(2022, 2, 23)]


# ---- births of which only month, year or age is known -------------------------------------------


def births(rows: Rows) -> list[tuple[object, object]]:
    roster = read(rows)
    assert said(roster.problems) == []
    return [(row.fields["born"], row.fields.get("born_from")) for row in roster.rows]


def test_of_a_month_a_year_or_an_age_the_first_and_the_last_day_are_kept() -> None:
    rows: Rows = [
        ["tag", "born"], ["601", "2021"], ["602", "Mar 2021"], ["603", "3/2021"],
        ["604", "5 years"], ["605", "2026"], ["606", "3/4/2021"], ["607", "13/4/2021"],
    ]  # fmt: skip
    march = (date(2021, 3, 31), date(2021, 3, 1))
    assert births(rows) == [
        (date(2021, 12, 31), date(2021, 1, 1)), march, march,
        (date(2021, 4, 3), date(2020, 4, 4)),
        (date(2026, 4, 3), date(2026, 1, 1)),  # not after the day of the import
        (APRIL, None), (date(2021, 4, 13), None),
    ]  # fmt: skip
    assert born_xlsx(2021) == [date(2021, 12, 31)]


def test_a_column_of_ages_says_when_they_were_born_where_no_other_does() -> None:
    """At 3 April 2026."""
    five = (date(2021, 4, 3), date(2020, 4, 4))
    rows: Rows = [["tag", "Age"], ["601", "5"], ["602", "5 yrs"], ["603", "60 months"]]
    assert births(rows) == [five, five, (date(2021, 4, 3), date(2021, 3, 4))]
    assert births([["tag", "Age (months)"], ["601", "60"]]) == [
        (date(2021, 4, 3), date(2021, 3, 4))
    ]
    assert births([["tag", "age", "born"], ["601", "9", "2021-04-03"]]) == [(APRIL, None)]
    (text,) = said(read([["tag", "age"], ["601", "old"]]).problems)
    assert '"old" is no age; write 3 years' in text


@pytest.mark.parametrize("age", ["10", "15", "18", "24", "0", "120"])
def test_a_bare_age_that_may_be_years_or_months_is_not_guessed(age: str) -> None:
    for cell in (age, int(age)):
        (text,) = said(read([["tag", "age"], ["601", cell], ["602", "4"]]).problems)
        assert text == (
            f'row 2, column B "age": "{age}" may be years or months; head the column '
            '"Age (months)" or "Age (years)"'
        )


@pytest.mark.parametrize(
    ("heading", "months"),
    [(heading, 18) for heading in (
        "Age (mths)", "age in months", "Months old", "Age (months)", "age mos", "AGE (M)"
    )] + [(heading, 216) for heading in (
        "Age yrs", "age (yrs)", "Age (years)", "age in years", "years old", "Age (Y)"
    )],
)  # fmt: skip
def test_the_heading_of_an_age_says_years_or_months(heading: str, months: int) -> None:
    roster = read([["tag", heading], ["601", "18"]])
    assert said(roster.problems) == []
    born = birth_in(roster.rows[0].fields)
    assert born is not None and born.months(ON.toordinal())[0] == months


def test_an_age_counts_where_the_birth_beside_it_is_empty() -> None:
    rows: Rows = [["tag", "Age (months)", "born"], ["601", "60", ""], ["602", "", "2021-04-03"],
                  ["603", "60", "unknown"], ["604", "", ""]]  # fmt: skip
    roster = read(rows)
    assert said(roster.problems) == []
    five = {"born": date(2021, 4, 3), "born_from": date(2021, 3, 4)}
    assert [row.fields for row in roster.rows] == [five, {"born": date(2021, 4, 3)}, five, {}]
    assert "where no birth stands" in roster.how[1]


def test_an_age_and_a_birth_that_cannot_both_be_so_are_told_and_the_birth_counts() -> None:
    roster = read([["tag", "age", "born"], ["601", "9", "2021-04-03"], ["602", "5", "2021-04-03"]])
    assert [row.fields for row in roster.rows] == [{"born": date(2021, 4, 3)}] * 2
    assert roster.warnings == [
        (2, 'born 3 Apr 2021 by column C "born", and 4 Apr 2016 to 3 Apr 2017 by column B "age": '
            "the birth counts. Look whether it is his")
    ]  # fmt: skip


def test_an_age_that_is_not_needed_bars_nothing() -> None:
    for age in ("18", "old", "#N/A"):
        roster = read([["tag", "age", "born"], ["601", age, "2021-04-03"]])
        assert (roster.problems, roster.rows[0].fields) == ([], {"born": date(2021, 4, 3)})


def test_an_age_taken_in_again_later_changes_nothing_and_a_birthday_makes_it_known() -> None:
    book: list[Entry] = []
    assert take(read([["tag", "age"], ["601", "5"]]), book).count("new") == 1
    later = read([["tag", "age"], ["601", "5"]])
    assert take(later, book).count("unchanged") == 1
    nearer = take(read([["tag", "born"], ["601", "2020-05-01"]]), book)
    assert (nearer.problems, nearer.count("updated")) == ([], 1)
    assert take(read([["tag", "born"], ["601", "2020"]]), book).count("unchanged") == 1
    other = take(read([["tag", "born"], ["601", "2019"]]), book)
    assert "1 May 2020 in the book, and 2019 by this row" in said(other.problems)[0]


@pytest.mark.parametrize("written", ["Apr-21", "4/21", "21", "5", "2027", "summer"])
def test_what_may_be_a_month_or_a_day_is_not_taken_for_either(written: str) -> None:
    (text,) = born(written)
    assert text.startswith('row 2, column B "born": ')


# ---- words before a day ------------------------------------------------------------------------


@pytest.mark.parametrize("word", ["expected", "before", "not", "sold", "Samedi", "Satin", "about"])
@pytest.mark.parametrize("day", ["3 Apr 2021", "April 3 2021"])
def test_a_word_before_a_day_is_not_passed_over(word: str, day: str) -> None:
    (text,) = born(f"{word} {day}")
    assert text.startswith('row 2, column B "born": ') and "is no day that can be read" in text


def test_a_weekday_that_is_not_that_days() -> None:
    """3 Apr 2021 was a Saturday (the day before Easter Sunday, 4 Apr 2021)."""
    names = ["Sat", "SATURDAY", "sat,"]
    assert born(*(f"{name} 3 Apr 2021" for name in names)) == [APRIL] * 3
    assert born("Thurs 1 Apr 2021", "Tues, March 30 2021") == [date(2021, 4, 1), date(2021, 3, 30)]
    (text,) = born("Fri 3 Apr 2021")
    assert text == (
        'row 2, column B "born": "Fri 3 Apr 2021": 3 Apr 2021 is a Saturday; correct one of the two'
    )


# ---- years in front, in two digits -------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "readings"),
    [
        (("21/04/03",), "21 Apr 2003 or 3 Apr 2021"),
        (("13-04-21", "21-11-02"), "13 Apr 2021 or 21 Apr 2013"),
        (("03.04.05",), "3 Apr 2005 or 4 Mar 2005 or 5 Apr 2003"),
    ],
)
def test_a_short_year_may_stand_in_front(written: tuple[str, ...], readings: str) -> None:
    """ISO 8601 before 2004 allowed the year in two digits; British usage has the day in front."""
    (text,) = born(*written)
    assert text.startswith(f'column B "born": {written[0]} in row 2 is {readings}, by where')
    assert "--dates dmy" in text


def test_what_shows_that_the_day_stands_in_front() -> None:
    """30 is no year up to 2026 of any bull; 2021 and 3 are no years in two digits."""
    for other in ("30/04/21", "03/13/21", "13/04/2021", "13/4/21"):
        assert not isinstance(born("05/05/21", other)[0], str)
    assert born("21/04/03", dates="dmy") == [date(2003, 4, 21)]
    assert born("21/04/03", heading="born dd/mm/yy") == [date(2003, 4, 21)]
