"""Tags as rosters have them, and what spreadsheets do to them.

A tag is long digits with zeros in front: a spreadsheet takes it for a number, drops the zeros,
shows it as 7.00914E+11, keeps 15 digits of it, or makes a day of 1-2. Where the tag can still be
known it is taken and said; where it cannot, the cell is refused. That a number cell keeps 15
digits: ECMA-376 numbers are IEEE 754 doubles, shown to 15 significant digits.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from readiness.entries.problem import shown
from readiness.roster.cells import Cell, Moment
from readiness.roster.headings import Heading
from readiness.roster.roster import Refused, Roster
from readiness.trade.tags import AS_TEXT, SCIENTIFIC, UK_DIGITS, no_tag, tag_key, tag_problem
from readiness.trade.words import MONTHS

NUMBER_DIGITS = 15
_SEPARATORS = re.compile(r"[\s\-._/‐-―]+")
_UK = re.compile(r"(UK|XI)(\d{6})(\d{6})", re.ASCII)
_NORTHERN_IRELAND = re.compile(r"(UK(?=9)|XI(?=0))(\d)(\d{6})(\d{4})(\d)", re.ASCII)
_DIGITS = re.compile(r"\d+", re.ASCII)
_WHOLE = re.compile(r"(\d+)[.,]0+", re.ASCII)
_SHORT_MONTH = f"(?:{'|'.join(MONTHS)})"
_MONTH = f"{_SHORT_MONTH}[A-Z]*"
_NUMBERS = r"\d{1,2}([/.-])\d{1,2}\1\d{4}|\d{4}-\d{2}-\d{2}"
_DAY = re.compile(
    rf"{_NUMBERS}(?: 00:00:00)?|\d{{1,2}}[-/. ]{_MONTH}(?:[-/. ]\d+)?|{_MONTH}[-/. ]\d{{1,4}}",
    re.ASCII | re.I,
)
# Stricter: a bull may be called May 3 or Marble 2.
_MADE_BY_SPREADSHEET = re.compile(
    rf"{_NUMBERS}|\d{{1,2}}-{_SHORT_MONTH}(?:-\d{{2,4}})?|{_SHORT_MONTH}-\d{{2}}|{SCIENTIFIC}",
    re.ASCII | re.I,
)
_A_WORD = re.compile(r"[^\W\d_]{4,}")


def read_tags(
    roster: Roster, column: Heading, cells: Mapping[int, Cell], *, typed: bool
) -> tuple[dict[int, str], set[int]]:
    """Row → tag in the book's spelling; and the rows whose tag was digits that may have lost zeros
    in front.

    ``cells``: row → a cell that says something, rising; ``typed``: text in it is what somebody
    typed (a spreadsheet's).
    """
    tags = roster.read(column, cells, _written)
    bare = {
        row for row, tag in tags.items()
        if _DIGITS.fullmatch(tag) and not (typed and isinstance(cells[row].value, str))
    }  # fmt: skip
    _not_a_tag(tags, roster, column)
    _lost_zero(tags, bare, roster, column)
    _without_country(tags, bare, roster, column)
    _zeros(tags, bare, cells, roster, column)
    return {row: spelling(tag) for row, tag in tags.items()}, bare


def spelling(tag: str) -> str:
    """A tag as the book writes it: ``UK 700914 600412``, ``UK 9 123456 0001 5``; others as they
    are."""
    key = bare_key(tag)
    match = _NORTHERN_IRELAND.fullmatch(key) or _UK.fullmatch(key)
    return " ".join(match.groups()) if match else tag


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
    """The tag of one cell, as text. Raises ``Refused``."""
    value = cell.value
    if isinstance(value, Moment):
        raise Refused(_made_a_day(cell.text))
    if isinstance(value, bool):
        raise Refused(f"holds {cell.text}, which is no tag; write the tag as text")
    if isinstance(value, (int, float)):
        return _number(value, cell)
    text = cell.text.lstrip("'’`").strip()
    if cell.several_lines and not official(text):
        raise Refused(
            f"{shown(text)} stands on several lines, and may be several tags; write one tag in a "
            "row, on one line"
        )
    if why := no_tag(text):
        raise Refused(why)
    if _DAY.fullmatch(text):
        raise Refused(_made_a_day(text))
    beyond = text[NUMBER_DIGITS:]
    if beyond and not beyond.strip("0") and _DIGITS.fullmatch(text):
        raise Refused(_too_long(text))
    match = _WHOLE.fullmatch(text)
    return match[1] if match else text


def _number(value: float, cell: Cell) -> str:
    """A number cell: all its digits, with the zeros that its format shows."""
    if value < 0 or value != int(value):
        raise Refused(f"holds the number {cell.text}, which is no tag; {AS_TEXT}")
    digits = str(int(value))
    if len(digits) > NUMBER_DIGITS:
        raise Refused(_too_long(digits))
    return _as_shown(digits, cell.format)


def _too_long(digits: str) -> str:
    return (
        f"{shown(digits)} is a number of {len(digits)} digits; a spreadsheet keeps "
        f"{NUMBER_DIGITS} of them, and the others are lost; {AS_TEXT}"
    )


def _made_a_day(text: str) -> str:
    return f"holds a day ({text}); a spreadsheet makes days of tags such as 1-2 or 3/4; {AS_TEXT}"


_FORMAT_PART = re.compile(r'"([^"]*)"|\\(.)|([0#?])|([ \-/])|(.)')


def _as_shown(digits: str, number_format: str) -> str:
    """The digits as a format such as 000000000000 or "UK "000000 000000 shows them; as they are
    where it is any other."""
    marks = _FORMAT_PART.findall(number_format)
    places = [place for _, _, place, _, _ in marks if place]
    if "0" not in places or any(other for *_, other in marks):
        return digits
    padded = digits.rjust(len(places))
    over = len(padded) - len(places)  # more digits than places: all of them stand in the first
    said = iter([padded[: over + 1], *padded[over + 1 :]])
    return "".join(
        next(said).replace(" ", "0" if place == "0" else "") if place else quoted or escaped or mark
        for quoted, escaped, place, mark, _ in marks
    ).strip()


# ---- what only the column as a whole tells -------------------------------------------------------


def _not_a_tag(tags: dict[int, str], roster: Roster, column: Heading) -> None:
    """A total or a remark under the tags is no bull: a text without digits, or with a long word,
    where other rows have what looks like a tag."""
    words = [row for row, tag in tags.items() if _A_WORD.search(tag) or not re.search(r"\d", tag)]
    if len(words) == len(tags):
        roster.odd(column, words, "words and no tags: the bulls are booked under these")
        return
    for row in words:
        text = (
            f"{shown(tags.pop(row))} is no tag, while other rows have one; write his tag, or take "
            "the row out where it is no bull"
        )
        roster.wrong(column, row, text)


def _lost_zero(tags: dict[int, str], bare: set[int], roster: Roster, column: Heading) -> None:
    """Eleven digits are a UK tag whose herd begins with 0, where the check digit says so."""
    eleven = [row for row, tag in tags.items() if row in bare and len(tag) == UK_DIGITS - 1]
    mended = [row for row in eleven if tag_problem(f"UK0{tags[row]}") is None]
    for row in sorted({*eleven} - {*mended}):
        text = (
            f"{tags.pop(row)} has 11 digits: a UK tag has 12, and a spreadsheet drops a 0 in "
            f"front, but with it the check digit would be wrong; {AS_TEXT}, with its country"
        )
        roster.wrong(column, row, text)
    tags.update({row: f"UK0{tags[row]}" for row in mended})
    bare.difference_update(mended)
    text = "11 digits, read as UK tags whose 0 in front a spreadsheet dropped"
    roster.odd(column, mended, f"{text}; the check digits fit. Look at them")


def _without_country(tags: dict[int, str], bare: set[int], roster: Roster, column: Heading) -> None:
    """Twelve digits are a UK tag where the heading says so, or most check digits of the column."""
    keys = {row: _SEPARATORS.sub("", tag) for row, tag in tags.items()}
    twelve = [row for row, key in keys.items() if len(key) == UK_DIGITS and _DIGITS.fullmatch(key)]
    fitting = [row for row in twelve if tag_problem(f"UK{keys[row]}") is None]
    headed = column.key.startswith("uk")
    how = "read as UK tags, since their check digits fit"
    if headed or len(fitting) * 2 > len(twelve):
        tags.update({row: f"UK{keys[row]}" for row in twelve})
        bare.difference_update(twelve)
    else:
        how = "taken as they are. Write UK before those of the UK"
    if not headed:
        roster.odd(column, twelve, f"12 digits and no country, {how}")


def _zeros(
    tags: dict[int, str],
    bare: set[int],
    cells: Mapping[int, Cell],
    roster: Roster,
    column: Heading,
) -> None:
    """Short numbers are taken; that zeros may be gone is said once."""
    numbers = [
        row for row, tag in tags.items() if row in bare and not isinstance(cells[row].value, str)
        and not tag.startswith("0") and len(tag) < UK_DIGITS
    ]  # fmt: skip
    text = "numbers: where a tag began with 0, a spreadsheet has dropped it. Look at them"
    roster.odd(column, numbers, text)
    whole = [
        row for row, tag in tags.items() if cells[row].text != tag
        and isinstance(cells[row].value, str) and _WHOLE.fullmatch(cells[row].text)
    ]  # fmt: skip
    text = "written with .0 at their end, read as whole numbers. Look at them"
    roster.odd(column, whole, text)


def zeros_dropped(tag: str, keys: Mapping[str, str]) -> str | None:
    """The one key in the book that is this number with zeros before it, or None.

    ``keys``: look-up key → tag as written in the book.
    """
    number = tag_key(tag).lstrip("0")
    if not number or tag_key(tag) in keys:
        return None
    same = [key for key in keys if _DIGITS.fullmatch(key) and key.lstrip("0") == number]
    return same[0] if len(same) == 1 else None
