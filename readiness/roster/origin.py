"""Whether a bull was bought or hired, by all that his row says: none may escape his quarantine.

Quarantine is asked for where his origin is bought or hired and his arrival is known. Rosters say it
in other columns than that of the origin: in the heading over the day he came, or by the place he
came from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from readiness.roster.headings import Heading
from readiness.roster.values import came_from, meaning
from readiness.system.plain import name_key
from readiness.trade.bulls import BOUGHT, CAME, HIRED, came_note

HOMEBRED = "homebred"
RowFields = dict[str, object]


@dataclass(slots=True)
class Origin:
    """``wrong``: (field, text) of what contradicts itself. ``warnings``: of this row. ``unsaid``:
    he came on a day, and nothing says whether he was bought."""

    wrong: list[tuple[str, str]] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    unsaid: bool = False


class _Told(NamedTuple):
    """What a row says but for the column of origin. ``by_day``: bought or hired, by the heading
    over a day of arrival, else ""; ``by_place``: the same by a place, else "". ``bred``: the place
    is where he was bred, which may be here. ``homebred``: the field that says so, else "".
    ``arrived``: the day he came is known."""

    place: str
    by_day: str
    by_place: str
    bred: bool
    homebred: str
    arrived: bool

    @property
    def came(self) -> str:
        """Bought or hired, where there is no doubt of it."""
        return self.by_day or ("" if self.bred else self.by_place)

    @property
    def words(self) -> str:
        return f"the day he was {self.by_day}" if self.by_day else f"where he was {self.by_place}"


def settle(
    fields: RowFields, profile: Mapping[str, Any], columns: Mapping[str, Heading], bad: set[str]
) -> Origin:
    """Puts origin and note into ``fields``, and takes where he was bought out of it.

    ``profile``: what the book says of him; ``columns``: by field; ``bad``: the fields of his row
    that are problems already.
    """
    place = str(fields.pop("bought_from", ""))
    place_way, day_way = (
        columns[at].way if at in columns else "" for at in ("bought_from", "arrived")
    )
    bred = place_way == "bred"
    word = meaning("origin", place)
    told = came_from(place)
    hired = place_way == HIRED or HIRED in (word, fields.get("origin", profile.get("origin")))
    how, seller = told or (HIRED if hired else BOUGHT, place)
    if place and word is None:
        _note(fields, profile, f"bred by {place}" if bred else came_note(how, seller))
    if bad & {"origin", "arrived", "bought_from"}:
        return Origin()
    farm = str(fields.get("farm", profile.get("farm", "")))
    here = word == HOMEBRED or (bred and name_key(place) == name_key(farm))
    said = {"origin": fields.get("origin"), "bought_from": word}
    return _decide(
        fields,
        profile.get("origin"),
        _Told(
            place=place,
            by_day=day_way if day_way in CAME and "arrived" in fields else "",
            by_place=how if place and not here else "",
            bred=bred,
            homebred=next((at for at, origin in said.items() if origin == HOMEBRED), ""),
            arrived="arrived" in fields or "arrived" in profile,
        ),
        columns,
    )


def _decide(
    fields: RowFields, booked: str | None, told: _Told, columns: Mapping[str, Heading]
) -> Origin:
    """His origin by all of it; what contradicts itself, or the book, is wrong."""
    found = Origin()
    if told.homebred and told.came:
        other = columns["arrived" if told.by_day else "bought_from"].place
        text = f"says that he is homebred, and {other} {told.words}; correct one of the two"
        found.wrong.append((told.homebred, text))
    elif "origin" in fields:
        pass  # a cell of his own says more than the heading of a column
    elif told.by_day and not told.bred and told.by_place not in ("", told.by_day):
        text = f"is where he was {told.by_place}, and {columns['arrived'].place} {told.words}"
        found.wrong.append(("bought_from", f"{text}; correct one of the two"))
    elif told.homebred:
        fields["origin"] = HOMEBRED
    elif booked and told.came not in ("", booked):
        # A bull does not become another by a heading alone.
        text = (
            f"he is {booked} in the book, and by the heading this is {told.words}; empty the cell, "
            f"or write {told.came} in a column headed Origin"
        )
        found.wrong.append(("arrived" if told.by_day else "bought_from", text))
    elif booked == HOMEBRED and told.by_place and told.arrived:
        text = f"is homebred in the book, and bred by {told.place}; stays homebred"
        found.warnings.append(text)
    elif booked:
        pass
    elif (came := told.by_day or told.by_place) and told.arrived:
        fields["origin"] = came
    elif came:
        on = "Hired on" if came == HIRED else "Bought on"
        found.warnings.append(
            "came from elsewhere, and nothing says when: taken in without origin, and no "
            f'quarantine can be told; write the day he came in a column headed "{on}"'
        )
    else:
        found.unsaid = "arrived" in fields
    return found


def _note(fields: RowFields, profile: Mapping[str, Any], text: str) -> None:
    """Into his note behind what it says, once."""
    before = str(fields.get("note") or profile.get("note", ""))
    if f"; {text}; ".casefold() not in f"; {before}; ".casefold():
        fields["note"] = f"{before}; {text}" if before else text
