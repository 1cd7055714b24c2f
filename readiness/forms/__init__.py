"""Forms: what is asked for an entry, field by field, and what the answers as typed mean. Pure."""

from readiness.forms.forms import FORMS, ON, Field, Form, form_for
from readiness.forms.typed import (
    FieldError,
    answer,
    content_of,
    day_typed,
    problem_in,
    typed_of,
    value_of,
)

__all__ = [
    "FORMS",
    "ON",
    "Field",
    "FieldError",
    "Form",
    "answer",
    "content_of",
    "day_typed",
    "form_for",
    "problem_in",
    "typed_of",
    "value_of",
]
