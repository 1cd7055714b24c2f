"""Ear tags: check digits, electronic numbers, and finding a bull by the last digits of his tag.

A bull may be booked under any name, and older tags carry letters: what is odd here is a warning,
never a refusal.

Great Britain, ``UK HHHHHH CNNNNN``: format and cycle of the check digit 1-7 are published (BCMS
guidance); the formula is derived, and reproduces published runs of real tags. It cannot see digits
that differ by seven. Northern Ireland, ``UK 9 HHHHHH NNNN C``, from 24 June 2024 ``XI 0 HHHHHH
NNNN C``: format published (DAERA), formula a weak derivation.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

from readiness.system.plain import cut
from readiness.trade.words import list_words


@lru_cache(maxsize=4096)
def tag_key(tag: str) -> str:
    """A tag for look-up: spaces and case ignored."""
    return "".join(tag.split()).upper()


_GREAT_BRITAIN = re.compile(r"UK([0-8]\d{5})(\d)(\d{5})", re.ASCII)
_NORTHERN_IRELAND = re.compile(r"(?:UK9|XI0)(\d{6})(\d{4})(\d)", re.ASCII)
_NEARLY = re.compile(r"UK(\d{11}|\d{13})", re.ASCII)
_ELECTRONIC = re.compile(r"(\d{3})(\d{12})", re.ASCII)
_DIGITS = re.compile(r"\d+", re.ASCII)
_TAG_AND_NAME = re.compile(r"((?:UK|XI)[ \d]*\d)[ :-]+([^\W\d].*)", re.ASCII | re.IGNORECASE)
# Letters that belong to a number, as in "208 B", are fewer than a name has.
_NUMBER_AND_NAME = re.compile(r"((?:[^\W\d_]{1,3} ?)?\d[\d/]*)[ :-]+([^\W\d_]{3}\D*)")

_WHOLE = re.compile(r"(?<![A-Z])(?:UK|XI)(?:[ ./-]*\d){12}(?!\d)", re.ASCII | re.IGNORECASE)
SCIENTIFIC = r"\d(?:[.,]\d+)?E\+\d+"
AS_TEXT = "give the column the format Text and write the tag again"
"""What to do in a spreadsheet that has spoilt a tag."""

# ISO 11784: the national number has 38 bits.
ISO_11784_MOST = 2**38 - 1
UK_DIGITS = 12
SHORTEST_END = 3
"""Tags that share fewer last digits than this share them by chance."""


def check_digit(herd: str, animal: str) -> int:
    """The check digit 1-7 of a tag: herd of six digits, animal of five in Great Britain, of four in
    Northern Ireland."""
    return int(herd + animal) % 7 + 1


def fits_iso_11784(number: str) -> bool:
    """Whether 15 digits (country or maker of 3, number of 12) fit an electronic tag's 38 bits."""
    match = _ELECTRONIC.fullmatch(tag_key(number))
    return match is not None and int(match[2]) <= ISO_11784_MOST


def tag_and_name(text: str) -> tuple[str, str]:
    """A tag of the United Kingdom, or a number alone or with its herd's letters, and the name
    written behind it; of any other text all of it, and no name."""
    match = _TAG_AND_NAME.fullmatch(text)
    if match and any(
        form.fullmatch(tag_key(match[1])) for form in (_GREAT_BRITAIN, _NORTHERN_IRELAND)
    ):
        return match[1], match[2]
    number = _NUMBER_AND_NAME.fullmatch(text)
    return (number[1], number[2]) if number else (text, "")


def whole_tags(text: str) -> list[re.Match[str]]:
    """Where whole tags of the United Kingdom stand in a text."""
    return list(_WHOLE.finditer(text))


def no_tag(text: str) -> str:
    """Why a text is no bull's tag, whatever he is called; "" where it may be one."""
    if re.match(rf"\s*{SCIENTIFIC}(?!\S)", text, re.ASCII | re.IGNORECASE):
        return (
            f'"{cut(text)}" is how a spreadsheet shows a long number, and the digits left out are '
            f"lost; {AS_TEXT}"
        )
    several = [match[0] for match in whole_tags(text)]
    if len(several) > 1:
        return f"{list_words(several)} are {len(several)} tags in one; write one for each bull"
    return ""


def tag_problem(tag: str) -> str | None:
    """What is odd about a tag, saying the right check digit, or None."""
    key = tag_key(tag)
    if match := _GREAT_BRITAIN.fullmatch(key):
        herd, digit, animal = match.groups()
        right = check_digit(herd, animal)
        return _wrong_digit(tag, digit, right, f"UK {herd} {right}{animal}")
    if match := _NORTHERN_IRELAND.fullmatch(key):
        herd, animal, digit = match.groups()
        right = check_digit(herd, animal)
        return _wrong_digit(tag, digit, right, f"{key[:2]} {key[2]} {herd} {animal} {right}")
    if foreign := next(filter(_is_lookalike, key), None):
        return (
            f"tag {tag}: {foreign} is not one of A-Z and 0-9, though it may look like one: another "
            "bull than the tag written with those"
        )
    if match := _NEARLY.fullmatch(key):
        return (
            f"tag {tag}: a UK tag has {UK_DIGITS} digits, this one {len(match[1])}: read it again; "
            "no other book and no tag office will know this tag"
        )
    if _ELECTRONIC.fullmatch(key) and not fits_iso_11784(key):
        return (
            f"tag {tag}: as an electronic number its last 12 digits can be {ISO_11784_MOST} at "
            "most; it is not made from the number printed on the ear tag: read it again"
        )
    return None


def _is_lookalike(mark: str) -> bool:
    """A digit or letter of another script, or a wide one, that is read as one of ours."""
    if mark.isascii() or not mark.isalnum():
        return False
    return not unicodedata.name(mark, "").startswith("LATIN")


def _wrong_digit(tag: str, digit: str, right: int, would_be: str) -> str | None:
    if int(digit) == right:
        return None
    return (
        f"tag {tag}: the check digit is {digit}, and these numbers give {right} ({would_be}): "
        "read the tag again"
    )


def confusable(names: Iterable[str]) -> set[str]:
    """Of these names those that one could take for another: alike, whatever the case, or but for
    one letter more, less or another."""
    bearers: dict[str, list[str]] = {}
    for name in names:
        key = name.casefold()
        for form in {key, *(f"{key[:at]}*{key[at + 1 :]}" for at in range(len(key)))}:
            bearers.setdefault(form, []).append(name)
        for form in {f"{key[:at]}*{key[at:]}" for at in range(len(key) + 1)}:
            bearers.setdefault(form, []).append(name)
    return {name for alike in bearers.values() if len(alike) > 1 for name in alike}


def match_tag(query: str, keys: Iterable[str]) -> list[str]:
    """The look-up keys (``tag_key``) that a typed tag may mean.

    The whole tag wins; else, where only digits were typed, every tag that ends in them. More than
    one answer means that the caller asks: never guess between two.
    """
    wanted = tag_key(query)
    known = list(keys)
    if wanted in known:
        return [wanted]
    if not _DIGITS.fullmatch(wanted):
        return []
    return sorted(key for key in known if key.endswith(wanted))
