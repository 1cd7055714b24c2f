"""What is odd about entries that are to be written, and may yet be true: said, never refused."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from functools import lru_cache
from itertools import chain

from readiness.book.former import key_since, keys_given, renamed
from readiness.book.shelf import effective, struck_ids
from readiness.engine.warnings import by_itself, of_bull
from readiness.entries.entry import Entry, entry_order, from_roster, last_farm, recorded_text
from readiness.entries.ids import again_id
from readiness.herd.board import group_of, groups_on, in_his_group
from readiness.history import History
from readiness.history.groups import Group, key_of, names_of
from readiness.rules.model import RuleBook
from readiness.system.grouped import grouped
from readiness.system.progress import Progress, counted, nobody
from readiness.trade.females import named_heifers, speaks_of_heifers
from readiness.trade.tags import SHORTEST_END


def warnings_of(
    held: Sequence[Entry],
    coming: Sequence[Entry],
    rulebook: RuleBook,
    now: datetime,
    today: date,
    progress: Progress = nobody,
) -> list[tuple[str, str]]:
    """(entry id, what is odd) for each of the ``coming`` entries, in their order.

    ``held``: all that the book holds, strikes and struck included. ``now``: this moment, aware.
    """
    found: dict[str, list[str]] = {}
    for entry_id, text in chain(
        _of_nobody(coming, today.toordinal()),
        _by_bull(held, coming, rulebook, today, progress),
        _strikes(held, coming),
        _groups(held, coming),
        _booked_under_a_former_tag(held, coming),
        _still_to_come(coming, recorded_text(now)),
    ):
        found.setdefault(entry_id, []).append(text)
    ids = (entry.id for entry in coming)
    return [(entry_id, text) for entry_id in ids for text in found.pop(entry_id, ())]


def _of_nobody(coming: Sequence[Entry], today: int) -> Iterator[tuple[str, str]]:
    """What is odd in entries that are of no bull, by themselves."""
    for entry in coming:
        if not entry.bull:
            for text in by_itself(entry.body, entry.kind, entry.day, today):
                yield entry.id, text


def _still_to_come(coming: Sequence[Entry], now: str) -> Iterator[tuple[str, str]]:
    for entry in coming:
        if entry.recorded > now:
            yield (
                entry.id,
                f"recorded at {entry.recorded}, which is still to come: no --known before then "
                "shows it",
            )


def still_withdrawn(held: Sequence[Entry], skipped: Sequence[str]) -> list[tuple[str, str]]:
    """What to say of ``skipped`` entries, which the book holds, where they were withdrawn there:
    else somebody who takes a file in anew would think that they count again."""
    struck = struck_ids(held)
    there = {entry.id for entry in held}
    again = {e.body["entry"] for e in held if e.kind == "strike" and again_id(e.id) in there}
    text = (
        "is in the book already but was taken back, and stays so: to say it once more, give "
        "its line another id, or a note"
    )
    return [(entry, text) for entry in skipped if entry in struck - again]


def _by_bull(
    held: Sequence[Entry],
    coming: Sequence[Entry],
    rulebook: RuleBook,
    today: date,
    progress: Progress,
) -> Iterator[tuple[str, str]]:
    """What is odd of bulls, each by the rules of his farm."""
    asked = {entry.id for entry in coming}
    spoken_of = {entry.bull for entry in coming if entry.bull}
    every = effective(sorted([*held, *coming], key=entry_order))
    own = grouped((e for e in every if e.bull in spoken_of), lambda entry: entry.bull)
    groups = [e for e in every if e.kind == "group"]
    names = names_of(groups)
    there = lru_cache(maxsize=None)(lambda day: groups_on(groups, rulebook, day))

    def his_group(state: History, day: int) -> Group | None:
        return group_of(in_his_group(state, names), there(day))

    for entries in counted(own.values(), len(own), progress):
        rules = rulebook.for_farm(last_farm(entries))
        yield from of_bull(entries, rules, today.toordinal(), asked, his_group)


def _groups(held: Sequence[Entry], coming: Sequence[Entry]) -> Iterator[tuple[str, str]]:
    """A group with heifers in its name, that counts as one of cows as nobody said otherwise."""
    if not any(entry.kind == "group" for entry in coming):
        return
    said = [e for e in effective([*held, *coming]) if e.kind == "group"]
    spoken_of = {key_of(e.body) for e in said if "class" in e.body}
    for entry in coming:
        if entry.kind != "group" or key_of(entry.body) in spoken_of:
            continue
        name = entry.body["group"]
        if speaks_of_heifers(name):
            text = f"{name} counts as a group of cows until somebody says it is of heifers"
            if named_heifers(name):
                text += "; by its name, bulls not safe with heifers are held there all the same"
            yield entry.id, text


def _booked_under_a_former_tag(
    held: Sequence[Entry], coming: Sequence[Entry]
) -> Iterator[tuple[str, str]]:
    """Whoever reads an old number, on paper or on the bull, may book him a second time: then what
    holds him stands under his new tag alone."""
    booked = [entry for entry in coming if entry.kind == "bull"]
    steps = renamed(held) if booked else []
    if not steps:
        return
    # One who is on the board though his booking was taken back is not booked.
    there = effective([*held])
    known = {entry.bull for entry in there if entry.kind == "bull" and not entry.withdrawn}
    known |= keys_given(coming)
    for entry in booked:
        now = key_since(steps, entry.bull, 0.0)
        if entry.bull not in known and now != entry.bull:
            tag = entry.body["bull"]
            yield (
                entry.id,
                f"{tag} was given another tag, {now}: if this is that bull, take this back and "
                f"speak of {now}",
            )


def perhaps_booked_twice(
    held: Sequence[Entry], coming: Sequence[Entry], *, typed: bool
) -> list[tuple[str, str]]:
    """Bulls who are new to a book that holds ``held``, where one tag is the last digits of another
    bull's: whoever gave those may have meant him, whom other commands would find by them.

    ``typed``: so are a digit or two of another's; out of a file those are alike by chance. What a
    roster's new bull has in common with one of the book it says itself.
    """
    if not any(entry.kind == "bull" for entry in coming):
        return []
    place = {entry.id: at for at, entry in enumerate(coming)}
    spoken = effective([e for e in (*held, *coming) if e.kind in ("bull", "strike")])
    first: dict[str, Entry] = {}
    for entry in sorted(spoken, key=lambda entry: place.get(entry.id, -1)):
        first.setdefault(entry.bull, entry)
    found: dict[str, list[str]] = {}
    for short, whole in _ends_alike(first):
        new, other = sorted((short, whole), key=lambda e: place.get(e.id, -1), reverse=True)
        told = new.id not in place or (from_roster(new) and other.id not in place)
        least = 1 if typed and new is short else SHORTEST_END
        if not told and len(short.bull) >= least:
            found.setdefault(new.id, []).append(other.body["bull"])
    return [(new, _twice(coming[place[new]].body["bull"], tags)) for new, tags in found.items()]


def _ends_alike(booked: Mapping[str, Entry]) -> Iterator[tuple[Entry, Entry]]:
    """A booking under digits alone, and one whose tag ends in these. ``booked``: by key."""
    for key, whole in booked.items():
        for at in range(1, len(key)):
            if key[at:] in booked and key[at:].isdecimal():
                yield booked[key[at:]], whole


def _twice(tag: str, others: Sequence[str]) -> str:
    return (
        f"{tag} is booked as a new bull; the tag of {', '.join(others)} ends so too. If he is "
        "meant, take this back, and speak of him by that tag"
    )


def _strikes(held: Sequence[Entry], coming: Sequence[Entry]) -> Iterator[tuple[str, str]]:
    strikes = [entry for entry in coming if entry.kind == "strike"]
    known = {entry.id for entry in (*held, *coming)} if strikes else set()
    struck = {entry.body["entry"] for entry in held if entry.kind == "strike"}
    for entry in strikes:
        target = entry.body["entry"]
        if target not in known:
            yield (
                entry.id,
                f"the book has no entry {target} to take back; it will if it is merged in",
            )
        elif target in struck:
            yield (
                entry.id,
                f"{target} was taken back already: this changes nothing, but where something was "
                "said in its place he is held until that is taken back too",
            )
