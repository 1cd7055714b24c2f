"""What the types of an entry's fields say, read off them: each is one column of a table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType, NoneType, UnionType
from typing import Annotated, Any, Literal, Required, Union, get_args, get_origin

from annotated_types import Ge, GroupedMetadata, Le, MaxLen
from typing_extensions import get_type_hints

from readiness.entries.fields import About, Called, Format, OneOf
from readiness.system.plain import fold

_TYPES = {str: "string", int: "integer", float: "number", bool: "boolean", list: "array"}
_FORMATS = {"date": "date", "date-time": "datetime"}


@dataclass(frozen=True, slots=True)
class Column:
    """One field of an entry, or column of a table.

    ``type``: as Table Schema names it. ``words``: the only ones it may hold, and ``what`` they are
    ("a foot"); ``longest``: in characters, of a list in items; ``null``: null may be said, and
    means that something no longer holds; ``late``: older books lack it, though it is needed now;
    ``form``: that of a text; ``item``: of a list, the shape of its items or what each of them is;
    ``called``: what people call its values; ``shown``: what a form does, where that is another.
    """

    name: str
    type: str
    text: str
    unit: str = ""
    required: bool = False
    words: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    longest: int | None = None
    label: str = ""
    what: str = "known"
    null: bool = False
    late: bool = False
    form: Format | None = None
    item: Any = None
    called: tuple[tuple[str | bool, tuple[str, ...]], ...] = ()
    shown: tuple[tuple[str, str], ...] = ()

    def meant(self, text: str) -> str | bool | None:
        """The value that a word means, or None: one of its ``words``, or what people call it."""
        asked = fold(text) or text
        known = (*((word, (word,)) for word in self.words), *self.called)
        return next(
            (value for value, words in known if asked in {fold(w) or w for w in words}), None
        )

    @property
    def range_words(self) -> str:
        """ "20 to 2500 kg"."""
        return f"{self.least} to {self.most} {self.unit}".rstrip()


@cache
def columns_of(shape: Any) -> Mapping[str, Column]:
    """Each field of the shape of an entry, or of a list's items, by its key."""
    hints = get_type_hints(shape, include_extras=True)
    return MappingProxyType({name: _column(name, hint) for name, hint in hints.items()})


def _column(name: str, hint: Any) -> Column:
    required = get_origin(hint) is Required
    kind, notes, null = _unwrapped(get_args(hint)[0] if required else hint)
    made = Column(name, "string", "", required=required, null=null, label=name.replace("_", " "))
    origin = get_origin(kind)
    if origin is Literal:
        made = replace(made, words=get_args(kind))
    else:
        made = replace(made, type=_TYPES[origin or kind])
    if origin is list:
        (item,) = get_args(kind)
        made = replace(made, item=item if hasattr(item, "__total__") else _column(name, item))
    for note in notes:
        made = replace(made, **dict(_said_by(note, made)))
    return made


def _unwrapped(hint: Any) -> tuple[Any, tuple[Any, ...], bool]:
    """The type itself, all that is noted on it from the inside out, and whether null will do."""
    origin = get_origin(hint)
    if origin is Annotated:
        kind, notes, null = _unwrapped(hint.__origin__)
        return kind, (*notes, *hint.__metadata__), null
    if origin in (Union, UnionType):
        (inner,) = (each for each in get_args(hint) if each is not NoneType)
        return *_unwrapped(inner)[:2], True
    return hint, (), False


def _said_by(note: Any, column: Column) -> Iterator[tuple[str, Any]]:
    match note:
        case About():
            yield "text", note.text
            yield "unit", note.unit
            yield "late", note.late
            label = note.label or column.label
            yield "label", f"{label}, {note.unit}" if note.unit else label
        case OneOf():
            yield "words", note.words
            yield "what", note.what
        case Called():
            yield "called", note.words
            yield "shown", note.shown
        case Format():
            yield "form", note
            yield "type", _FORMATS.get(note.name, "string")
        case Ge(least):
            yield "least", least
        case Le(most):
            yield "most", most
        case MaxLen(longest):
            yield "longest", longest
        case GroupedMetadata():
            for each in note:
                yield from _said_by(each, column)
