"""Tags as rosters have them, and the damage that spreadsheets do to them.

Herds are invented; their check digits follow the formula that reproduces the published run
(``tests/standards/test_entries.py``). That a number keeps 15 digits is IEEE 754's double as
spreadsheets show it.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from readiness.entries.entry import Entry
from readiness.trade.tags import tag_key
from tests.roster.grids import read, read_xlsx, said, take

GOOD = "UK 700915 600015"


def tags(*written: object, heading: str = "tag") -> list[str]:
    roster = read([[heading], *([tag] for tag in written)])
    assert not roster.problems, said(roster.problems)
    return [row.tag for row in roster.rows]


def refused(*written: object) -> list[str]:
    return said(read([["tag"], *([tag] for tag in written)]).problems)


def warned(roster: Any) -> list[str]:
    return [text for _, text in roster.warnings]


@pytest.mark.parametrize(
    "written",
    [
        "UK 700915 600015", "UK700915600015", "uk 700915 600015", "UK-700915-600015",
        "UK.700915.600015", "UK 700915 6 00015", "'UK 700915 600015", "’UK700915600015",
        " UK\u00a0700915\u00a0600015 ", '="UK700915600015"', "UK700915/600015", "UK 700915–600015",
    ],
)  # fmt: skip
def test_one_bull_in_many_spellings(written: str) -> None:
    assert tags(written) == [GOOD]


def test_northern_ireland_before_and_after_june_2024() -> None:
    """Format: DAERA's guidance. 1234560001 mod 7 + 1 = 4."""
    assert tags("UK9 123456 00014") == ["UK 9 123456 0001 4"]
    assert tags("xi0123456-0001-4") == ["XI 0 123456 0001 4"]


@pytest.mark.parametrize(
    "written", ["00417", "AB 12/7", "826 000012345678", "Y-14", "IE 12 1234 5"]
)
def test_any_other_tag_stays_as_it_is(written: str) -> None:
    assert tags(written) == [written]


def test_twelve_digits_are_of_the_uk_where_their_check_digits_say_so() -> None:
    roster = read([["tag"], ["700915600015"], ["700915 700016"], ["700922200123"]])
    assert [row.tag for row in roster.rows] == [GOOD, "UK 700915 700016", "UK 700922 200123"]
    assert warned(roster) == [
        'column A "tag", rows 2-4: 12 digits and no country, read as UK tags, since their check '
        "digits fit"
    ]


def test_twelve_digits_of_another_country_stay_what_they_are() -> None:
    """UK 700915 500015 would be wrong (6 is right): nothing says that this is of the UK."""
    roster = read([["tag"], ["700915500015"]])
    assert [row.tag for row in roster.rows] == ["700915500015"]
    assert "no country, taken as they are" in warned(roster)[0]


def test_the_heading_may_say_the_country() -> None:
    roster = read([["UK number"], ["700915500015"], ["700915600015"]])
    assert [row.tag for row in roster.rows] == ["UK 700915 500015", GOOD]
    assert warned(roster) == []


@pytest.mark.parametrize("written", ["7.00916E+11", "7,00916E+11", "1.23457e+11", "3E+11"])
def test_a_number_shown_with_an_exponent_has_lost_its_digits(written: str) -> None:
    (text,) = refused("00417", written)
    assert text.startswith('row 3, column A "tag": ') and "digits left out are lost" in text
    assert "format Text" in text


def test_two_whole_tags_in_one_cell_are_no_bull() -> None:
    (text,) = refused("00417", f"{GOOD} UK 700915 500015")
    assert text == (
        f'row 3, column A "tag": {GOOD} and UK 700915 500015 are 2 tags in one; write one for each '
        "bull"
    )


def test_what_only_looks_like_one_is_a_tag() -> None:
    assert tags("12E4", "3E11") == ["12E4", "3E11"]


def test_a_zero_in_front_comes_back_where_the_check_digit_fits() -> None:
    """Herd 012345, animal 00077: 1234500077 mod 7 + 1 = 7."""
    roster = read([["tag"], ["12345700077"], [GOOD]])
    assert [row.tag for row in roster.rows] == ["UK 012345 700077", GOOD]
    assert "row 2: 11 digits, read as UK tags whose 0 in front" in warned(roster)[0]
    (text,) = refused("12345600077")
    assert "with it the check digit would be wrong" in text


def test_eleven_digits_that_somebody_typed_as_text_have_lost_nothing() -> None:
    roster = read_xlsx([["tag"], ["12345600077"]])
    assert [row.tag for row in roster.rows] == ["12345600077"] and not roster.problems


def test_a_number_cell_shows_its_zeros_by_its_format() -> None:
    def change(sheet: Any) -> None:
        sheet["A2"].number_format = "000000000000"
        sheet["A3"].number_format = '"UK "000000\\ 000000'
        sheet["A4"].number_format = "00000"
        sheet["A5"].number_format = "#,##0"

    roster = read_xlsx([["tag"], [12345700077], [700915600015], [417], [90417]], change)
    assert [row.tag for row in roster.rows] == ["UK 012345 700077", GOOD, "00417", "90417"]


def test_short_numbers_are_taken_and_said() -> None:
    roster = read_xlsx([["tag"], [417], [418], ["00419"]])
    assert [row.tag for row in roster.rows] == ["417", "418", "00419"]
    assert warned(roster) == [
        'column A "tag", rows 2-3: numbers: where a tag began with 0, a spreadsheet has dropped '
        "it. Look at them"
    ]


def test_more_digits_than_a_spreadsheet_keeps() -> None:
    roster = read_xlsx([["tag"], [8260123456789012], [826000012345678]])
    (text,) = said(roster.problems)
    assert text.startswith('row 2, column A "tag": "8260123456789012" is a number of 16 digits')
    (text,) = refused("8260123456789010")
    assert "keeps 15 of them" in text
    assert tags("8260123456789012") == ["8260123456789012"]  # as text, no digit is a zero's


def test_a_number_with_a_point() -> None:
    roster = read([["tag"], ["417.0"]])
    assert roster.rows[0].tag == "417" and "written with .0" in warned(roster)[0]
    (text,) = said(read_xlsx([["tag"], [417.5]]).problems)
    assert "holds the number 417.5, which is no tag" in text


@pytest.mark.parametrize(
    "written", ["1-Feb", "01-Feb", "Feb-12", "1 Feb 2026", "01/02/2026", "2026-02-01", "12/JAN"]
)
def test_a_tag_that_became_a_day(written: str) -> None:
    (text,) = refused("00417", written)
    assert text.startswith('row 3, column A "tag": holds a day') and "1-2 or 3/4" in text


def test_a_tag_that_a_spreadsheet_made_a_day() -> None:
    roster = read_xlsx(
        [["tag", "pen"], [datetime(2026, 2, 1), "1"], ["00417", datetime(2026, 2, 1)]]
    )
    assert [text[:24] for text in said(roster.problems)] == [
        'row 2, column A "tag": h', 'row 3, column B "pen": h',
    ]  # fmt: skip


@pytest.mark.parametrize("words", ["Total", "TOTAL:", "No. of bulls", "Totals"])
def test_a_number_in_a_row_of_totals_is_no_bull(words: str) -> None:
    """He stood on the board as 4 Total."""
    roster = read([["Name", "Ear tag", "Group"], ["Alder", "347", ""], [words, "4", ""]])
    [problem] = said(roster.problems)
    assert problem.startswith('row 3, column B "Ear tag": stands in a row that reads')
    assert "take the row out" in problem


def test_a_total_under_the_tags_is_no_bull() -> None:
    for written in ("Total", "12 bulls", "* on loan"):
        (text,) = refused("00417", written)
        assert text.startswith('row 3, column A "tag": ') and "is no tag" in text


def test_a_herd_that_is_known_by_names_alone() -> None:
    roster = read([["bull", "breed"], ["Rowan", "Luing"], ["Wren", "Luing"]])
    assert [row.tag for row in roster.rows] == ["Rowan", "Wren"] and not roster.problems
    assert "rows 2-3: words and no tags" in warned(roster)[0]


def test_a_row_without_a_tag() -> None:
    roster = read([["tag", "name"], ["00417", "Rowan"], ["", "Wren"], ["", ""], ["-", "Jay"]])
    assert said(roster.problems) == [
        f'row {row}, column A "tag": is empty, and the row says more; write his tag, or empty the '
        "row"
        for row in (3, 5)
    ]


# ---- the same tag with other marks between -----------------------------------------------------


def booked(tag: str) -> list[Entry]:
    """A book with one bull, booked by hand under that spelling."""
    content = {"kind": "bull", "on": "2026-04-02", "bull": tag}
    return [Entry(739_000, "2026-04-02T10:00:00.000000Z", 0, "a", "bull", tag_key(tag), content)]


@pytest.mark.parametrize("there", ["UK-700915-600015", "uk.700915.600015", "UK700915/600015"])
def test_an_official_tag_of_the_book_in_other_marks_is_that_bull(there: str) -> None:
    """BCMS format: UK, herd, check digit and animal; what stands between is no part of it."""
    changes = take(read([["tag", "pen"], ["UK 700915 600015", "Bank"]]), booked(there))
    assert [(row.bull, row.status) for row in changes.rows] == [(there, "updated")]
    assert [entry.content["bull"] for entry in changes.entries] == [there]


def test_any_other_tag_in_other_marks_is_asked_about() -> None:
    changes = take(read([["tag"], ["Y14"], ["Z-2"], ["Z.2"]]), booked("Y-14"))
    assert [(row.bull, row.status) for row in changes.rows] == [
        ("Y14", "new"), ("Z-2", "new"), ("Z.2", "new"),
    ]  # fmt: skip
    assert changes.warnings == [
        (2, "Y14 is a new bull; Y-14, who is in the book, has the same tag but for the marks "
            "between. If he is meant, write it as it is there"),
        (4, "Z.2 is a new bull; Z-2 in row 3 has the same tag but for the marks between. If he is "
            "meant, write it as it is there"),
    ]  # fmt: skip
    assert take(read([["tag", "pen"], ["Y-14", "Bank"]]), booked("Y-14")).warnings == []


def test_tags_on_several_lines_of_one_cell() -> None:
    """Two stray quotes in a file of tags alone make one tag of several; a whole official tag that
    was broken to fit its column is one."""
    (text,) = refused("00601\n00602")
    assert text.startswith('row 2, column A "tag": "00601 00602" stands on several lines')
    assert tags("UK 700915\n600015") == [GOOD]
