"""Pages for a browser, a phone and the printer: one file each, no script, nothing fetched.

The templates stand in ``pages/``. Whatever a template writes out is made plain and escaped here, in
one place, and its days and units are kept on one line; only ``Markup``, which our own drawings are,
is written as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from readiness.system.plain import plain
from readiness.trade.numbers import UNITS
from readiness.trade.words import MONTHS

GENERATOR = '<meta name="generator" content="readiness">'
"""Stands in the head of every page of ours, and tells it from somebody else's."""

Words = dict[str, object]
"""A part of a page by the names that its template gives it."""

_MONTH = rf"(?:{'|'.join(MONTHS)})\b"
_UNIT = "|".join(map(re.escape, sorted({word for words in UNITS.values() for word in words})))
_KEPT = re.compile(
    rf"(?<=\d) (?={_MONTH})|(?<=\b{_MONTH}) (?=\d{{4}}\b)"
    rf"|(?<=\d) (?=(?:{_UNIT}|hours?|days?|months?|years?|minutes?)(?!\w))"
)
"""The spaces within a day or between a number and its unit: no line breaks there."""


def _shown(value: object) -> object:
    """A text as a page shows it; anything else as it is."""
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    return _KEPT.sub("\N{NO-BREAK SPACE}", plain(value))


_ENVIRONMENT = Environment(
    loader=PackageLoader("readiness.report", "pages"),
    autoescape=True,
    undefined=StrictUndefined,
    finalize=_shown,
    trim_blocks=True,
    lstrip_blocks=True,
)
_ENVIRONMENT.globals["generator"] = Markup(GENERATOR)


def page(template: str, **values: object) -> Iterator[str]:
    """The page in pieces, so that a very large herd is never whole in memory.

    ``template`` is a file's name in ``pages/``; a value it asks for and does not get is a fault.
    """
    made = _ENVIRONMENT.get_template(template).stream(values)
    made.enable_buffering(64)
    yield from made


def style(name: str) -> str:
    """One of the style sheets in ``pages/``, as it is written."""
    return (files("readiness.report") / "pages" / name).read_text(encoding="utf-8")
