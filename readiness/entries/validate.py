"""From what somebody wrote to canonical content, or to every problem with it.

pydantic judges by the types of ``models``; what it finds wrong is told in the words of the house,
out of the kind of error and what the field takes. Of the same types the JSON Schema is made, for
other programs.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache, reduce
from operator import or_
from typing import Annotated, Any

from pydantic import Discriminator, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from readiness.entries.checks import off_scale, problems_between_fields
from readiness.entries.columns import Column, columns_of
from readiness.entries.entry import NO_PERSON, PERSONS, is_person
from readiness.entries.fields import NAME_MOST
from readiness.entries.models import KINDS
from readiness.entries.problem import Problem, shown
from readiness.system.plain import cut, plain

# Keys that belong to the entry as a whole and to its way here, not to what it says.
RECEIPT_KEYS = ("id", "recorded", "position", "batch", "device", "who")


def validate(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """The canonical content of an entry, or None and its problems (their ``line`` is None).

    Canonical: JSON values; the keys that were given and no others, without null, empty text and
    empty lists where the key may be left out; whole numbers as ints; text without controls, in
    Unicode form NFC, without outer spaces; lists in their order. ``id``, ``recorded``,
    ``position``, ``batch``, ``device`` and ``who`` are checked and left out.
    """
    checked, problems = validate_whole(raw)
    if checked is None:
        return None, problems
    return {key: value for key, value in checked.items() if key not in RECEIPT_KEYS}, []


def validate_said(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """As ``validate``, of what somebody says here and now: an account is taken for no person. In a
    file of entries it may stand as it was said before."""
    checked, problems = validate(raw)
    if checked is None:
        return None, problems
    named = (key for key in PERSONS if not is_person(checked.get(key, "")))
    problems = [Problem(None, key, f"{NO_PERSON}; write a name") for key in named]
    return (None, problems) if problems else (checked, [])


def validate_whole(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """As ``validate``, with the keys of an export still in place."""
    kind = raw.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        return None, [Problem(None, "kind", kind_refusal(raw))]
    cleaned = _clean(raw, KINDS[kind])
    try:
        checked = adapter(KINDS[kind]).validator.validate_python(cleaned)
    except ValidationError as error:
        return None, [problem_of(cleaned, detail) for detail in error.errors(include_url=False)]
    # A text has its canonical spelling now; of a number pydantic makes a float, whole or not.
    whole = {k: value if isinstance(value, str) else cleaned[k] for k, value in checked.items()}
    problems = [Problem(None, field, text) for field, text in problems_between_fields(whole)]
    return (None, problems) if problems else (whole, [])


@cache
def adapter(shape: Any) -> TypeAdapter[dict[str, Any]]:
    """The validator of one kind's shape, built when that kind is first met."""
    return TypeAdapter(shape)


def made_ready(kinds: Iterable[str]) -> None:
    """Build the validators of these kinds: 14 ms for the feet, which their first entry would wait
    for."""
    for kind in kinds:
        adapter(KINDS[kind]).validator  # noqa: B018 - it is built when it is first asked for


def _clean(raw: Mapping[str, object], shape: Any) -> dict[str, Any]:
    """Texts made plain, whole numbers ints, and known keys that say nothing left out.

    What is empty is kept where it means something: no foot lifted, out of every group, and what
    was said of a group taken away.
    """
    columns = columns_of(shape)
    cleaned: dict[str, Any] = {}
    for key, value in raw.items():
        column = columns.get(key)
        said = _clean_value(column, value)
        if column is None:
            cleaned[key] = said
        elif said or not _says_nothing(column, said):
            cleaned[column.name] = said  # one key for all entries, not one for each
    return cleaned


def _says_nothing(column: Column, said: object) -> bool:
    if said is None:
        return not column.null
    return said == "" or (said == [] and not column.required)


def _clean_value(column: Column | None, value: object) -> object:
    if isinstance(value, str):
        return _word(value) if len(value) <= NAME_MOST else plain(value).strip()
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list) and column and column.item and not isinstance(column.item, Column):
        return [_clean(item, column.item) if isinstance(item, dict) else item for item in value]
    return value


@lru_cache(maxsize=4096)
def _word(text: str) -> str:
    """A short text made plain: what is said again and again (a day, a tag, a foot) is held once."""
    return plain(text).strip()


def json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of one entry of any kind, in its canonical form.

    It does not say what fields must fit each other (``checks``), which years a day may be of, and
    which names a farm's check may not have.
    """
    any_kind: Any = Annotated[reduce(or_, KINDS.values()), Discriminator("kind")]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "One line of entries.jsonl",
        **TypeAdapter(any_kind).json_schema(),
    }


# ---- what pydantic found wrong: what it is, and what to write instead ----------------------------


def kind_refusal(raw: Mapping[str, object]) -> str:
    """What is wrong with the kind of an entry that is of none."""
    if "kind" not in raw:
        return f'is missing; write "kind" with one of {", ".join(KINDS)}'
    return f"{shown(raw['kind'])} is not a kind of entry; write {_one_of(KINDS, raw['kind'])}"


def problem_of(content: Mapping[str, Any], error: ErrorDetails) -> Problem:
    """The problem that an error in an entry of a known kind is; ``content``: as it was judged."""
    path, what, given = error["loc"], error["type"], error["input"]
    columns, column = _place(KINDS[content["kind"]], path)
    if column is None:
        known = sorted(columns)
        hint = _nearest(str(path[-1]), known)
        text = f"is not a key here; write one of {', '.join(known)}, or leave it out{hint}"
    elif what == "missing":
        text = f"is missing; {_needs(content['kind'], column)}"
    elif what == "value_error":  # raised by a field's own form
        text = str(error["ctx"]["error"]).format(shown(given))
    elif path == ("score",) and (found := next(off_scale(content), None)):
        text = found[1]
    else:
        text = _wrong(what, column, given)
    return Problem(None, path_words(path), text)


def path_words(path: tuple[int | str, ...]) -> str:
    """A place in an entry: ("findings", 0, "zone") is "findings[0].zone"."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            name = cut(plain(step)) or '""'
            text += f".{name}" if text else name
    return text


def _place(shape: Any, path: tuple[int | str, ...]) -> tuple[Mapping[str, Column], Column | None]:
    """The fields beside that at a place in an entry, and itself, if there is one of that name."""
    columns = columns_of(shape)
    column = columns.get(str(path[0]))
    match path[1:]:
        case (_,) if column and isinstance(column.item, Column):
            return columns, column.item
        case (_, *rest) if column and rest:
            return _place(column.item, tuple(rest))
    return columns, column


def _wrong(what: str, column: Column, given: Any) -> str:
    value = shown(given)
    match what:
        case "literal_error":
            return f"{value} is not {column.what}; write {_one_of(column.words, given)}"
        case "list_type":
            return f"{value} is not a list; write it in [ ]"
        case "dict_type":
            return f"{value} is not an object; write it in {{ }}"
        case "too_long":
            return f"has more than {column.longest} items; part it into several entries"
        case "string_too_long":
            return f"is {len(given)} characters long; write at most {column.longest}"
        case "bool_type":
            return f"{value} is not true or false; write true or false without quotes"
    if column.form:
        return column.form.refusal.format(value)
    if column.type == "string":
        return f"{value} is not text; write it in double quotes"
    if isinstance(given, bool) or not isinstance(given, int | float):
        return f"{value} is not a number; write a number without quotes"
    if isinstance(given, float) and not math.isfinite(given):
        return "is not a finite number; write a number"
    whole = column.type != "integer" or isinstance(given, int)
    wrong = "out of range" if whole else "not a whole number"
    return f"{value} is {wrong}; write {column.range_words}"


def _needs(kind: str, column: Column) -> str:
    words = f": write one of {', '.join(column.words)}" if column.words else ""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind} entry needs it{words}"


def _one_of(words: Iterable[str], given: object) -> str:
    hint = _nearest(given, words) if isinstance(given, str) else ""
    return f"one of {', '.join(words)}{hint}"


def _nearest(word: str, known: Iterable[str]) -> str:
    """ "; did you mean …?" where one known word is near, else ""."""
    by_fold = {name.casefold(): name for name in known}
    near = difflib.get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.6)
    return f"; did you mean {by_fold[near[0]]}?" if near else ""
