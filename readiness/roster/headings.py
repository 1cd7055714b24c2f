"""What the headings of a roster mean: plain words of the trade in the spellings people use.

The words are chosen here from everyday English; they follow no program's file.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Container, Iterable, Sequence
from difflib import SequenceMatcher
from functools import cache
from typing import NamedTuple

from readiness.roster.cells import Grid, GridRow, letters, one_line
from readiness.roster.vet_headings import TELLING, VET_FIELD_WORDS, VET_SPELLINGS
from readiness.system.errors import DataError
from readiness.system.plain import cut, fold
from readiness.trade.words import list_words

SPELLINGS: dict[str, tuple[str, ...]] = {
    "bull": (
        "tag", "ear tag", "ear no", "ear number", "tag no", "tag number", "ear tag no",
        "ear tag number", "official id",
        "official tag", "official no", "official number", "uk number", "uk no", "uk tag",
        "uk tag no", "uk tag number", "uk ear tag", "uk id", "animal id", "animal no",
        "animal number", "bull id", "bull tag", "bull no", "bull number", "id number", "identity",
        "management tag", "management tag no", "management number", "management no",
    ),
    "name": ("name", "bull name", "bull's name", "animal name", "called"),
    "breed": ("breed", "breed of bull", "bull breed"),
    "born": ("born", "born on", "date born", "dob", "date of birth", "birth date", "birthday"),
    "origin": (
        "origin", "bred or bought", "homebred or bought", "home bred or bought",
        "bought or homebred", "bought or home bred", "homebred bought", "home bred bought",
        "bought homebred", "bought home bred", "home bred", "homebred bought or hired",
        "home bred bought or hired", "bought or hired", "bred bought or hired", "home bought",
        "home or bought", "hb bought", "hb or bought", "source",
    ),
    "bought_from": (
        "bought from", "purchased from", "where bought", "where purchased", "vendor",
        "vendor name", "seller", "sold by", "came from", "breeder", "breeder name", "bred by",
        "hired from", "where hired", "on hire from", "on loan from", "loaned from", "leased from",
    ),
    "arrived": (
        "arrived", "arrived on", "arrival", "arrival date", "date arrived", "date of arrival",
        "came", "came on", "date on", "on farm since", "bought", "bought on", "date bought",
        "purchased", "purchased on", "purchase date", "date purchased", "date of purchase",
        "hired", "hired on", "date hired", "hire date", "on hire since", "on loan since",
    ),
    "temper": ("temper", "temperament", "behaviour", "handling", "nature"),
    "heifer_safe": (
        "heifer safe", "safe on heifers", "safe for heifers", "safe with heifers", "ok on heifers",
        "ok for heifers", "for heifers", "heifers ok", "heifers", "used on heifers",
    ),
    "pen": (
        "pen", "pen no", "pen number", "location", "shed", "yard", "paddock", "field", "building",
    ),
    "farm": ("farm", "farm name", "holding", "holding name"),
    "kg": (
        "kg", "weight", "weight kg", "weight in kg", "liveweight", "live weight", "liveweight kg",
        "live weight kg", "lwt", "lwt kg", "wt", "wt kg", "lw", "lw kg",
    ),
    "weighed_on": (
        "weighed", "weighed on", "date weighed", "weigh date", "weighing date", "weight date",
        "date of weighing",
    ),
    "group": (
        "group", "team", "mob", "bull team", "bull group", "mating group", "breeding group",
        "turnout group", "goes with", "runs with", "running with",
    ),
    "turnout": (
        "turnout", "turn out", "turnout date", "turn out date", "date of turnout", "turnout day",
        "turnout on", "goes out", "goes out on", "going out", "going out on", "out on", "bulls out",
    ),
    "role": ("role", "worker or reserve"),
    "note": ("note", "notes", "remark", "remarks", "comment", "comments"),
}  # fmt: skip
"""Field → its headings. Case, spaces and punctuation do not count."""

SORTS: dict[str, dict[str, tuple[str, ...]]] = {
    "roster": SPELLINGS,
    "vet": {**{field: SPELLINGS[field] for field in ("bull", "name", "note")}, **VET_SPELLINGS},
}
"""What a sheet may be: a roster of bulls, or a vet's sheet → its headings."""

WEAK = ("bull", "animal", "id")
"""They mean the tag where no other heading does; else the name, where no other heading does. An id
is never a name, and beside the others it is the tag."""

AGE = "age"
_UNITS = {
    "years": ("years", "year", "yrs", "yr", "y"),
    "months": ("months", "month", "mths", "mth", "mos", "mo", "m"),
}
AGES = {AGE: ""} | {
    key: unit
    for unit, words in _UNITS.items()
    for word in words
    for key in (f"age{word}", f"agein{word}", *([f"{word}old"] if len(word) > 1 else ()))
}
"""Headings of an age → in what it is, "" where they do not say: it says when he was born where no
birth does."""

HEAD_ROWS = 40
"""In so many rows from the top the headings have to be."""

_WAYS = {"hired": "hire|loan|lease", "bought": "bought|purchase", "bred": "bred|breeder"}
"""How he came, by the words of a heading over the day or the place. A homebred bull has a breeder
too: beside a column of vendors that one is not taken."""

_PATTERN = re.compile(r"[(\[]?\b(d{1,2}|m{1,2})\W(d{1,2}|m{1,2})\W(?:y{4}|y{2})\b[)\]]?", re.I)


class Heading(NamedTuple):
    """A column with its heading as written. ``field``: what it is taken for, None for nothing.

    ``order``: "dmy" or "mdy" where the heading says how its dates are written; ``key``: the heading
    without that, folded.
    """

    at: int
    heading: str
    field: str | None
    order: str = ""
    key: str = ""

    @property
    def letter(self) -> str:
        """The column as a spreadsheet names it: A, B … AA."""
        return letters(self.at)

    @property
    def place(self) -> str:
        named = f' "{cut(self.heading)}"' if self.heading else ""
        return f"column {self.letter}{named}"

    @property
    def way(self) -> str:
        """ "bought", "hired" or "bred" where the heading says that he was, else ""."""
        return next((way for way, words in _WAYS.items() if re.search(words, self.key)), "")


class Head(NamedTuple):
    """The row of headings, and its columns in their order."""

    row: int
    columns: tuple[Heading, ...]
    sort: str = "roster"

    @property
    def by_field(self) -> dict[str, Heading]:
        return {column.field: column for column in self.columns if column.field}

    @property
    def own(self) -> int:
        """How many of its fields are of this sort of sheet alone."""
        return len(self.by_field.keys() - (SORTS["roster"].keys() & SORTS["vet"].keys()))


@cache
def _fields(sort: str) -> dict[str, str]:
    return {fold(spelt): field for field, spellings in SORTS[sort].items() for spelt in spellings}


def known(row: Iterable[str]) -> int:
    """How many of a row's cells are headings that a sheet may have, each field once."""
    keys = [_key(one_line(text))[0] for text in row]
    return max(_known(keys, sort) for sort in SORTS)


def _known(keys: Sequence[str], sort: str) -> int:
    fields = _fields(sort)
    return len({fields[key] for key in keys if key in fields}) + any(key in WEAK for key in keys)


def find_head(grid: Grid) -> Head:
    """The row near the top with the most known headings, the first of several; as those of a vet's
    sheet where it has one for his word or a test, and more of a vet's than of a roster's."""
    near = [line for line in grid.lines if line.number <= HEAD_ROWS + grid.lines[0].number]
    roster, vet = (_head(near, sort) for sort in SORTS)
    return vet if vet.by_field.keys() & {*TELLING} and vet.own > roster.own else roster


def _head(near: Sequence[GridRow], sort: str) -> Head:
    keys = {line.number: [_key(cell.text)[0] for cell in line.cells] for line in near}
    line = max(near, key=lambda line: _known(keys[line.number], sort))
    return Head(line.number, _columns(line, sort), sort)


def check_head(head: Head) -> None:
    """Raises ``DataError`` (without the file's name) where no heading is one for the tag, or a
    field has two columns."""
    fields = Counter(column.field for column in head.columns if column.field)
    if "bull" not in fields:
        seen = [column.heading for column in head.columns if column.heading]
        there = f"the headings are {list_words(seen[:20])}" if seen else "there are no headings"
        raise DataError(
            f"no column holds the tags; {there}. Write one of these over the tags: "
            f"{list_words(SPELLINGS['bull'][:9], 'or')}."
        )
    twice = [field for field, count in fields.items() if count > 1]
    if twice:
        raise DataError(" ".join(_twice(head, field) for field in twice))


def _twice(head: Head, field: str) -> str:
    both = list_words(column.place for column in head.columns if column.field == field)
    what = "the tag" if field == "bull" else FIELD_WORDS.get(field, field)
    return (
        f"row {head.row}: {both} both stand for {what}; keep one, or give the other another "
        "heading."
    )


def _columns(line: GridRow, sort: str) -> tuple[Heading, ...]:
    found: list[Heading] = []
    for index, cell in enumerate(line.cells):
        key, order = _key(cell.text)
        found.append(Heading(index, cell.text, _fields(sort).get(key), order, key))
    weak = [column for column in found if column.key in WEAK]
    for column in sorted(weak, key=lambda one: one.key != "id"):
        taken = {other.field for other in found}
        may = ("bull",) if column.key == "id" else ("bull", "name")
        free = next((field for field in may if field not in taken), None)
        found[column.at] = column._replace(field=free)
    fields = {column.field for column in found}
    for column in found if "check" not in fields and "outcome" not in fields else ():
        if column.field == "result":  # of no test: the examination's
            found[column.at] = column._replace(field="outcome")
    ages = [column for column in found if column.key in AGES and sort == "roster"]
    if len(ages) == 1:
        of_age = AGE if "born" in {column.field for column in found} else "born"
        found[ages[0].at] = ages[0]._replace(field=of_age)
    places = [column for column in found if column.field == "bought_from"]
    for column in places if len(places) > 1 else ():
        if column.way == "bred":
            found[column.at] = column._replace(field=None)
    return tuple(found)


def _key(heading: str) -> tuple[str, str]:
    """A heading folded, without the pattern of its dates, and the order that this says."""
    match = _PATTERN.search(heading)
    if match is None or match[1][0].lower() == match[2][0].lower():
        return fold(heading), ""
    order = "dmy" if match[1][0].lower() == "d" else "mdy"
    return fold(heading[: match.start()] + heading[match.end() :]), order


def likely(heading: str, taken: Container[str | None], sort: str = "roster") -> str:
    """ "; did you mean …?" where a heading is a known one but for a slip in a word, else "".

    ``taken``: fields that have a column; they are not suggested. A word more, or another word, is
    another thing: "dam date of birth", "feeding group".
    """
    free = [spelt for field, all_ in SORTS[sort].items() if field not in taken for spelt in all_]
    words = re.findall(r"[^\W_]+", heading.casefold())
    near = [
        (_ratio(" ".join(words), spelt), spelt) for spelt in free if _slip(words, spelt.split())
    ]
    ratio, spelt = max(near, default=(0.0, ""))
    return f"; did you mean {spelt}?" if ratio >= ALIKE else ""


ALIKE, WORD_ALIKE, SLIP_LEAST = 0.85, 0.8, 5
"""So alike a whole heading, and each of its words, has to be; in a word of fewer letters than five
a change makes another word (date in, date on)."""


def _slip(words: Sequence[str], spelt: Sequence[str]) -> bool:
    """Whether the words differ by slips alone; hardly anybody gets the first letter wrong."""
    return len(words) == len(spelt) and all(
        a == b
        or (min(len(a), len(b)) >= SLIP_LEAST and a[0] == b[0] and _ratio(a, b) >= WORD_ALIKE)
        for a, b in zip(words, spelt, strict=True)
    )


def _ratio(one: str, other: str) -> float:
    return SequenceMatcher(None, one, other).ratio()


FIELD_WORDS = {
    "bull": "tag",
    "heifer_safe": "heifer safe",
    "kg": "weight",
    "weighed_on": "day of weighing",
    "born": "day of birth",
    "arrived": "day of arrival",
    "bought_from": "where he came from",
    **VET_FIELD_WORDS,
}
"""Fields whose name does not say it to a reader."""
