"""Any roster, however it is spelt: exactly those bulls; twice, nothing; one wrong cell, nothing.

The reference is the herd itself, written down here in a way of its own: no value passes through
the code under test before it is in the file.
"""

from __future__ import annotations

import io
import random
import zipfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from readiness.entries.entry import Entry
from readiness.roster.headings import SPELLINGS
from readiness.roster.read import roster_of
from readiness.roster.roster import Roster
from readiness.system.errors import DataError
from tests.roster.grids import ON, Rows, csv_bytes, take, xlsx_bytes
from tests.volume import examples

FEW = settings(max_examples=examples(25), suppress_health_check=list(HealthCheck))
Herd = list[dict[str, Any]]

MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]
DAY_FORMS: list[Callable[[date], str]] = [
    lambda day: day.isoformat(),
    lambda day: f"{day.day}/{day.month}/{day.year}",
    lambda day: f"{day.day:02}.{day.month:02}.{day.year}",
    lambda day: f"{day.day}-{MONTHS[day.month - 1]}-{day.year % 100:02}",
    lambda day: f"{MONTHS[day.month - 1]} {day.day}, {day.year}",
    lambda day: f"{day.day} {MONTHS[day.month - 1]} {day.year}",
]
TAG_FORMS: list[Callable[[str], str]] = [
    lambda tag: tag,
    lambda tag: tag.replace(" ", ""),
    lambda tag: tag.replace(" ", "-").lower(),
    lambda tag: f" '{tag.replace(' ', '.')} ",
]
WORDS: dict[Any, list[str]] = {
    "quiet": ["quiet", "Calm"], "watch": ["watch", "flighty"], "dangerous": ["DANGEROUS"],
    True: ["yes", "Y", "true", "1"], False: ["no", "N", "False", "0"],
}  # fmt: skip
# Letters of Western Europe, and marks that part cells in one file or another.
NAMES = st.from_regex(r"[A-Zäéøß]([a-zäéøß ,;|\"]{0,12}[a-zäéøß])?", fullmatch=True).map(
    lambda text: " ".join(text.split())
)


@st.composite
def tag(draw: st.DrawFn) -> str:
    herd = f"{draw(st.integers(0, 899_999)):06}"
    animal = f"{draw(st.integers(1, 99_999)):05}"
    return f"UK {herd} {int(herd + animal) % 7 + 1}{animal}"


def bull() -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(
        {"bull": tag()},
        optional={
            "name": NAMES,
            "breed": NAMES,
            "pen": NAMES,
            "born": st.dates(date(1990, 1, 1), ON),
            "temper": st.sampled_from(["quiet", "watch", "dangerous"]),
            "heifer_safe": st.booleans(),
            "kg": st.integers(120, 10_000).map(lambda quarter: quarter / 4),
        },
    )


HERDS = st.lists(bull(), min_size=1, max_size=6, unique_by=lambda one: one["bull"])


@dataclass(frozen=True)
class Spelt:
    """A herd in a file: ``fields`` in the order of the columns; bulls from row ``first`` on."""

    rows: Rows
    suffix: str
    delimiter: str
    coding: str
    fields: list[str]
    first: int

    def read(self) -> Roster:
        if self.suffix == ".xlsx":
            data = xlsx_bytes(self.rows)
        else:
            data = csv_bytes(self.rows, self.delimiter, self.coding)
        return roster_of(data, self.suffix, ON, "dmy")


@st.composite
def spelt(draw: st.DrawFn, herd: Herd) -> Spelt:
    """The herd as somebody might have typed it."""
    fields = sorted({field for one in herd for field in one})
    fields = draw(st.permutations(fields))
    chance = draw(st.randoms(use_true_random=False))
    suffix = draw(st.sampled_from([".csv", ".csv", ".xlsx"]))
    form = draw(st.sampled_from(DAY_FORMS))
    title = [[], ["Herd of 2026"]] if draw(st.booleans()) else []
    cells = [
        [_cell(one.get(field), field, form, chance, suffix) for field in fields] for one in herd
    ]
    head = [_heading(field, chance) for field in fields]
    return Spelt(
        rows=[*title, head, *cells],
        suffix=suffix,
        delimiter=draw(st.sampled_from(",;\t|")),
        coding=draw(st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "cp1252"])),
        fields=fields,
        first=len(title) + 2,
    )


def _heading(field: str, chance: random.Random) -> str:
    said = chance.choice(SPELLINGS[field])
    return chance.choice([said, said.upper(), said.title(), f" {said}:", said.replace(" ", "_")])


def _cell(
    value: Any, field: str, form: Callable[[date], str], chance: random.Random, suffix: str
) -> object:
    if value is None:
        return chance.choice(["", "-", "n/a"])
    if field == "bull":
        return chance.choice(TAG_FORMS)(value)
    if isinstance(value, date):
        return value if suffix == ".xlsx" else form(value)
    if isinstance(value, float):
        return value if suffix == ".xlsx" else f"{value:g} kg"
    return chance.choice(WORDS[value]) if value in WORDS else value


def in_book(book: list[Entry]) -> Herd:
    """What the book's entries say of each bull, by his tag."""
    said: dict[str, dict[str, Any]] = {}
    for entry in sorted(book):
        one = said.setdefault(entry.body["bull"], {})
        one |= {key: entry.body[key] for key in entry.body if key not in ("kind", "on", "by")}
    return list(said.values())


def as_said(herd: Herd) -> Herd:
    return [
        {key: value.isoformat() if isinstance(value, date) else value for key, value in one.items()}
        for one in herd
    ]


@FEW
@given(st.data())
def test_exactly_those_bulls_and_the_second_time_nothing(data: st.DataObject) -> None:
    herd = data.draw(HERDS)
    first, again = data.draw(spelt(herd)), data.draw(spelt(herd))
    book: list[Entry] = []
    changes = take(first.read(), book)
    assert not changes.problems, changes.problems
    assert in_book(book) == as_said(herd)
    assert take(first.read(), book).entries == []
    other = take(again.read(), book)
    assert (other.entries, other.problems) == ([], [])


@FEW
@given(st.data())
def test_a_later_roster_changes_what_it_says_and_nothing_else(data: st.DataObject) -> None:
    herd = data.draw(HERDS)
    later = [{**data.draw(bull()), "bull": one["bull"]} for one in herd]
    book: list[Entry] = []
    take(data.draw(spelt(herd)).read(), book)
    take(data.draw(spelt(later)).read(), book, renames=True)
    assert in_book(book) == as_said([{**old, **new} for old, new in zip(herd, later, strict=True)])


WRONG = {
    "bull": ["7.00916E+11", "1-Feb", "Total"],
    "born": ["31 Feb 2021", "soon", "21", "3 Apr 2027", "1989-12-31"],
    "temper": ["ok", "?!"],
    "heifer_safe": ["maybe", "x"],
    "kg": ["9000", "heavy", "12,34,5"],
    "name": ["N" * 121],
}


@FEW
@given(st.data())
def test_one_wrong_cell_and_nothing_goes_in(data: st.DataObject) -> None:
    herd = data.draw(HERDS)
    good = data.draw(bull())
    herd = [{**good, "bull": "UK 700915 600015"}, *[b for b in herd if "700915" not in b["bull"]]]
    file = data.draw(spelt(herd))
    at = data.draw(st.integers(0, len(herd) - 1)) if len(herd) > 1 else 0
    field = data.draw(st.sampled_from([f for f in file.fields if f in WRONG]))
    wrong = data.draw(st.sampled_from(WRONG[field]))
    if (field, wrong) == ("bull", "Total") and len(herd) == 1:
        return  # a herd that is known by names alone
    rows = [list(row) for row in file.rows]
    row = file.first + at
    rows[row - 1][file.fields.index(field)] = wrong
    book: list[Entry] = []
    changes = take(Spelt(**{**vars(file), "rows": rows}).read(), book)
    assert book == []
    assert [(problem.row, problem.at) for problem in changes.problems] == [
        (row, file.fields.index(field))
    ]


# ---- whatever is in the file -------------------------------------------------------------------


def only_refused(data: bytes, suffix: str) -> None:
    """Read and taken in, or refused: nothing else is raised."""
    with suppress(DataError):
        take(roster_of(data, suffix, ON), [])


@FEW
@given(st.binary(max_size=400), st.sampled_from([".csv", ".xlsx"]))
def test_any_bytes(data: bytes, suffix: str) -> None:
    only_refused(data, suffix)
    only_refused(b"PK\x03\x04" + data, suffix)
    only_refused(b"tag,name,born,kg\n" + data, suffix)


# What a spreadsheet's file can hold: its XML has no controls.
CELLS = st.one_of(
    st.text(st.characters(exclude_categories=["Cc", "Cs", "Cn"]), max_size=12),
    st.integers(),
    st.dates(date(1900, 3, 1)),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False),
)


@FEW
@given(st.lists(st.lists(CELLS, min_size=1, max_size=6), max_size=5))
def test_any_cells_under_headings(rows: list[list[object]]) -> None:
    head = ["tag", "born", "kg", "temper", "name", "arrived"]
    only_refused(csv_bytes([head, *rows]), ".csv")
    only_refused(xlsx_bytes([head, *rows]), ".xlsx")


WHOLE = xlsx_bytes([["tag", "born", "kg"], ["UK 700915 600015", date(2021, 4, 3), 812.5]])


@FEW
@given(st.data())
def test_a_damaged_spreadsheet(data: st.DataObject) -> None:
    """Bytes changed in the file, and in one of its parts before it is packed."""
    at = data.draw(st.integers(0, len(WHOLE) - 1))
    only_refused(WHOLE[:at] + data.draw(st.binary(max_size=4)) + WHOLE[at + 2 :], ".xlsx")
    with zipfile.ZipFile(io.BytesIO(WHOLE)) as packed:
        parts = {name: packed.read(name) for name in packed.namelist()}
    name = data.draw(st.sampled_from(sorted(parts)))
    part = parts[name]
    at = data.draw(st.integers(0, len(part)))
    mark = data.draw(st.sampled_from([b"", b"9", b'"', b"<", b">", b"<c/>", b"-", b"e9", b"A1"]))
    parts[name] = part[:at] + mark + part[at + data.draw(st.integers(0, 3)) :]
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as new:
        for each, content in parts.items():
            new.writestr(each, content)
    only_refused(made.getvalue(), ".xlsx")
