"""Tags as rosters have them, and what spreadsheets do to them.

A tag is long digits with zeros in front: a spreadsheet takes it for a number, drops the zeros,
shows it as 7.00914E+11, keeps 15 digits of it, or makes a day of 1-2. Where the tag can still be
known it is taken and said; where it cannot, the cell is refused. That a number cell keeps 15
digits: ECMA-376 numbers are IEEE 754 doubles, shown to 15 significant digits.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from readiness.entries.problem import shown
from readiness.roster.cells import Cell
from readiness.trade.tags import UK_DIGITS, tag_key, tag_problem

NUMBER_DIGITS = 15
_SEPARATORS = re.compile(r"[\s\-._/‐-―]+")
_UK = re.compile(r"(?:UK|XI)\d{12}", re.ASCII)
_DIGITS = re.compile(r"\d+", re.ASCII)
_WHOLE = re.compile(r"(\d+)[.,]0+", re.ASCII)
_SCIENTIFIC = re.compile(r"\d(?:[.,]\d+)?E\+\d+", re.ASCII | re.I)
_SHORT_MONTH = r"(?:JAN|FEB|MAR|APR|MAY|JUN|JUL|AUG|SEP|OCT|NOV|DEC)"
_MONTH = rf"{_SHORT_MONTH}[A-Z]*"
_DAY = re.compile(
    rf"\d{{1,2}}[-/. ]{_MONTH}(?:[-/. ]\d+)?|{_MONTH}[-/. ]\d{{1,4}}"
    r"|\d{1,2}([/.-])\d{1,2}\1\d{4}|\d{4}-\d{2}-\d{2}(?: 00:00:00)?",
    re.ASCII | re.I,
)
# Stricter: a bull may be called May 3 or Marble 2.
_MADE_BY_SPREADSHEET = re.compile(
    rf"\d{{1,2}}-{_SHORT_MONTH}(?:-\d{{2,4}})?|{_SHORT_MONTH}-\d{{2}}"
    r"|\d{1,2}([/.-])\d{1,2}\1\d{4}|\d{4}-\d{2}-\d{2}|\d(?:[.,]\d+)?E\+\d+",
    re.ASCII | re.I,
)
_A_WORD = re.compile(r"[^\W\d_]{4,}")
_AS_TEXT = "give the column the format Text and write the tag again"


class Lost(Exception):
    """The tag cannot be known from its cell; the text says why and what to do."""


@dataclass(slots=True)
class Tags:
    """``tags``: row → tag in the book's spelling. ``problems``: (row, text).

    ``warnings``: (rows, text) of what was read though it was not written so. ``bare``: the rows
    whose tag was digits that may have lost zeros in front.
    """

    tags: dict[int, str] = field(default_factory=dict)
    problems: list[tuple[int, str]] = field(default_factory=list)
    warnings: list[tuple[list[int], str]] = field(default_factory=list)
    bare: set[int] = field(default_factory=set)


def read_tags(cells: Mapping[int, Cell], *, typed: bool, uk: bool) -> Tags:
    """The tags of a column. ``cells``: row → a cell that says something, rising.

    ``typed``: text in it is what somebody typed (a spreadsheet's); ``uk``: its heading says that
    the tags are of the United Kingdom.
    """
    found = Tags()
    for row, cell in cells.items():
        try:
            found.tags[row] = written = _written(cell)
        except Lost as lost:
            found.problems.append((row, str(lost)))
            continue
        if _DIGITS.fullmatch(written) and not (typed and isinstance(cell.value, str)):
            found.bare.add(row)
    _not_a_tag(found)
    _lost_zero(found)
    _without_country(found, uk)
    _zeros(found, cells)
    found.tags = {row: spelling(tag) for row, tag in found.tags.items()}
    return found


def spelling(tag: str) -> str:
    """A tag as the book writes it: ``UK 700914 600412``, ``UK 9 123456 0001 5``; others as they
    are."""
    key = bare_key(tag)
    if not _UK.fullmatch(key):
        return tag
    country, digits = key[:2], key[2:]
    if digits[0] == ("9" if country == "UK" else "0"):
        return f"{country} {digits[0]} {digits[1:7]} {digits[7:11]} {digits[11]}"
    return f"{country} {digits[:6]} {digits[6:]}"


def bare_key(tag: str) -> str:
    """A tag without case and separators: the same for Y-14, Y.14 and Y14."""
    return _SEPARATORS.sub("", tag).upper()


def official(tag: str) -> bool:
    """Whether it is an official tag of the United Kingdom, which separators make no other."""
    return _UK.fullmatch(bare_key(tag)) is not None


def made_by_spreadsheet(text: str) -> bool:
    """Whether a word in a text file is how a spreadsheet shows a day or a long number."""
    return _MADE_BY_SPREADSHEET.fullmatch(text) is not None


def _written(cell: Cell) -> str:
    """The tag of one cell, as text. Raises ``Lost``."""
    value = cell.value
    if isinstance(value, (datetime, date, time, timedelta)):
        raise Lost(_made_a_day(cell.text))
    if isinstance(value, bool):
        raise Lost(f"holds {cell.text}, which is no tag; write the tag as text")
    if isinstance(value, (int, float)):
        return _number(value, cell)
    text = cell.text.lstrip("'’`").strip()
    if len(str(value).strip().splitlines()) > 1 and not official(text):
        raise Lost(
            f"{shown(text)} stands on several lines, and may be several tags; write one tag in a "
            "row, on one line"
        )
    if _SCIENTIFIC.fullmatch(text):
        raise Lost(
            f"{shown(text)} is how a spreadsheet shows a long number, and the digits left out are "
            f"lost; {_AS_TEXT}"
        )
    if _DAY.fullmatch(text):
        raise Lost(_made_a_day(text))
    if (
        len(text) > NUMBER_DIGITS
        and _DIGITS.fullmatch(text)
        and not text[NUMBER_DIGITS:].strip("0")
    ):
        raise Lost(_too_long(text))
    if match := _WHOLE.fullmatch(text):
        return match[1]
    return text


def _number(value: float, cell: Cell) -> str:
    """A number cell: all its digits, with the zeros that its format shows."""
    if value < 0 or value != int(value):
        raise Lost(f"holds the number {cell.text}, which is no tag; {_AS_TEXT}")
    digits = str(int(value))
    if len(digits) > NUMBER_DIGITS:
        raise Lost(_too_long(digits))
    return _as_shown(digits, cell.format)


def _too_long(digits: str) -> str:
    return (
        f"{shown(digits)} is a number of {len(digits)} digits; a spreadsheet keeps "
        f"{NUMBER_DIGITS} of them, and the others are lost; {_AS_TEXT}"
    )


def _made_a_day(text: str) -> str:
    return f"holds a day ({text}); a spreadsheet makes days of tags such as 1-2 or 3/4; {_AS_TEXT}"


_FORMAT_PART = re.compile(r'"([^"]*)"|\\(.)|([0#?])|([ \-/])|(.)')


def _as_shown(digits: str, number_format: str) -> str:
    """The digits as a format such as 000000000000 or "UK "000000 000000 shows them; as they are
    where it is any other."""
    marks: list[tuple[str, bool]] = []
    for quoted, escaped, place, literal, other in _FORMAT_PART.findall(number_format):
        if other:
            return digits
        marks.append((place or quoted or escaped or literal, bool(place)))
    if not any(mark == "0" and place for mark, place in marks):
        return digits
    shown_marks: list[str] = []
    left = digits
    first = next(at for at, (_, place) in enumerate(marks) if place)
    for at, (mark, place) in reversed(list(enumerate(marks))):
        if not place:
            shown_marks.append(mark)
        elif at == first:
            shown_marks.append(left or ("0" if mark == "0" else ""))
        else:
            shown_marks.append(left[-1:] or ("0" if mark == "0" else ""))
            left = left[:-1]
    return "".join(reversed(shown_marks)).strip()


# ---- what only the column as a whole tells -------------------------------------------------------


def _not_a_tag(found: Tags) -> None:
    """A total or a remark under the tags is no bull: a text without digits, or with a long word,
    where other rows have what looks like a tag."""
    words = [row for row, tag in found.tags.items() if not _like_a_tag(tag)]
    if not words:
        return
    if len(words) == len(found.tags):
        text = "words and no tags: the bulls are booked under these"
        found.warnings.append((words, text))
        return
    for row in words:
        tag = found.tags.pop(row)
        found.problems.append(
            (row, f"{shown(tag)} is no tag, while other rows have one; write his tag, or take the "
             "row out where it is no bull")
        )  # fmt: skip


def _like_a_tag(tag: str) -> bool:
    return bool(re.search(r"\d", tag)) and not _A_WORD.search(tag)


def _lost_zero(found: Tags) -> None:
    """Eleven digits are a UK tag whose herd begins with 0, where the check digit says so."""
    mended = []
    for row in sorted(found.bare):
        digits = found.tags.get(row, "")
        if len(digits) != UK_DIGITS - 1:
            continue
        if tag_problem(f"UK0{digits}") is None:
            found.tags[row] = f"UK0{digits}"
            mended.append(row)
        else:
            del found.tags[row]
            found.problems.append(
                (row, f"{digits} has 11 digits: a UK tag has 12, and a spreadsheet drops a 0 in "
                 f"front, but with it the check digit would be wrong; {_AS_TEXT}, with its country")
            )  # fmt: skip
    found.bare -= set(mended)
    if mended:
        text = "11 digits, read as UK tags whose 0 in front a spreadsheet dropped"
        found.warnings.append((mended, f"{text}; the check digits fit. Look at them"))


def _without_country(found: Tags, uk: bool) -> None:
    """Twelve digits are a UK tag where the heading says so, or most check digits of the column."""
    keys = {row: _SEPARATORS.sub("", tag) for row, tag in found.tags.items()}
    twelve = [row for row, key in keys.items() if len(key) == UK_DIGITS and _DIGITS.fullmatch(key)]
    fitting = [row for row in twelve if tag_problem(f"UK{keys[row]}") is None]
    if not twelve:
        return
    if not uk and len(fitting) * 2 <= len(twelve):
        text = "12 digits and no country, taken as they are. Write UK before those of the UK"
        found.warnings.append((twelve, text))
        return
    for row in twelve:
        found.tags[row] = f"UK{keys[row]}"
    found.bare -= set(twelve)
    if not uk:
        text = "12 digits and no country, read as UK tags, since their check digits fit"
        found.warnings.append((twelve, text))


def _zeros(found: Tags, cells: Mapping[int, Cell]) -> None:
    """Short numbers are taken; that zeros may be gone is said once."""
    numbers = [
        row for row in sorted(found.bare & found.tags.keys())
        if not isinstance(cells[row].value, str) and not found.tags[row].startswith("0")
        and len(found.tags[row]) < UK_DIGITS
    ]  # fmt: skip
    if numbers:
        text = "numbers: where a tag began with 0, a spreadsheet has dropped it. Look at them"
        found.warnings.append((numbers, text))
    whole = [
        row for row, tag in found.tags.items() if cells[row].text != tag
        and isinstance(cells[row].value, str) and _WHOLE.fullmatch(cells[row].text)
    ]  # fmt: skip
    if whole:
        found.warnings.append(
            (whole, "written with .0 at their end, read as whole numbers. Look at them")
        )


def zeros_dropped(tag: str, keys: Mapping[str, str]) -> str | None:
    """The one key in the book that is this number with zeros before it, or None.

    ``keys``: look-up key → tag as written in the book.
    """
    number = tag_key(tag).lstrip("0")
    if not number or tag_key(tag) in keys:
        return None
    same = [key for key in keys if _DIGITS.fullmatch(key) and key.lstrip("0") == number]
    return same[0] if len(same) == 1 else None
