"""Headings and words in the spellings people use; what is not understood is said, not dropped."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from readiness.errors import DataError
from readiness.roster.headings import SPELLINGS, WEAK
from tests.roster.grids import fields, read, said


def one(heading: str, value: str) -> Any:
    """What a roster of one bull says of him beside his tag."""
    roster = read([["tag", heading], ["00601", value]])
    assert not roster.problems, said(roster.problems)
    (row,) = fields(roster)
    return {key: row[key] for key in row if key != "bull"}


@pytest.mark.parametrize(
    ("heading", "field"),
    [(said, field) for field, spellings in SPELLINGS.items() for said in spellings],
)
def test_no_heading_means_two_things(heading: str, field: str) -> None:
    found = read([[heading.upper(), "colour"], ["00601", "red"]]) if field == "bull" else None
    if found is None:
        found = read([["tag", f" {heading.title()}: "], ["00601", ""]])
    assert field in [column.field for column in found.head.columns]


def test_headings_in_spellings_of_their_own() -> None:
    roster = read(
        [
            ["EAR-TAG  No.", "d.o.b", "Heifer_safe?", "LIVEWEIGHT (KG)", "Location", "Temperament"],
            ["00601", "2021-04-03", "Yes", "812", "Bank", "calm"],
        ]
    )
    assert fields(roster) == [
        {"bull": "00601", "born": date(2021, 4, 3), "heifer_safe": True, "kg": 812, "pen": "Bank",
         "temper": "quiet"},
    ]  # fmt: skip
    assert roster.warnings == []


def test_a_bull_is_his_tag_or_his_name() -> None:
    assert fields(read([["Bull", "Name"], ["00601", "Wren"]])) == [
        {"bull": "00601", "name": "Wren"}
    ]
    assert fields(read([["Bull", "Tag"], ["Wren", "00601"]])) == [{"bull": "00601", "name": "Wren"}]
    assert WEAK[0] == "bull"


def test_columns_that_are_not_taken_in_are_said() -> None:
    roster = read([["tag", "Sire", "date of brith", ""], ["00601", "Earl", "2021", "!"]])
    assert [text for _, text in roster.warnings] == [
        'column B "Sire" is not taken in',
        'column C "date of brith" is not taken in; did you mean date of birth?',
        "column D has no heading, and is not taken in",
    ]


def test_two_columns_for_the_same() -> None:
    with pytest.raises(DataError) as refused:
        read([["tag", "pen", "Shed"], ["00601", "1", "2"]])
    assert str(refused.value) == (
        'row 1: column B "pen" and column C "Shed" both stand for pen; keep one, or give the other '
        "another heading."
    )


def test_no_column_for_the_tag() -> None:
    with pytest.raises(DataError) as refused:
        read([["Spring bulls"], ["name", "breed"], ["Wren", "Luing"]])
    assert str(refused.value).startswith(
        "no column holds the tags; the headings are name and breed. Write one of these over the "
        "tags: tag, ear tag,"
    )


def test_titles_blank_rows_and_columns_and_headings_again() -> None:
    rows = [
        ["", "Bulls of Whinny Bank"], [], ["", "printed 1 Apr 2026"], [],
        ["", "Tag", "", "Name"], ["", "00601", "", "Wren"], [], ["", "Tag", "", "Name"],
        ["", "00602", "", "Jay"], ["", "00603"],
    ]  # fmt: skip
    roster = read(rows)
    assert roster.head.row == 5
    assert [(row.number, row.tag) for row in roster.rows] == [
        (6, "00601"),
        (9, "00602"),
        (10, "00603"),
    ]
    assert roster.notes == ["headings again, passed over: row 8"]


@pytest.mark.parametrize(
    ("heading", "words", "value"),
    [
        ("temper", ("quiet", "Calm", "DOCILE", "steady"), "quiet"),
        ("temper", ("watch", "Watch him!", "flighty"), "watch"),
        ("temper", ("dangerous", "aggressive"), "dangerous"),
        ("heifers", ("yes", "Y", "true", "TRUE", "1", "✓", "ok"), True),
        ("heifers", ("no", "N", "False", "0"), False),
        ("origin", ("homebred", "Home bred", "home-bred", "own"), "homebred"),
        ("role", ("worker", "Working"), "worker"),
        ("role", ("reserve", "spare"), "reserve"),
    ],
)
def test_words_that_clearly_mean_a_value(heading: str, words: tuple[str, ...], value: Any) -> None:
    assert [list(one(heading, word).values()) for word in words] == [[value]] * len(words)


@pytest.mark.parametrize(
    ("heading", "word"),
    [("temper", "ok"), ("temper", "3"), ("heifers", "x"), ("heifers", "some"), ("origin", "market"),
     ("role", "both"), ("kg", "about 900"), ("kg", "900 lb"), ("kg", "1.8e3"), ("kg", "yes")],
)  # fmt: skip
def test_words_that_do_not_are_refused(heading: str, word: str) -> None:
    (text,) = said(read([["tag", heading], ["00601", word]]).problems)
    assert text.startswith(f'row 2, column B "{heading}": "{word}" is not')


@pytest.mark.parametrize(
    ("written", "kg"),
    [("812", 812), ("812.5", 812.5), ("812,5", 812.5), ("1,025", 1025), ("812 kg", 812),
     ("812kg", 812), ("1,025.5", None)],
)  # fmt: skip
def test_weights(written: str, kg: float | None) -> None:
    if kg is None:
        assert read([["tag", "kg"], ["00601", written]]).problems
    else:
        assert one("kg", written) == {"kg": kg}


def test_no_bull_under_the_headings() -> None:
    with pytest.raises(DataError, match="there is no bull under the headings in row 1"):
        read([["tag", "name"]])
