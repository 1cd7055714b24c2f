"""Headings and words in the spellings people use; what is not understood is said, not dropped."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from readiness.roster.headings import SPELLINGS, WEAK
from readiness.system.errors import DataError
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


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Wt", "kg"), ("Wt (kg)", "kg"), ("L/W", "kg"), ("Handling", "temper"),
        ("Nature", "temper"), ("Came", "arrived"), ("Came on", "arrived"), ("Yard", "pen"),
        ("Field", "pen"), ("Paddock", "pen"), ("Mob", "group"), ("Team", "group"),
        ("Homebred / bought?", "origin"), ("Home bred?", "origin"), ("Vendor", "bought_from"),
        ("Used on heifers", "heifer_safe"), ("OK for heifers", "heifer_safe"),
        ("Heifers ok", "heifer_safe"), ("Breeder", "bought_from"),
    ],
)  # fmt: skip
def test_headings_of_two_farms(heading: str, field: str) -> None:
    """As written by somebody who had not seen the list."""
    roster = read([["tag", heading], ["00601", ""]])
    assert [column.field for column in roster.head.columns] == ["bull", field]


@pytest.mark.parametrize(
    "heading",
    [
        "Sire", "Sire of", "Sire name", "Dam", "Dam name", "Dam tag", "Dam date of birth", "Type",
        "Colour", "Polled", "Horned", "Calved", "Wormed on", "Weaned on", "Weaning date",
        "Date tested", "Date out", "Feeding group", "Passport", "Price", "Status", "Shod", "Scored",
    ],
)  # fmt: skip
def test_no_heading_of_another_meaning_is_suggested(heading: str) -> None:
    """What each means in everyday English is no field of a roster."""
    roster = read([["tag", heading], ["00601", "x"]])
    assert [text for _, text in roster.warnings] == [f'column B "{heading}" is not taken in']


@pytest.mark.parametrize(
    ("heading", "meant"),
    [("Temperment", "temperament"), ("liveweigth (kg)", "liveweight kg"), ("Brithday", "birthday"),
     ("DATE WIEGHED", "date weighed")],
)  # fmt: skip
def test_a_slip_in_a_heading_is_seen(heading: str, meant: str) -> None:
    roster = read([["tag", heading], ["00601", "x"]])
    assert roster.warnings[0][1].endswith(f"is not taken in; did you mean {meant}?")


def test_a_field_that_has_its_column_is_not_suggested() -> None:
    roster = read([["tag", "born", "birht date"], ["00601", "2021-04-03", "x"]])
    assert [text for _, text in roster.warnings] == ['column C "birht date" is not taken in']


def test_tempers_in_a_column_that_nobody_reads_are_said_aloud() -> None:
    rows = [["tag", "Type", ""], ["00601", "Dangerous!", ""], ["00602", "red", "very quiet"],
            ["00603", "steady, dangerous", ""]]  # fmt: skip
    assert [text for _, text in read(rows).warnings] == [
        'column B "Type" is not taken in, AND TEMPERS MAY STAND IN IT: dangerous in rows 2 and 4 '
        "and steady in row 4. Where they do, head it Temper and import it again: until then nobody "
        "is warned of a dangerous bull",
        "column C has no heading, and is not taken in, AND TEMPERS MAY STAND IN IT: quiet in row "
        "3. Where they do, head it Temper and import it again: until then nobody is warned of a "
        "dangerous bull",
    ]
    rows[0][2] = "temper"
    rows[2][2] = "quiet"
    assert "write it into the column of the temper" in read(rows).warnings[0][1]


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


def test_an_id_is_no_name() -> None:
    """Beside a tag it is taken for nothing; beside Bull it is the tag, whichever comes first."""

    def taken(*headings: str) -> list[str | None]:
        return [column.field for column in read([headings, ["00601", "00602"]]).head.columns]

    assert taken("Tag", "ID") == ["bull", None]
    assert taken("Bull", "ID") == ["name", "bull"] and taken("ID", "Bull") == ["bull", "name"]
    assert taken("ID", "Breed") == ["bull", "breed"] and taken("Tag", "Bull") == ["bull", "name"]
