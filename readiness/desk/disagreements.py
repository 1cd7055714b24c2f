"""What two copies of a book say against each other: each was written without the other in sight.

Pure. An entry that one copy has and the other has not was said without knowledge of what the other
has alone. A disagreement stops nothing: both are kept, what counts follows from the rules that hold
within one copy too, and here it is said, so that people can settle it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from readiness.book.former import key_given
from readiness.book.shelf import struck_ids, untouched
from readiness.desk.sides import Disagreement, Sides, Slot, disagreement, tag_of, words_of
from readiness.desk.taken_back import said_still, withdrawn
from readiness.entries.entry import Entry, entry_order
from readiness.entries.ids import canonical
from readiness.history.groups import key_of
from readiness.system.grouped import grouped
from readiness.system.plain import name_key, plain
from readiness.trade.words import full_day_words, plural


def disagreements(
    held: Sequence[Entry], coming: Sequence[Entry], theirs: frozenset[str]
) -> list[Disagreement]:
    """``held``: what this copy has, ``coming``: what the other has besides, ``theirs``: the ids of
    all that the other has. By bull, then by what it is about; the same whichever copy is the other.
    """
    here = [entry for entry in held if entry.id not in theirs]
    sides = Sides(here, coming, [*held, *coming])
    if not here or not coming:
        return []
    found = [
        *withdrawn(sides),
        *said_still(sides),
        *_corrected(sides),
        *_said_otherwise(sides),
        *_left(sides),
    ]
    return sorted(found, key=lambda each: (each.bull or "", each.about, each.text))


# ---- two who say different things of one matter --------------------------------------------------

# Of each kind that says one thing of a bull and a day: what the matter is beside kind, bull and
# day, and the fields that say it.
_OF_A_DAY: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "weight": ((), ("kg",)),
    "mobility": ((), ("scale", "score", "limb")),
    "condition": ((), ("scale", "score")),
    "vet-exam": ((), ("outcome", "again_on", "scrotum_cm", "motility_pct", "normal_pct", "stands")),
    "vet-look": (("about", "foot", "part", "limb"), ("outcome", "again_on")),
    "body": (("part", "limb"), ("state",)),
    "check": (("check",), ("result",)),
    "moved": ((), ("act", "reason")),
}
_NOT_SAID = frozenset(("kind", "on", "bull", "group", "by", "note"))


def _matters(entry: Entry) -> Iterator[tuple[Slot, object]]:
    """What an entry is about, and what it says of it: two that are about the same and say something
    else disagree."""
    body, bull = entry.body, entry.bull
    match entry.kind:
        case "group":
            key = [*map(name_key, key_of(body))]
            yield from ((("group", *key, name), value) for name, value in _fields(body))
        case "bull":
            yield from ((("bull", bull, name), value) for name, value in _fields(body, bull=True))
        case "join":
            group = body.get("group")
            yield ("join", bull), (group and name_key(group), body.get("role"))
        case "feet":
            for foot in body.get("lifted", ()):
                yield ("feet", bull, entry.day, foot), _on_foot(body, foot)
        case "block-on" | "block-off":
            yield ("block", bull, entry.day, body["foot"], body["claw"]), entry.kind
        case kind if kind in _OF_A_DAY:
            about, said = _OF_A_DAY[kind]
            matter = tuple(str(body.get(name, "")).casefold() for name in about)
            yield (kind, bull, entry.day, *matter), tuple(body.get(name) for name in said)


def _fields(body: Mapping[str, Any], *, bull: bool = False) -> Iterator[tuple[str, object]]:
    left_out = (
        _NOT_SAID if bull else _NOT_SAID | {"farm"}
    )  # whose group it is, and no matter of its
    return ((name, value) for name, value in body.items() if name not in left_out)


def _on_foot(body: Mapping[str, Any], foot: str) -> str:
    said = {
        name: sorted(canonical(item) for item in body.get(name, ()) if item["foot"] == foot)
        for name in ("findings", "healed")
    }
    return canonical(said)


def _once(entry: Entry) -> Iterator[Slot]:
    """What can be done once only: two who did it, each without the other, disagree."""
    body = entry.body
    if entry.kind in ("block-on", "block-off"):
        yield (entry.kind, entry.bull, body["foot"], body["claw"])
    for item in body.get("healed", ()) if entry.kind == "feet" else ():
        yield ("healed", entry.bull, item["foot"], item["claw"], item["code"])


def _said_otherwise(sides: Sides) -> Iterator[Disagreement]:
    standing = {entry.id for entry in untouched(sides.both)}
    here, there = (
        sorted((e for e in side if e.id in standing), key=entry_order)
        for side in (sides.here, sides.there)
    )
    mine, yours = _last_of(here), _last_of(there)
    for slot in mine.keys() & yours.keys():
        (one, said), (other, said_there) = mine[slot], yours[slot]
        if said != said_there:
            yield _told(slot, one, other, said, said_there)
    done, done_there = (
        {slot: entry for entry in side for slot in _once(entry)} for side in (here, there)
    )
    for slot in done.keys() & done_there.keys():
        yield _told(slot, done[slot], done_there[slot])


def _last_of(entries: Iterable[Entry]) -> dict[Slot, tuple[Entry, object]]:
    return {slot: (entry, said) for entry in entries for slot, said in _matters(entry)}


_DONE = {"block-on": "block fitted", "block-off": "block taken off", "healed": "healed"}


def _told(
    slot: Slot, here: Entry, there: Entry, said: object = None, said_there: object = None
) -> Disagreement:
    what = str(slot[0])
    name = str(slot[-1])
    one, other = words_of(here), words_of(there)
    if what == "group":
        of = f"{here.body['group']}{_at(here)}: {name.replace('_', ' ')}"
        one, other = _value(said), _value(said_there)
    elif what == "bull":
        of = f"{tag_of(here)}: {name.replace('_', ' ')}"
        one, other = _value(said), _value(said_there)
    elif what in _DONE:
        place = " ".join(str(part) for part in slot[2:])
        of = f"{tag_of(here)}: {place} {_DONE[what]} twice"
        one, other = (f"on {full_day_words(entry.day)}" for entry in (here, there))
    else:
        of = f"{tag_of(here)}, {full_day_words(here.day)}"
        if here.day != there.day:
            of = tag_of(here)
            one, other = (f"{words_of(e)} ({full_day_words(e.day)})" for e in (here, there))
    text = f"{of}: here {one}, there {other}"
    if what in ("group", "bull") or what in _DONE:
        text = f"{of}, here {one}, there {other}"
    return disagreement(what, here, text, [here], [there])


# ---- one entry corrected twice, one bull that left -----------------------------------------------


def _corrected(sides: Sides) -> Iterator[Disagreement]:
    """One entry that both took back and said anew: both stand."""
    targets = {entry.id: entry for entry in sides.both}
    here, there = (_instead(side) for side in (sides.here, sides.there))
    for id_ in here.keys() & there.keys() & targets.keys():
        target, one, other = targets[id_], here[id_], there[id_]
        if [canonical(e.body) for e in one] == [canonical(e.body) for e in other]:
            continue
        said, said_there = (" ".join(map(words_of, entries)) for entries in (one, other))
        whose = tag_of(target) if target.bull else plain(target.body.get("group", ""))
        text = f"{whose}: {words_of(target)} was corrected twice, here {said}, there {said_there}"
        yield disagreement("corrected", target, f"{text}; both stand", one, other)


def _instead(side: Sequence[Entry]) -> dict[str, list[Entry]]:
    """Id → what was said in the place of that entry, in one batch with its strike: but for what was
    only said of another tag."""
    gone = struck_ids(side)
    by_batch = grouped((e for e in side if e.batch), lambda entry: entry.batch)
    found = {}
    for batch in by_batch.values():
        said = [entry for entry in batch if entry.kind != "strike" and entry.id not in gone]
        for strike in (entry for entry in batch if entry.kind == "strike"):
            if said and not key_given(strike):
                found[strike.body["entry"]] = said
    return found


def _left(sides: Sides) -> Iterator[Disagreement]:
    """A bull that left in one copy, and of whom the other says something of a later day."""
    standing = {entry.id for entry in untouched(sides.both)}
    for here, (one, other) in (
        (True, (sides.here, sides.there)),
        (False, (sides.there, sides.here)),
    ):
        of_bull = grouped((e for e in other if e.bull and e.id in standing), lambda e: e.bull)
        for gone in one:
            if gone.kind != "moved" or gone.body["act"] != "left" or gone.id not in standing:
                continue
            after = [e for e in of_bull.get(gone.bull, ()) if e.day > gone.day and e.kind != "bull"]
            if not after:
                continue
            said = f"{plural(len(after), 'entry', 'entries')} of later days"
            sides_words = ("here", "there") if here else ("there", "here")
            text = (
                f"{tag_of(gone)}: {sides_words[0]} {words_of(gone)} on {full_day_words(gone.day)}, "
                f"{sides_words[1]} {said}, the last {words_of(after[-1])}"
            )
            ids = ([gone], after) if here else (after, [gone])
            yield disagreement("left", gone, text, *ids)


# ---- words ---------------------------------------------------------------------------------------


def _at(entry: Entry) -> str:
    farm = entry.body.get("farm")
    return f" ({farm})" if farm else ""


def _value(said: object) -> str:
    if said is None:
        return "taken away"
    if isinstance(said, bool):
        return "yes" if said else "no"
    try:
        return full_day_words(date.fromisoformat(str(said)))
    except ValueError:
        return str(said)
