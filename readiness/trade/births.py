"""Births and ages as people write them, read alike by every command, form, line and roster: a day,
a month, a year or an age; what is not said leaves the birth open between two days."""

from __future__ import annotations

import re
from datetime import date

from readiness.system.errors import DataError
from readiness.system.plain import cut
from readiness.trade.ages import MONTHS_A_YEAR, Birth, born_when_old
from readiness.trade.days import (
    DATED,
    NAME,
    NUMBERS,
    WRITE,
    Reading,
    a_day,
    dated,
    form_of,
    read_day,
    years_up_to,
)
from readiness.trade.words import YEAR_LAST, month_number

WRITE_BIRTH = "write 14 mar 2022, mar 2022, 2022, or his age as 3 years"
OLDEST = 40
"""No bull has so many years: it is a slip."""

_MONTH_YEAR = (
    rf"{NAME}[-/., ]*(?P<year>\d{{4}}|'\d{{2}})",
    r"(?P<month>\d{1,2}) ?[-/.] ?(?P<year>\d{4})",
    r"(?P<year>\d{4})[-/.](?P<month>\d{1,2})",
)
_OPEN = rf"{NAME}[-/. ]*(?P<short>\d{{2}})|\d{{1,2}}[-/.]\d{{1,2}}"
_HALF = r" 1/2|½| and a half"
_AGE = (
    rf"(?:aged? )?(?P<count>\d{{1,3}})(?:(?P<half>{_HALF}|[.,]5)(?= ?Y))?"
    r"[ -]?(?P<unit>Y(?:EA)?R?S?|M(?:O(?:NTH)?|TH)?S?)(?:[ -]?(?:OLD|O))?"
)
_YEARS_MONTHS = (
    r"(?P<years>\d{1,2}) ?Y(?:EA)?R?S?,?(?: and)? ?(?P<months>\d{1,2}) ?M(?:O(?:NTH)?|TH)?S?"
    r"(?: OLD)?"
)
_RISING = r"RISING (?P<count>[2-9])(?: ?Y(?:EA)?RS?(?: OLD)?)?"
"""As the trade says of one who comes up to that age within the year."""
_TO = r"(.+) to (.+)"


def is_when(text: str) -> bool:
    """Whether a text can be nothing but a full day, a month by its name, or an age in words."""
    age = form_of(_AGE).fullmatch(text)
    forms = (DATED[0], *DATED[2:], NUMBERS, _MONTH_YEAR[0])  # eight digits may be a tag
    return any(form_of(form).fullmatch(text) for form in forms) or (
        age is not None and len(age["unit"]) > 1
    )


def _open_words(text: str, today: date) -> str:
    """That a text may be a month, or a day without its year, and how the month is written."""
    full_year = years_up_to(today.year)
    spelt = re.sub(r"\d{2}$", lambda short: str(full_year(short[0])), text)
    month = birth_without_day(spelt, today) if spelt != text else None
    if month is None or today.year - date.fromordinal(month.first).year > OLDEST:
        return f'"{cut(text)}" may be a day without its year, or a month; {WRITE_BIRTH}'
    said = month.words
    return f'"{cut(text)}" may be {said}, or a day: write {said.lower()}, or the day with its year'


def read_birth(text: str, today: date) -> Birth:
    """The birth that a text says: a day with its year, "mar 2022", "3/2022", "2022", his age as
    "3 years", "3" or "18 months", or a day, "to", another.

    Raises ``DataError`` where it says none, or can be read two ways.
    """
    text = " ".join(text.split())
    if re.fullmatch(rf"[1-9](?:{_HALF})?", text, re.ASCII | re.I):
        text = f"{text} years"
    if found := birth_without_day(text, today):
        return found
    if form_of(_OPEN).fullmatch(text):
        raise DataError(_open_words(text, today))
    if re.fullmatch(r"\d{2}", text, re.ASCII):
        raise DataError(f'"{cut(text)}" may be a year or an age; {WRITE_BIRTH}')
    try:
        day = read_day(text, Reading(today, "said")).toordinal()
    except DataError as problem:
        raise DataError(str(problem).replace(WRITE, WRITE_BIRTH)) from None
    return Birth(day, day)


def birth_without_day(text: str, today: date) -> Birth | None:
    """The birth of whom only month, year or age is said; None where none of them is.

    Nobody is born after today: a year that is not over goes to today. Raises ``DataError`` where
    it is still to come.
    """
    found = _month_or_year(text) or _age(text, today) or _span(text)
    if found is None:
        return None
    if found.first > today.toordinal():
        raise DataError(f'"{cut(text)}" is still to come; {WRITE_BIRTH}')
    return Birth(found.first, min(found.last, today.toordinal()))


def _month_or_year(text: str) -> Birth | None:
    if re.fullmatch(r"(?:19|20)\d{2}", text, re.ASCII):
        return Birth(date(int(text), 1, 1).toordinal(), date(int(text), 12, 31).toordinal())
    for form in _MONTH_YEAR:
        match = form_of(form).fullmatch(text)
        if match is None:
            continue
        name, digits = match["month"], match["year"]
        month = int(name) if name.isdecimal() else month_number(name)
        year = int(digits) if len(digits) == 4 else 2000 + int(digits[1:])
        if first := a_day(year, month, 1):
            after = date(year + month // MONTHS_A_YEAR, month % MONTHS_A_YEAR + 1, 1)
            return Birth(first.toordinal(), after.toordinal() - 1)
    return None


def _age(text: str, today: date) -> Birth | None:
    if rising := form_of(_RISING).fullmatch(text):
        text = f"{int(rising['count']) - 1} years"
    elif both := form_of(_YEARS_MONTHS).fullmatch(text):
        text = f"{int(both['years']) * MONTHS_A_YEAR + int(both['months'])} months"
    match = form_of(_AGE).fullmatch(text)
    if match is None:
        return None
    count, years, half = int(match["count"]), match["unit"][0] in "yY", match["half"]
    months = count * MONTHS_A_YEAR + (MONTHS_A_YEAR // 2 if half else 0) if years else count
    if months > OLDEST * MONTHS_A_YEAR:
        raise DataError(f'"{cut(text)}" is no bull\'s age; {WRITE_BIRTH}')
    return born_when_old(
        months, today.toordinal(), MONTHS_A_YEAR // (2 if half else 1) if years else 1
    )


def _span(text: str) -> Birth | None:
    match = re.fullmatch(_TO, text, re.I)
    days = [dated(each, years_up_to(YEAR_LAST)) for each in match.groups()] if match else []
    first, last = (day.toordinal() if day else 0 for day in days or (None, None))
    return Birth(first, last) if 0 < first <= last else None
