"""What was typed into a form's fields to an entry's fields, and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from readiness.forms.forms import ON, Field, Form
from readiness.system.errors import DataError
from readiness.system.plain import cut, plain
from readiness.trade.ages import Birth, birth_in
from readiness.trade.births import read_birth
from readiness.trade.days import Reading, read_day
from readiness.trade.numbers import read_number
from readiness.trade.words import UNSAID, full_day_words, list_words, number_words

_READ = ("day", "birth", "whole", "number", "yes_no")
"""Kinds of fields that do not take every text."""
_YES = ("yes", "y")
_NO = ("no", "n")


class FieldError(DataError):
    """What is wrong with one field: ``key`` names it, the text begins with its label."""

    def __init__(self, field: Field, text: str) -> None:
        self.key = field.key
        super().__init__(f"{field.label}: {text}")


def day_typed(text: str, today: date, *, past: bool = False) -> date:
    """The day meant (``trade.days``); without a year the next one from today on, where ``past`` is
    asked for the last one up to today. Raises ``DataError``."""
    return read_day(text, Reading(today, "last" if past else "next"))


def content_of(
    form: Form, typed: Mapping[str, str], today: date, latest: date | None = None
) -> dict[str, Any]:
    """The entry's fields that the answers say, without bull and person, and without its day where
    that is not said.

    An empty answer says nothing. ``latest``: the last day that the entry can be of, today unless
    said. Raises ``FieldError`` for the first field that says something
    else than it can, or nothing where it is needed; ranges, and what must fit each other, are for
    the entries' validation (``problem_in``).
    """
    content: dict[str, Any] = {}
    for field in form.fields:
        text = answer(field, typed.get(field.key, ""))
        if text or field.needed:
            value = value_of(field, text, (latest or today) if field.key == ON else today)
            content |= value.fields if isinstance(value, Birth) else {field.key: value}
    return content


def answer(field: Field, typed: str) -> str:
    """What stands in a field; "" where that is a person's way of leaving it empty."""
    text = _text(typed)
    may_stay_empty = not (field.needed or field.nothing) and (field.choices or field.kind in _READ)
    return "" if may_stay_empty and text.casefold() in UNSAID else text


def value_of(field: Field, text: str, today: date) -> Any:
    """The value that one answer says, of a birth a ``Birth``. Raises ``FieldError``; where it is
    empty, one that says that it is needed."""
    text = _text(text)
    if not text:
        raise FieldError(field, "it is needed")
    if field.kind != "choice" and field.nothing and text.lower() == field.nothing:
        return None
    if field.kind in ("day", "birth"):
        try:
            if field.kind == "birth":
                return read_birth(text, today)
            day = day_typed(text, today, past=field.past)
        except DataError as problem:
            raise FieldError(field, str(problem)) from problem
        if field.key == ON and day > today:
            raise FieldError(field, f"{full_day_words(day)} is still to come; say it on that day")
        return day.isoformat()
    if field.kind in ("whole", "number"):
        return _number(field, text)
    if field.kind == "yes_no":
        called = field.column.meant(text) if field.column else None
        if called is None and text.lower() not in (*_YES, *_NO):
            raise FieldError(field, f'"{cut(text)}" is neither yes nor no; write y or n')
        return text.lower() in _YES if called is None else called
    if field.kind == "parts":
        return _parts(field, text)
    return _choice(field, text) if field.kind == "choice" else text


def problem_in(form: Form, content: Mapping[str, Any], today: date) -> FieldError | None:
    """What the entries' validation refuses in a form's content; None where it stands.

    A problem of a field that the form does not have is told where one begins.
    """
    from readiness.entries.validate import validate_said

    raw = {"kind": form.kind, "on": today.isoformat(), **content}
    if form.kind != "group":
        raw.setdefault("bull", "-")  # only the form's own fields are checked
    _, problems = validate_said(raw)
    if not problems:
        return None
    problem = problems[0]
    field = form.field(problem.field.partition("[")[0])
    return FieldError(field or form.begin, problem.text if field else str(problem))


def typed_of(form: Form, content: Mapping[str, Any]) -> dict[str, str]:
    """The answers that say what an entry says: ``content_of`` reads them back to it."""
    return {
        field.key: _typed(field, birth_in(content) if field.kind == "birth" else content[field.key])
        for field in form.fields
        if field.key in content
    }


def _typed(field: Field, value: Any) -> str:
    if isinstance(value, Birth):
        return value.words
    if value is None:
        return field.nothing
    if field.kind == "parts":
        from readiness.shorthand.grammar import EXAMINED

        return EXAMINED.say(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return number_words(value)
    return field.as_word(value) if field.kind == "choice" else str(value)


def _text(typed: str) -> str:
    return plain(typed).strip()


def _parts(field: Field, text: str) -> list[dict[str, str]]:
    """The parts examined, and how, as shorthand says them."""
    from readiness.shorthand import ShorthandError
    from readiness.shorthand.grammar import examined_of

    try:
        return examined_of(text)
    except ShorthandError as problem:
        raise FieldError(field, problem.why) from problem


def _number(field: Field, text: str) -> int | float:
    value = read_number(text, field.column.unit if field.column else "")
    if field.kind == "whole" and not isinstance(value, int):
        nothing = f", or {field.nothing}" if field.nothing else ""
        raise FieldError(
            field, f'"{cut(text)}" is not a whole number; write digits only, as in 60{nothing}'
        )
    if value is None:
        raise FieldError(field, f'"{cut(text)}" is not a number; write digits, as in 36.5')
    return value


def _choice(field: Field, text: str) -> str | None:
    """The choice meant by its word, its digit, or a beginning that only one word has."""
    words = field.words
    if not field.choices or text in words:
        return field.of_word(text)
    folded = text.casefold()
    same = [word for word in words if word.casefold() == folded]
    if not same and len(text) == 1 and text.isascii() and text.isdigit():
        same = list(words[int(text) - 1 : int(text)]) if text != "0" else []
    called = field.column.meant(text) if field.column and not same else None
    if called in field.choices:
        return str(called)
    begun = same or [word for word in words if word.casefold().startswith(folded)]
    if len(begun) == 1:
        return field.of_word(begun[0])
    if begun:
        raise FieldError(field, f'"{cut(text)}" can be {list_words(begun, "or")}; write more of it')
    shown = [f"{number} {word}" if number <= 9 else word for number, word in enumerate(words, 1)]
    raise FieldError(field, f'"{cut(text)}" is none of these; write {list_words(shown, "or")}')
