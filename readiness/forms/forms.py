"""What a form is made of, and the forms there are. What a field is called, takes and offers stands
with the entries' fields; here stands what only a form decides: its title, and what may be typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal, NamedTuple

from readiness.entries.columns import Column, columns_of
from readiness.entries.models import KINDS, own_columns
from readiness.system.plain import plain
from readiness.trade.ages import BORN, FROM
from readiness.trade.words import list_words

ON = "on"
"""The day of the entry itself: today unless it is said."""
FieldKind = Literal[
    "text", "tag", "day", "birth", "whole", "number", "yes_no", "choice", "parts"
]  # fmt: skip


class Field(NamedTuple):
    """One line of a form.

    ``key``: its key in the entry; ``label``: what it is called, with its unit; ``example``: what
    may be typed. ``choices``: the values of a choice; without any, a choice takes every text.
    ``needed``: it may not stay empty. ``past``: a day without a year is the last one, not the next.
    ``nothing``: the word that says null: no longer, or none. ``column``: what the entry's field
    takes, and what people call it.
    """

    key: str
    label: str
    example: str
    kind: FieldKind
    choices: tuple[str, ...] = ()
    needed: bool = False
    past: bool = False
    nothing: str = ""
    column: Column | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The choices as they are shown and typed, the word for nothing last."""
        shown = tuple(self._shown(value) for value in self.choices)
        return (*shown, self.nothing) if self.nothing else shown

    def as_word(self, value: str | None) -> str:
        """How a choice is typed: in quotes where it would else be read as nothing."""
        if value is None:
            return self.nothing
        value = dict(self.column.shown if self.column else ()).get(value, value)
        taken = self.nothing and value.strip('"').lower() == self.nothing
        return f'"{value}"' if taken else value

    def _shown(self, value: str) -> str:
        return plain(self.as_word(value)).strip()

    def of_word(self, word: str) -> str | None:
        """The value that a word says."""
        if self.nothing and word.lower() == self.nothing:
            return None
        for value in self.choices:
            if self._shown(value) == word:
                return value
        inner = word[1:-1]
        return inner if word == f'"{inner}"' and self.as_word(inner) == word else word


class Form(NamedTuple):
    """``kind``: the kind of entry that it makes; "" where its fields go to several entries."""

    id: str
    title: str
    kind: str
    fields: tuple[Field, ...]

    @property
    def begin(self) -> Field:
        """The field to begin with: the day, above it, is today's as a rule."""
        return next((field for field in self.fields if field.key != ON), self.fields[0])

    def field(self, key: str) -> Field | None:
        """The field of a key, if the form has it."""
        return next((field for field in self.fields if field.key == key), None)


# ---- the forms -----------------------------------------------------------------------------------

_TITLES = {
    "vet-exam": "Vet's examination",
    "vet-look": "Vet's look",
    "body": "His body, beside the feet",
    "treatment": "Treatment",
    "check": "Test, or own check",
    "weight": "Weight",
    "moved": "Out, in or left",
    "join": "Group he goes with",
    "bull": "The bull",
    "group": "A group",
}
_KINDS: dict[str, FieldKind] = {
    "string": "text",
    "integer": "whole",
    "number": "number",
    "boolean": "yes_no",
    "date": "day",
    "array": "parts",
}
_OTHER_KINDS: dict[tuple[str, str], FieldKind] = {
    # Names that only the farm knows.
    ("join", "group"): "choice",
    ("check", "check"): "choice",
    ("bull", BORN): "birth",
}
_PAST = ("arrived", ON)
_NOTHING = "none"
_EMPTY = "may stay empty"
_EXAMPLES = {
    ("bull", BORN): "14/3/23, mar 2023, 2023 or 3 years",
    ("bull", "arrived"): "1 feb; where bought or hired",
    ("group", "group"): "such as Heifers",
    ("group", "turnout"): "9 apr, or 2027-04-09",
    ("group", "weeks"): "9",
    ("group", "females"): "60",
    ("group", "class"): "cows",
    ("join", "group"): f"his group, or {_NOTHING}",
    ("join", "role"): f"reserve; {_EMPTY}",
    ("vet-exam", "again_on"): "20 apr; where deferred",
    ("vet-exam", "scrotum_cm"): f"36; {_EMPTY}",
    ("vet-exam", "motility_pct"): f"65; {_EMPTY}",
    ("vet-exam", "normal_pct"): f"78; {_EMPTY}",
    ("vet-exam", "examined"): f"seen eyes legs, felt testes; {_EMPTY}",
    ("vet-exam", "stands"): "y or n; where a figure is too low",
    ("vet-exam", "examiner"): f"the vet's name; {_EMPTY}",
    ("vet-look", "examiner"): f"the vet's name; {_EMPTY}",
    ("check", "reading"): f"negative; {_EMPTY}",
    ("check", "valid_until"): f"3 apr 2027; {_EMPTY}",
    ("vet-look", "again_on"): "3 may; where again",
    ("vet-look", "foot"): f"lf; {_EMPTY}",
    ("vet-look", "part"): "penis; of the body only",
    ("vet-look", "limb"): "lf; of a joint only",
    ("body", "limb"): "lf; of a joint only",
    ("treatment", "given_by"): "who gave it",
    ("treatment", "product"): "as on the label",
    ("treatment", "pain_relief"): "y or n; empty: not said",
    ("treatment", "withdrawal_until"): "20 apr, as the label says",
    ("check", "check"): "bvd-test",
    ("weight", "kg"): "980",
    ("moved", "reason"): f"sold, hired; {_EMPTY}",
}


def _field(kind: str, key: str, **more: Any) -> Field:
    """The line of a form for one field of a kind of entry; ``more``: what differs here."""
    column = columns_of(KINDS[kind])[key]
    input_ = _OTHER_KINDS.get((kind, key), "choice" if column.words else _KINDS[column.type])
    example = _EXAMPLES.get((kind, key)) or _usual_example(column)
    if column.null and not column.required:
        example += f"; empty: as it was; {_NOTHING}: not said"
    made = Field(key, column.label, example, input_, column.words, column.required, key in _PAST)
    made = made._replace(column=column)
    return made._replace(**{"nothing": _NOTHING if column.null else "", **more})


def _usual_example(column: Column) -> str:
    if column.type == "boolean":
        return "y or n"
    if column.words:
        return f"1, or {column.words[0]}" if column.required else list_words(column.words, "or")
    return _EMPTY


def _form(kind: str) -> Form:
    """Every field of a kind of entry in its order, its day first, whose it is and the note last."""
    own = (key for key in own_columns(KINDS[kind]) if key != FROM)  # said with the birth
    keys = (*sorted(own, key="farm".__eq__), "note")
    return Form(kind, _TITLES[kind], kind, (_day(kind), *(_field(kind, key) for key in keys)))


def _day(kind: str) -> Field:
    return _field(kind, ON, label="day", needed=False, example="empty: today; or 2 apr")


_FIRST_GROUP = (
    _field("group", "group", needed=False),
    _field("group", "turnout", needed=False, example="16 jan, or 16/1/27"),
    _field("group", "females", nothing="", example=f"60; {_EMPTY}"),
    _field("group", "class", nothing="", example="empty: by its name, else cows"),
    _field("group", "farm"),
)
_FIRST_BULL = tuple(
    _field("bull", key)
    for key in (BORN, "name", "temper", "breed", "origin", "arrived", "heifer_safe")
)

FORMS: dict[str, Form] = {kind: _form(kind) for kind in _TITLES}
_VET_WORD = (
    "outcome", "again_on", "scrotum_cm", "motility_pct", "normal_pct", "feet_seen", "stands",
    "note",
)  # fmt: skip
"""Of the vet's form what decides, and can be said beside the crush."""
FORMS["vet-word"] = Form(
    "vet-word",
    "Vet's word",
    "vet-exam",
    (_day("vet-exam"), *(_field("vet-exam", key) for key in _VET_WORD)),
)
FORMS["first-group"] = Form("first-group", "The group they go out with", "", _FIRST_GROUP)
FORMS["first-bull"] = Form("first-bull", "What is known of him", "", _FIRST_BULL)


def form_for(
    form_id: str,
    *,
    groups: Sequence[str] = (),
    checks: Sequence[str] = (),
    content: Mapping[str, Any] | None = None,
) -> Form:
    """A form with the names of this farm's groups and own checks to choose from.

    ``content``: the entry that will be corrected in it; a name that only this one knows can be
    chosen too. Raises ``KeyError`` where there is no such form.
    """
    form = FORMS[form_id]
    given = {("join", "group"): groups, ("check", "check"): checks}
    fields = []
    for field in form.fields:
        names = list(given.get((form_id, field.key), ()))
        named = (content or {}).get(field.key)
        if names and named is not None and named not in names:
            names.append(named)
        fields.append(field._replace(choices=tuple(names)) if names else field)
    return form._replace(fields=tuple(fields))
