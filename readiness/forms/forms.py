"""The forms there are. Which values a field takes is checked by the entries' validation; the
choices here are held to it by a test."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from readiness.forms.spec import Field, Form
from readiness.shorthand import lexicon as lex
from readiness.trade.feet import FOOT_NAMES
from readiness.trade.females import FEMALES

_NOTE = Field("note", "note", "may stay empty", "text")
_TEMPERS = ("quiet", "watch", "dangerous")
_ORIGINS = ("homebred", "bought", "hired")

_TAG = Field("bull", "bull's tag", "UK 123456 200002, or as you call him", "tag", needed=True)
_NAME = Field("name", "his name", "may stay empty", "text")
_BREED = Field("breed", "breed", "may stay empty", "text")
_BORN = Field("born", "born", "14 mar 2023; may stay empty", "day", past=True)
_TEMPER = Field("temper", "temper", "quiet, watch or dangerous", "choice", _TEMPERS)
_FARM = Field("farm", "farm", "may stay empty", "text")
_GROUP = Field("group", "group", "Heifers", "text", needed=True)
_TURNOUT = Field("turnout", "turnout", "9 apr, or 2027-04-09", "day", needed=True)
_FEMALES = Field("females", "females in it", "60; may stay empty", "whole")
_CLASS = Field("class", "cows or heifers", "cows", "choice", FEMALES)

_VET_EXAM = (
    Field(
        "outcome", "outcome", "1, or satisfactory", "choice", tuple(lex.OUTCOMES.values()),
        needed=True,
    ),
    Field("again_on", "again on", "20 apr; where deferred", "day"),
    Field("scrotum_cm", "scrotum, cm", "36; may stay empty", "number"),
    Field("motility_pct", "motility, %", "65; may stay empty", "number"),
    Field("normal_pct", "normal sperm, %", "78; may stay empty", "number"),
    Field("feet_seen", "feet looked at", "y or n", "yes_no"),
    Field("stands", "stands by it", "y or n; where a figure is too low", "yes_no"),
    _NOTE,
)  # fmt: skip
_PART = Field("part", "which part", "1, or penis", "choice", lex.BODY_PARTS, needed=True)
_LIMB = Field("limb", "limb", "lf; of a joint only", "choice", tuple(FOOT_NAMES))
_VET_LOOK = (
    Field("about", "looked at", "1, or lame", "choice", lex.ABOUT, needed=True),
    Field("outcome", "outcome", "1, or fit", "choice", lex.LOOKS, needed=True),
    Field("again_on", "again on", "3 may; where again", "day"),
    Field("foot", "which foot", "lf; may stay empty", "choice", tuple(FOOT_NAMES)),
    _PART._replace(example="penis; of the body only", needed=False),
    _LIMB,
    _NOTE,
)
_BODY = (
    _PART,
    _LIMB,
    Field("state", "how it is", "1, or wrong", "choice", lex.BODY_STATES, needed=True),
    _NOTE,
)
_TREATMENT = (
    Field("given_by", "given by", "who gave it", "text", needed=True),
    Field("product", "product", "as on the label", "text", needed=True),
    Field("reason", "for", "may stay empty", "text"),
    Field("pain_relief", "pain relief", "y or n; empty: not said", "yes_no"),
    Field("withdrawal_until", "withdrawal ends", "20 apr, as the label says", "day"),
    _NOTE,
)
_CHECK = (
    Field("check", "check", "bvd-test", "choice", needed=True),
    Field("result", "result", "1, or pass", "choice", tuple(lex.RESULTS.values()), needed=True),
    _NOTE,
)
_WEIGHT = (Field("kg", "weight, kg", "980", "number", needed=True), _NOTE)
_MOVED = (
    Field("act", "he goes", "1, or out", "choice", lex.MOVES, needed=True),
    Field("reason", "why", "sold, hired; may stay empty", "choice", lex.REASONS),
    _NOTE,
)
_JOIN = (
    Field("group", "group", "his group, or none", "choice", needed=True, nothing=lex.NO_GROUP),
    Field("role", "as", "reserve; may stay empty", "choice", lex.ROLES),
    _NOTE,
)
_BULL = (
    _NAME,
    _BREED,
    _BORN,
    Field("origin", "origin", "homebred, bought or hired", "choice", _ORIGINS),
    Field("arrived", "arrived", "1 feb; where bought or hired", "day", past=True),
    _TEMPER,
    Field("heifer_safe", "safe on heifers", "y or n", "yes_no"),
    Field("pen", "pen", "may stay empty", "text"),
    _FARM,
    _NOTE,
)
_TAKE_AWAY = "none"
_OR_TAKE_AWAY = f"empty: as it was; {_TAKE_AWAY}: not said"
_GROUP_FIELDS = (
    _GROUP,
    _TURNOUT,
    Field("weeks", "season, weeks", f"9; {_OR_TAKE_AWAY}", "whole", nothing=_TAKE_AWAY),
    _FEMALES._replace(example=f"60; {_OR_TAKE_AWAY}", nothing=_TAKE_AWAY),
    _CLASS._replace(example=f"cows; {_OR_TAKE_AWAY}", nothing=_TAKE_AWAY),
    _FARM,
    _NOTE,
)
_FIRST_BULL = (
    _FARM,
    _GROUP._replace(needed=False),
    _TURNOUT._replace(needed=False),
    _FEMALES,
    _CLASS,
    _TAG,
    _NAME,
    _BREED,
    _BORN,
    _TEMPER,
)

FORMS: dict[str, Form] = {
    form.id: form
    for form in (
        Form("vet-exam", "Vet's examination", "vet-exam", _VET_EXAM),
        Form("vet-look", "Vet's look", "vet-look", _VET_LOOK),
        Form("body", "His body, beside the feet", "body", _BODY),
        Form("treatment", "Treatment", "treatment", _TREATMENT),
        Form("check", "Own check", "check", _CHECK),
        Form("weight", "Weight", "weight", _WEIGHT),
        Form("moved", "Out, in or left", "moved", _MOVED),
        Form("join", "Group he goes with", "join", _JOIN),
        Form("bull", "The bull", "bull", _BULL),
        Form("group", "A group", "group", _GROUP_FIELDS),
        Form("first-bull", "A group and a bull", "", _FIRST_BULL),
    )
}


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
