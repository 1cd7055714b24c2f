"""What a roster changes in the book that may not be meant, and may harm whoever handles a bull or
waits for him: a milder temper, a farm or group that is not there, another bull's name."""

from __future__ import annotations

import re
import shlex
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date

from readiness.book.lookup import near_name
from readiness.roster.cells import rows_words
from readiness.roster.known import Groups, Known
from readiness.roster.roster import bulls_words
from readiness.roster.row_entries import UPDATED, FieldChange, RowChange, iso_day_words
from readiness.roster.way import COMMAND, Way
from readiness.system.plain import name_key
from readiness.trade.ages import Birth
from readiness.trade.tags import tag_key
from readiness.trade.temper import TEMPERS
from readiness.trade.words import list_words

_PLAIN_NAME = re.compile(r"[\w ,.'&()/-]+")


# ---- tempers, farms and groups -------------------------------------------------------------------


def harm(row: RowChange, group: str | None, book: Known) -> Iterator[str]:
    """That he is called milder than the book has him, or safe with heifers: an old sheet may not
    know what he has done since. That he came sooner, which may end a quarantine. That a move to
    another farm of the book takes him out of his group: groups are per farm.

    ``group``: the one the book has him in, None where the row names one.
    """
    who = bulls_words([(row.bull, row.name)])
    temper, farm = row.change("temper"), row.change("farm")
    if temper and temper.before is not None:
        before, after = str(temper.before), str(temper.after)
        if TEMPERS.index(after) < TEMPERS.index(before):
            yield (
                f"{who} is {before.upper()} in the book, and {after} by this roster: be sure of it "
                "before anybody handles him"
            )
    safe, came = row.change("heifer_safe"), row.change("arrived")
    if safe and safe.before is False and safe.after is True:
        yield f"{who} is not safe with heifers in the book, and safe by this roster: be sure of it"
    if came and came.before is not None and str(came.after) < str(came.before):
        yield (
            f"{who} arrived {iso_day_words(str(came.before))} in the book, and "
            f"{iso_day_words(str(came.after))} by this roster: be sure of it, his quarantine hangs "
            "on it"
        )
    if farm and group is not None and farm.after in book.farms:
        there = (str(farm.after), group) in book.groups
        so = f"in the group {group} there" if there else f"in no group; he was in {group}"
        yield f"{who} is moved from {farm.before or 'no farm'} to {farm.after}, and so {so}"


def strange_farms(rows: Iterable[RowChange], known: Collection[str]) -> Iterator[tuple[str, str]]:
    """Each farm that bulls are put on and is not ``known``; and what to say of it, where booked
    bulls are moved to it or its name is nearly another's, else ""."""
    strange: dict[str, list[RowChange]] = {}
    for row in rows:
        if (farm := row.change("farm")) and farm.after not in known:
            strange.setdefault(str(farm.after), []).append(row)
    for name, there in strange.items():
        near = near_name(name, known)
        moved = [(row.bull, row.name) for row in there if row.status == UPDATED]
        new = [(row.bull, row.name) for row in there if row.status != UPDATED]
        parts = [f"moved to it, and so in no group: {bulls_words(moved)}"] if moved else []
        parts += [f"booked there: {bulls_words(new)}"] if new and near else []
        nearest = f"; the nearest that it has is {near}" if near else ""
        text = f"the book has no farm {name}{nearest}; {'; '.join(parts)}"
        yield name, text if parts else ""


def no_group(
    group: str, farm: str | None, groups: Groups, on: date | None, way: Way = COMMAND
) -> str:
    """That there is no such group on the farm, and how to write it. ``groups``: (farm, name);
    ``on``: the day from which it has to be there, None for today."""
    there = sorted(name for of, name in groups if of == farm)
    has = f" (its groups are {list_words(there)})" if there else ""
    others = sorted(of for of, name in groups if name == group and of and of != farm)
    other = f"; there is one at {list_words(others)}: give their farm if they are there"
    at = f"at {farm}" if farm else "on the farm without a name"
    options = f" --farm {_typed(farm)}" if farm else ""
    options += " --new" if group in {name for of, name in groups if of != farm} else ""
    options += f" --on {on.isoformat()}" if on else ""
    return (
        f"there is no group {group} {at}{has}{other if others else ''}; give it a "
        "day in a column headed Turnout, or write it first: "
        f"{way.group(f'{_typed(group)} --turnout DATE{options}')}"
    )


def _typed(name: str) -> str:
    """A name as one types it in a command; what a shell would take for its own is kept from it."""
    return f'"{name}"' if _PLAIN_NAME.fullmatch(name) else shlex.quote(name)


# ---- another bull's row --------------------------------------------------------------------------


def mixed_up(rows: Iterable[RowChange], book: Known) -> Iterator[tuple[int, str, str]]:
    """Rows that may be of another bull than their tag, (row, field, text): each that changes a
    birth, or gives a name that another bull of the book bears; and, with row 0, what several such
    names look like together.

    A column sorted by itself leaves every tag with another bull's name. What is written of a bull
    stands under his tag, so that whoever then goes by the names handles the wrong one.
    """
    rows = list(rows)
    places = {tag_key(row.bull): place for place, row in enumerate(rows)}
    taken: dict[int, list[str]] = {}
    for key, place in places.items():
        row = rows[place]
        born, name = row.change("born"), row.change("name")
        bearers = book.by_name.get(name_key(str(name.after)), []) if name else []
        if name and (others := [bearer for bearer in bearers if bearer != key]):
            taken[place] = others
            bearer = _who(others[0], book)
            if others[0] in places and (other := rows[places[others[0]]].change("name")):
                bearer += f" (who would be called {other.after})"
            yield row.row, "name", _named(row, name, bearer, book)
        if born and isinstance(born.before, Birth) and born.before.denies(_birth(born)):
            yield row.row, "born", _born(key, born, book)
    if len(taken) > 1:
        yield 0, "name", _together(rows, taken, places)


def _birth(born: FieldChange) -> Birth:
    assert isinstance(born.after, Birth)
    return born.after


def _born(key: str, born: FieldChange, book: Known) -> str:
    return (
        f"{_who(key, book)} was born {iso_day_words(born.before)} in the book, and "
        f"{iso_day_words(born.after)} by this row: what is written of him would be of a bull of "
        "another age. Look whose birth it is"
    )


def _named(row: RowChange, name: FieldChange, bearer: str, book: Known) -> str:
    if name.before is None:
        return f"{row.bull} would be called {name.after}, and so is {bearer}"
    return (
        f"{_who(tag_key(row.bull), book)} would be called {name.after}, and so is {bearer}: what "
        f"is written of {name.before} would stand under {name.after}"
    )


def _who(key: str, book: Known) -> str:
    return f"{book.tags[key]} {book.bulls[key].name}".strip()


def _together(
    rows: Sequence[RowChange], taken: Mapping[int, list[str]], places: Mapping[str, int]
) -> str:
    """``taken``: place among the rows → the keys of the bulls who bear that name already."""
    words = "names have moved to other tags"
    for step, where in ((-1, "above"), (1, "below")):
        moved = [at for at, keys in taken.items() if at + step in map(places.get, keys)]
        if len(moved) > 1:
            words = f"each has the name of the bull in the row {where}"
    return (
        f"{rows_words([rows[at].row for at in taken])}: {words}, as where one column is sorted by "
        "itself or moved by a row. Put names and tags together again"
    )
