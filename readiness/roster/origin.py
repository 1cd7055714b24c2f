"""Whether a bull was bought or hired, by all that his row says: none may escape his quarantine.

Quarantine is asked for where his origin is bought or hired and his arrival is known. Rosters say it
in other columns than that of the origin: in the heading over the day he came, or by the place he
came from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from readiness.history.groups import name_key
from readiness.roster.headings import BOUGHT_ON, BREEDERS, HIRED_FROM, HIRED_ON, Column
from readiness.roster.values import came_from, meaning

HOMEBRED, BOUGHT, HIRED = "homebred", "bought", "hired"
CAME = (BOUGHT, HIRED)
RowFields = dict[str, object]


@dataclass(slots=True)
class Origin:
    """``wrong``: (field, text) of what contradicts itself. ``warnings``: of this row. ``unsaid``:
    he came on a day, and nothing says whether he was bought."""

    wrong: list[tuple[str, str]] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    unsaid: bool = False


@dataclass(frozen=True, slots=True)
class _Told:
    """What a row says but for the column of origin. ``by_day``: bought or hired, by the heading
    over a day of arrival, else ""; ``by_place``: the same by a place, else "". ``bred``: the place
    is where he was bred, which may be here. ``homebred``: the field that says so, else ""."""

    by_day: str
    by_place: str
    bred: bool
    homebred: str

    @property
    def came(self) -> str:
        """Bought or hired, where there is no doubt of it."""
        return self.by_day or ("" if self.bred else self.by_place)


def settle(
    fields: RowFields, profile: Mapping[str, Any], columns: Mapping[str, Column], bad: set[str]
) -> Origin:
    """Puts origin and note into ``fields``, and takes where he was bought out of it.

    ``profile``: what the book says of him; ``columns``: by field; ``bad``: the fields of his row
    that are problems already.
    """
    found = Origin()
    place = str(fields.pop("bought_from", ""))
    at = columns.get("bought_from")
    bred = at is not None and at.says(BREEDERS)
    word = meaning("origin", place)
    how = _how(place, at, fields.get("origin", profile.get("origin")))
    if place and word is None:
        _note(fields, profile, f"bred by {place}" if bred else f"{how} from {_bare(place)}")
    if bad & {"origin", "arrived", "bought_from"}:
        return found
    own_farm = bred and name_key(place) == name_key(
        str(fields.get("farm", profile.get("farm", "")))
    )
    elsewhere = bool(place) and word != HOMEBRED and not own_farm
    homebred = "origin" if fields.get("origin") == HOMEBRED else ""
    homebred = homebred or ("bought_from" if word == HOMEBRED else "")
    _decide(
        fields,
        profile,
        _Told(_by_day(fields, columns.get("arrived")), how if elsewhere else "", bred, homebred),
        found,
        columns,
        place,
    )
    return found


def _by_day(fields: RowFields, on: Column | None) -> str:
    if on is None or "arrived" not in fields:
        return ""
    return BOUGHT if on.says(BOUGHT_ON) else HIRED if on.says(HIRED_ON) else ""


def _how(place: str, at: Column | None, origin: object) -> str:
    """Bought or hired from there: by the heading, by the cell, by what else says his origin."""
    told = came_from(place)
    if told is not None:
        return told[0]
    if (at is not None and at.says(HIRED_FROM)) or HIRED in (meaning("origin", place), origin):
        return HIRED
    return BOUGHT


def _decide(
    fields: RowFields,
    profile: Mapping[str, Any],
    told: _Told,
    found: Origin,
    columns: Mapping[str, Column],
    place: str,
) -> None:
    """His origin by all of it; what contradicts itself, or the book, is wrong."""
    booked = profile.get("origin")
    if told.homebred and told.came:
        other = columns["arrived" if told.by_day else "bought_from"].place
        text = f"says that he is homebred, and {other} {_words(told)}; correct one of the two"
        found.wrong.append((told.homebred, text))
    elif "origin" in fields:
        return  # a cell of his own says more than the heading of a column
    elif told.by_day and not told.bred and told.by_place not in ("", told.by_day):
        text = f"is where he was {told.by_place}, and {columns['arrived'].place} {_words(told)}"
        found.wrong.append(("bought_from", f"{text}; correct one of the two"))
    elif not told.homebred and booked is not None and told.came not in ("", booked):
        found.wrong.append(_booked_otherwise(told, booked))
    elif not told.homebred and booked == HOMEBRED:
        if told.by_place and ("arrived" in fields or "arrived" in profile):
            found.warnings.append(f"is homebred in the book, and bred by {place}; stays homebred")
    else:
        _infer(fields, profile, found, told)


def _words(told: _Told) -> str:
    return f"the day he was {told.by_day}" if told.by_day else f"where he was {told.by_place}"


def _booked_otherwise(told: _Told, booked: str) -> tuple[str, str]:
    """A bull does not become another by a heading alone."""
    return (
        "arrived" if told.by_day else "bought_from",
        f"he is {booked} in the book, and by the heading this is {_words(told)}; empty the cell, "
        f"or write {told.came} in a column headed Origin",
    )


def _infer(fields: RowFields, profile: Mapping[str, Any], found: Origin, told: _Told) -> None:
    """His origin where no column of origin says it."""
    booked = profile.get("origin")
    came = told.by_day or told.by_place
    if told.homebred:
        fields["origin"] = HOMEBRED
    elif booked in CAME:
        return
    elif came and ("arrived" in fields or "arrived" in profile):
        fields["origin"] = came
    elif came:
        on = "Hired on" if came == HIRED else "Bought on"
        found.warnings.append(
            "came from elsewhere, and nothing says when: taken in without origin, and no "
            f'quarantine can be told; write the day he came in a column headed "{on}"'
        )
    else:
        found.unsaid = "arrived" in fields and booked is None


def _bare(place: str) -> str:
    told = came_from(place)
    return told[1] if told else place


def _note(fields: RowFields, profile: Mapping[str, Any], text: str) -> None:
    """Into his note behind what it says, once."""
    before = str(fields.get("note") or profile.get("note", ""))
    if f"; {text}; ".casefold() not in f"; {before}; ".casefold():
        fields["note"] = f"{before}; {text}" if before else text
