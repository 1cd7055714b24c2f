"""Which new entries a book takes in: who and what they name must be there.

A line's validity depends on the book for bulls and groups alone, so that merging two copies or
striking an entry can never make a line wrong. Pure: what the book holds in, problems out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from functools import lru_cache

from readiness.book.shelf import effective, untouched
from readiness.entries.entry import Entry, NewEntry
from readiness.entries.ids import digest
from readiness.entries.problem import IMPORT_AGAIN, Problem, paragraph
from readiness.system.errors import DataError
from readiness.trade.tags import tag_key


def as_entry(new: NewEntry, recorded: str = "", position: int = 0, batch: str = "") -> Entry:
    """A new entry as the core will see it once it is written."""
    content = new.content
    return Entry(
        day=_ordinal(content["on"]),
        recorded=new.recorded or recorded,
        position=position if new.position is None else new.position,
        id=new.id,
        kind=content["kind"],
        bull=tag_key(content.get("bull", "")),
        body=content,
        batch=new.batch or batch,
    )


@lru_cache(maxsize=4096)
def _ordinal(day: str) -> int:
    """Entries are many, and the days of which they speak few."""
    return date.fromisoformat(day).toordinal()


def concerning(held: Sequence[Entry], new: Sequence[NewEntry]) -> list[Entry]:
    """Of what the book holds, all that can bear on the new entries.

    The same ids and what the new strikes aim at, all of the bulls these speak of, every group and
    every strike: whatever else there is, neither bars a new entry nor makes it odd.
    """
    ids = {entry.id for entry in new}
    ids |= {e.content["entry"] for e in new if e.content["kind"] == "strike"}
    bulls = {tag_key(entry.content.get("bull", "")) for entry in new}
    bulls |= {entry.bull for entry in held if entry.id in ids}
    # Groups and strikes are of no bull, and each may bear on any.
    bulls.add("")
    return [entry for entry in held if entry.bull in bulls]


def admit(problems: Sequence[object], source: str = "", end: str = IMPORT_AGAIN) -> None:
    """Raise DataError with everything that bars the entries of ``source`` ("" where typed);
    ``end``: what became of it, and what to do."""
    if problems:
        raise DataError(paragraph(source, problems, end), [*map(str, problems)])


def all_that_bars(
    held: Sequence[Entry], new: Sequence[NewEntry], come: Sequence[Entry] | None = None
) -> list[Problem]:
    """Everything that bars ``new`` from a book that holds ``held``, strikes and struck included.
    ``come``: those that it does not hold, as ``as_entry`` makes them, where they are made already.
    """
    ids = {entry.id for entry in new}
    digests = {entry.id: digest(entry.body) for entry in held if entry.id in ids}
    fresh = [entry for entry in new if entry.id not in digests]
    if come is None:
        come = [as_entry(entry) for entry in fresh]
    there = effective([*held])
    # What comes brings no bull back by itself whose booking was taken back.
    kept = (entry for entry in there if entry.withdrawn)
    before, after = _Register(there), _Register([*untouched([*held, *come]), *kept])
    ever = _Register([*held, *come] if any(said.recorded for said in fresh) else [])
    found = clashes(digests, new) + strikes_barred(held, new)
    for entry, said in zip(come, fresh, strict=True):
        line = said.line or None
        if said.recorded:
            found += _taken_in_before(entry, line, ever)
        elif entry.bull:
            found += _of_bull(entry, line, after, struck_here=entry.bull in before.bulls)
    return sorted(found, key=lambda problem: problem.line or 0)


def clashes(held: Mapping[str, str], new: Sequence[NewEntry]) -> list[Problem]:
    """The new entries whose id stands for other content, which never changes. ``held``: the digest
    of each of these ids that the book holds."""
    text = "{} is the id of another entry {}; give this one another id, or leave it out"
    first: dict[str, NewEntry] = {}
    found = []
    for entry in new:
        earlier = first.setdefault(entry.id, entry)
        if entry.id in held:
            where, same = "in the book", held[entry.id] == digest(entry.content)
        elif earlier is entry:
            continue
        else:
            where, same = "earlier in the same batch", earlier.content == entry.content
        if not same:
            found.append(Problem(entry.line or None, "id", text.format(entry.id, where)))
    return found


def strikes_barred(held: Sequence[Entry], new: Sequence[NewEntry]) -> list[Problem]:
    """The strikes, said here and now, that the book cannot take: a strike cannot be struck, and a
    bull with other entries keeps a ``bull`` entry, or gets one in the same batch.

    Strikes that come out of another copy of the book were accepted there, and are not asked again.
    """
    if not any(entry.content["kind"] == "strike" for entry in new):
        return []
    there = {entry.id: entry for entry in held}
    come = [(as_entry(entry), entry.line or None) for entry in new if entry.id not in there]
    by_id = there | {entry.id: entry for entry, _ in come}
    after = _Register(untouched(by_id.values()))
    found: list[Problem] = []
    for entry, line in come:
        if entry.kind == "strike" and not entry.recorded:
            target = by_id.get(entry.body["entry"])
            text = _unstrikable(target, after) if target else ""
            found += [Problem(line, "entry", text)] if text else []
    return found


def _unstrikable(target: Entry, after: _Register) -> str:
    """Why it cannot be struck; "" where it can."""
    if target.kind == "strike":
        return (
            f"{target.id} takes another entry back, and stays itself; say again what it took back"
        )
    if target.kind != "bull" or target.bull in after.bulls or target.bull not in after.others:
        return ""
    return (
        f"this is the only entry that books {target.body['bull']}, who has other entries; "
        "book him again first, or take those back too"
    )


class _Register:
    """Who is booked and who is spoken of.

    ``bulls``: key → (day, farm) of each ``bull`` entry; ``others``: the keys of those with other
    entries; ``groups``: (farm, name).
    """

    def __init__(self, entries: Iterable[Entry]) -> None:
        self.bulls: dict[str, list[tuple[int, str | None]]] = {}
        self.others: set[str] = set()
        self.groups: set[tuple[str | None, str]] = set()
        for entry in entries:
            if entry.kind == "bull":
                self.bulls.setdefault(entry.bull, []).append((entry.day, entry.body.get("farm")))
            elif entry.kind == "group":
                self.groups.add((entry.body.get("farm"), entry.body["group"]))
            else:
                self.others.add(entry.bull)

    def farms(self, bull: str, day: int) -> set[str | None]:
        """The farms that his group may be of: where he is on that day, and where he is last."""
        named = [(on, farm) for on, farm in sorted(self.bulls[bull], key=lambda at: at[0]) if farm]
        then = [farm for on, farm in named if on <= day]
        return {then[-1] if then else None, named[-1][1] if named else None}


def _taken_in_before(entry: Entry, line: int | None, ever: _Register) -> Iterator[Problem]:
    """One that comes out of another copy of the book was taken in there, and is not asked again:
    the bull and the group that it names need only ever have been there, be they struck since."""
    group = _group_joined(entry)
    if entry.bull and entry.bull not in ever.bulls:
        yield _no_bull(entry, line)
    elif group is not None and all(group != name for _, name in ever.groups):
        text = f"no group {group} was ever named; write the group first"
        yield Problem(line, "group", text)


def _of_bull(
    entry: Entry, line: int | None, after: _Register, *, struck_here: bool
) -> Iterator[Problem]:
    if entry.bull not in after.bulls:
        # Else the strike that takes him off the book is what is wrong.
        if not struck_here and entry.kind != "bull":
            yield _no_bull(entry, line)
        return
    group = _group_joined(entry)
    if group is None:
        return
    farms = after.farms(entry.bull, entry.day)
    if all((farm, group) not in after.groups for farm in farms):
        text = _no_group(group, entry.body["bull"], farms, after)
        yield Problem(line, "group", text)


def _group_joined(entry: Entry) -> str | None:
    return entry.body.get("group") if entry.kind == "join" else None


def _no_bull(entry: Entry, line: int | None) -> Problem:
    text = f"no bull {entry.body['bull']} is booked; book him with a bull entry first"
    return Problem(line, "bull", text)


def _no_group(group: str, tag: str, farms: set[str | None], after: _Register) -> str:
    where = " or ".join(sorted(farm for farm in farms if farm)) or "no named farm"
    there = sorted(name for farm, name in after.groups if farm in farms)
    known = f"its groups are {', '.join(there)}" if there else "it has no groups yet"
    return f"no group {group} on {tag}'s farm ({where}); {known}; write the group first"
