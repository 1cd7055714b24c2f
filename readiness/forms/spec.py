"""What a form is made of."""

from __future__ import annotations

from typing import Literal, NamedTuple

from readiness.system.plain import plain

FieldKind = Literal["text", "tag", "day", "whole", "number", "yes_no", "choice"]


class Field(NamedTuple):
    """One line of a form.

    ``key``: its key in the entry; ``label``: what it is called, with its unit; ``example``: what
    may be typed. ``choices``: the values of a choice; without any, a choice takes every text.
    ``needed``: it may not stay empty. ``past``: a day without a year is the last one, not the next.
    ``nothing``: the word that says null: no longer, or none.
    """

    key: str
    label: str
    example: str
    kind: FieldKind
    choices: tuple[str, ...] = ()
    needed: bool = False
    past: bool = False
    nothing: str = ""

    @property
    def words(self) -> tuple[str, ...]:
        """The choices as they are shown and typed, the word for nothing last."""
        shown = tuple(self._shown(value) for value in self.choices)
        return (*shown, self.nothing) if self.nothing else shown

    def as_word(self, value: str | None) -> str:
        """How a choice is typed: in quotes where it would else be read as nothing."""
        if value is None:
            return self.nothing
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

    def field(self, key: str) -> Field | None:
        """The field of a key, if the form has it."""
        return next((field for field in self.fields if field.key == key), None)
