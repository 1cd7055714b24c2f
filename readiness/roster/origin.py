"""Whether a bull was bought, by all that his row says: none may escape his quarantine unsaid.

Quarantine is asked for where his origin is bought and his arrival is known. Rosters say it in other
columns than that of the origin: in the heading over the day he came, or by the place he came from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from readiness.groups import name_key
from readiness.roster.headings import BOUGHT_ON, BREEDERS, Column
from readiness.roster.values import meaning, place_bought

HOMEBRED, BOUGHT = "homebred", "bought"
Said = dict[str, object]


@dataclass(slots=True)
class Origin:
    """``wrong``: (field, text) of what contradicts itself. ``warnings``: of this row. ``unsaid``:
    he came on a day, and nothing says whether he was bought."""

    wrong: list[tuple[str, str]] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    unsaid: bool = False


def settle(
    said: Said, profile: Mapping[str, Any], columns: Mapping[str, Column], bad: set[str]
) -> Origin:
    """Puts origin and note into ``said``, and takes where he was bought out of it.

    ``profile``: what the book says of him; ``columns``: by field; ``bad``: the fields of his row
    that are problems already.
    """
    found = Origin()
    place = str(said.pop("bought_from", ""))
    bred = "bought_from" in columns and columns["bought_from"].says(BREEDERS)
    word = meaning("origin", place)
    if place and word is None:
        _note(said, profile, f"bred by {place}" if bred else _bought_words(place))
    if bad & {"origin", "arrived", "bought_from"}:
        return found
    on = columns.get("arrived")
    bought_on = "arrived" in said and on is not None and on.says(BOUGHT_ON)
    own_farm = bred and name_key(place) == name_key(str(said.get("farm", profile.get("farm", ""))))
    from_elsewhere = bool(place) and word != HOMEBRED and not own_farm
    sold = from_elsewhere and not bred
    homebred = "origin" if said.get("origin") == HOMEBRED else ""
    homebred = homebred or ("bought_from" if word == HOMEBRED else "")
    if homebred and (bought_on or sold):
        other = columns["arrived" if bought_on else "bought_from"].place
        text = f"says that he is homebred, and {other} {_bought(bought_on)}; correct one of the two"
        found.wrong.append((homebred, text))
    elif "origin" not in said and not homebred and profile.get("origin") == HOMEBRED:
        if bought_on or sold:
            found.wrong.append(_booked_homebred(bought_on))
        elif from_elsewhere and ("arrived" in said or "arrived" in profile):
            found.warnings.append(f"is homebred in the book, and bred by {place}; stays homebred")
    elif "origin" not in said:
        _infer(said, profile, found, homebred=bool(homebred), bought=bought_on or from_elsewhere)
    return found


def _bought(on: bool) -> str:
    return "the day he was bought" if on else "where he was bought"


def _booked_homebred(bought_on: bool) -> tuple[str, str]:
    """The book has him as homebred: a bull does not become a bought one by a heading alone."""
    return (
        "arrived" if bought_on else "bought_from",
        f"he is homebred in the book, and by the heading this is {_bought(bought_on)}; empty the "
        "cell, or write bought in a column headed Origin",
    )


def _infer(
    said: Said, profile: Mapping[str, Any], found: Origin, *, homebred: bool, bought: bool
) -> None:
    """His origin where no column of origin says it."""
    booked = profile.get("origin")
    if homebred:
        said["origin"] = HOMEBRED
    elif bought and ("arrived" in said or "arrived" in profile):
        said["origin"] = BOUGHT
    elif bought and booked != BOUGHT:
        found.warnings.append(
            "came from elsewhere, and nothing says when: taken in without origin, and no "
            'quarantine can be told; write the day he came in a column headed "Bought on"'
        )
    elif not bought:
        found.unsaid = "arrived" in said and booked is None


def _bought_words(place: str) -> str:
    return f"bought from {place_bought(place) or place}"


def _note(said: Said, profile: Mapping[str, Any], text: str) -> None:
    """Into his note behind what it says, once."""
    before = str(said.get("note") or profile.get("note", ""))
    if f"; {text}; ".casefold() not in f"; {before}; ".casefold():
        said["note"] = f"{before}; {text}" if before else text
