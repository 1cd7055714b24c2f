"""From what somebody wrote to canonical content, or to every problem with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from readiness.entries import models
from readiness.entries.checks import problems_between_fields
from readiness.entries.fields import nearest
from readiness.entries.problem import Problem, cut, shown
from readiness.system.plain import plain

# Keys that belong to the entry as a whole and to its way here, not to what it says.
RECEIPT_KEYS = ("id", "recorded", "position", "batch", "device")


def validate(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """The canonical content of an entry, or None and its problems (their ``line`` is None).

    Canonical: JSON values; the keys that were given and no others, without null, empty text and
    empty lists where the key may be left out; whole numbers as ints; text without controls, in
    Unicode form NFC, without outer spaces; lists in their order. ``id``, ``recorded``,
    ``position``, ``batch`` and ``device`` are checked and left out.
    """
    checked, problems = validate_whole(raw)
    if checked is None:
        return None, problems
    return {key: value for key, value in checked.items() if key not in RECEIPT_KEYS}, []


def validate_whole(raw: Mapping[str, object]) -> tuple[dict[str, Any] | None, list[Problem]]:
    """As ``validate``, with the keys of an export still in place."""
    kind = raw.get("kind")
    if not isinstance(kind, str) or kind not in models.KINDS:
        return None, [Problem(None, "kind", _kind_problem(raw))]
    cleaned = _clean(raw, models.KINDS[kind])
    try:
        checked: dict[str, Any] = models.adapter(kind).validate_python(cleaned)
    except ValidationError as error:
        details = error.errors(include_url=False)
        return None, [_problem(kind, detail) for detail in details]
    problems = [Problem(None, field, text) for field, text in problems_between_fields(checked)]
    return (None, problems) if problems else (checked, [])


def _kind_problem(raw: Mapping[str, object]) -> str:
    known = ", ".join(models.KINDS)
    if "kind" not in raw:
        return f'is missing; write "kind" with one of {known}'
    kind = raw["kind"]
    hint = nearest(kind, models.KINDS) if isinstance(kind, str) else ""
    return f"{shown(kind)} is not a kind of entry; write one of {known}{hint}"


def _clean(raw: Mapping[str, object], shape: Any) -> dict[str, Any]:
    """Texts made plain, and known keys that say nothing left out.

    What is empty is kept where it means something: no foot lifted, out of every group, and what
    was said of a group taken away.
    """
    known = models.keys_of(shape)
    cleaned: dict[str, Any] = {}
    for key, value in raw.items():
        said = _clean_value(key, value)
        says_nothing = said is None or said in ("", [])
        means_something = (key == "lifted" and said == []) or (
            value is None and (shape, key) in models.MAY_BE_NULL
        )
        if key in known and says_nothing and not means_something:
            continue
        cleaned[key] = said
    return cleaned


def _clean_value(key: str, value: object) -> object:
    if isinstance(value, str):
        return plain(value).strip()
    if isinstance(value, list) and key in models.NESTED:
        shape = models.NESTED[key]
        return [_clean(item, shape) if isinstance(item, dict) else item for item in value]
    return value


def _problem(kind: str, detail: ErrorDetails) -> Problem:
    """One of the validator's errors in the words of the house."""
    path = detail["loc"]
    shape = models.NESTED.get(str(path[0]), models.KINDS[kind]) if path[1:] else models.KINDS[kind]
    return Problem(None, path_words(path), _text(kind, shape, detail))


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


def _text(kind: str, shape: Any, detail: ErrorDetails) -> str:
    what = detail["type"]
    if what == "refused":
        return str(detail["ctx"]["text"])
    if what == "missing":
        words = models.words_of(shape, str(detail["loc"][-1]))
        which = f": write one of {', '.join(words)}" if words else ""
        return f"is missing; {_article(kind)} entry needs it{which}"
    if what == "extra_forbidden":
        known = models.keys_of(shape)
        name = str(detail["loc"][-1])
        hint = nearest(name, known)
        return f"is not a key here; write one of {', '.join(sorted(known))}, or leave it out{hint}"
    if what == "list_type":
        return f"{shown(detail['input'])} is not a list; write it in [ ]"
    if what == "dict_type":
        return f"{shown(detail['input'])} is not an object; write it in {{ }}"
    if what == "too_long":
        return f"has more than {models.LIST_MOST} items; part it into several entries"
    return f"{shown(detail['input'])} is refused: {detail['msg']}"


def _article(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"
