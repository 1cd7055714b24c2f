"""What pydantic found wrong, in the words of the house: what it is and what to write instead.

Made in this one place, out of the kind of error and what the field takes.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic_core import ErrorDetails

from readiness.entries.checks import off_scale
from readiness.entries.columns import Column, columns_of
from readiness.entries.models import KINDS
from readiness.entries.problem import Problem, cut, shown
from readiness.system.plain import plain


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
        text = f"is not a key here; {_or_leave_out(sorted(columns), str(path[-1]))}"
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


def _or_leave_out(known: list[str], name: str) -> str:
    return f"write one of {', '.join(known)}, or leave it out{_nearest(name, known)}"


def _one_of(words: Iterable[str], given: object) -> str:
    hint = _nearest(given, words) if isinstance(given, str) else ""
    return f"one of {', '.join(words)}{hint}"


def _nearest(word: str, known: Iterable[str]) -> str:
    """ "; did you mean …?" where one known word is near, else ""."""
    by_fold = {name.casefold(): name for name in known}
    near = difflib.get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.6)
    return f"; did you mean {by_fold[near[0]]}?" if near else ""
