"""A small form that writes down a group and a bull of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import partial
from typing import Any

from readiness.desk.desk import Desk
from readiness.desk.writing import Outcome
from readiness.forms import FORMS, FieldError, problem_in
from readiness.system.errors import ReadinessError
from readiness.tui.shared.errands import in_thread
from readiness.tui.shared.form import FormDialog

FORM = FORMS["first-bull"]
FIELDS = FORM.fields
_OF = {
    "group": ("group", "turnout", "females", "class", "farm"),
    "bull": ("bull", "name", "breed", "born", "temper", "farm"),
    "join": ("bull", "group"),
}
"""Kind of entry → the fields of the form that go into it."""


def contents_of(said: Mapping[str, Any], today: date, who: str) -> list[dict[str, Any]]:
    """The entries that the form's fields mean: a group where a turnout was given, the bull, his
    joining. Raises ``FieldError`` where something is said of a group without its name, or of a new
    one without its turnout."""
    of_group = [key for key in ("turnout", "females", "class") if key in said]
    if of_group and "group" not in said:
        raise _wrong("group", "name the group that is turned out then.")
    if of_group and "turnout" not in said:
        raise _wrong("turnout", "say when the group is turned out.")
    kinds = ["bull"]
    if of_group:
        kinds.insert(0, "group")
    if "group" in said:
        kinds.append("join")
    common: dict[str, Any] = {"on": today.isoformat()} | ({"by": who} if who else {})
    return [
        {"kind": kind, **common, **{key: said[key] for key in _OF[kind] if key in said}}
        for kind in kinds
    ]


def _wrong(key: str, text: str) -> FieldError:
    return FieldError(next(field for field in FIELDS if field.key == key), text)


class FirstBull(FormDialog[Outcome | None]):
    """Asks, writes, and returns what was written; None where one went back."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(FORM, desk.on)
        self._desk = desk
        self._writing = False

    def finish(self, content: dict[str, Any]) -> None:
        if self._writing:
            return
        try:
            contents = contents_of(content, self._today, self._desk.who)
            for each in contents:
                if problem := problem_in(FORM._replace(kind=each["kind"]), each, self._today):
                    raise problem
        except FieldError as problem:
            self.refuse(problem)
            return
        self._writing = True
        in_thread(self, lambda: partial(self.dismiss, self._desk.add(contents)), self._refused)

    def _refused(self, problem: ReadinessError) -> None:
        self._writing = False
        self.refuse(problem)
