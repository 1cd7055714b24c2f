"""What two copies of a book say against each other: each was written without the other in sight.

Pure. An entry that one copy has and the other has not was said without knowledge of what the other
has alone. A disagreement stops nothing: both are kept, what counts follows from the rules that hold
within one copy too, and here it is said, so that people can settle it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from readiness.book.shelf import struck_ids, untouched
from readiness.entries.entry import Entry, entry_order
from readiness.entries.ids import canonical
from readiness.shorthand import words
from readiness.system.grouped import grouped
from readiness.system.plain import plain
from readiness.trade.words import full_day_words, plural

Slot = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Disagreement:
    """``about``: the kind of what is said, or taken-back, corrected, left, healed; ``bull``: his
    tag, None of a group; ``text``: a sentence; ``here``, ``there``: the ids of the entries that
    this copy alone, and the other alone, has."""

    about: str
    bull: str | None
    text: str
    here: tuple[str, ...]
    there: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sides:
    """``here``, ``there``: the entries that one copy alone has, strikes too; ``both``: all that the
    two have together."""

    here: Sequence[Entry]
    there: Sequence[Entry]
    both: Sequence[Entry]


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
    found = [*_withdrawn(sides), *_corrected(sides), *_said_otherwise(sides), *_left(sides)]
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
            key = (body.get("farm") or "", body["group"])
            yield from ((("group", *key, name), value) for name, value in _fields(body))
        case "bull":
            yield from ((("bull", bull, name), value) for name, value in _fields(body, bull=True))
        case "join":
            yield ("join", bull), (body.get("group"), body.get("role"))
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
    one, other = _words(here), _words(there)
    if what == "group":
        of = f"{here.body['group']}{_at(here)}: {name.replace('_', ' ')}"
        one, other = _value(said), _value(said_there)
    elif what == "bull":
        of = f"{_tag(here)}: {name.replace('_', ' ')}"
        one, other = _value(said), _value(said_there)
    elif what in _DONE:
        place = " ".join(str(part) for part in slot[2:])
        of = f"{_tag(here)}: {place} {_DONE[what]} twice"
        one, other = (f"on {full_day_words(entry.day)}" for entry in (here, there))
    else:
        of = f"{_tag(here)}, {full_day_words(here.day)}"
        if here.day != there.day:
            of = _tag(here)
            one, other = (f"{_words(e)} ({full_day_words(e.day)})" for e in (here, there))
    text = f"{of}: here {one}, there {other}"
    if what in ("group", "bull") or what in _DONE:
        text = f"{of}, here {one}, there {other}"
    return _disagreement(what, here, text, [here], [there])


# ---- what one took back, or out of the book, and another used ------------------------------------


def _withdrawn(sides: Sides) -> Iterator[Disagreement]:
    """What one copy took back and the other goes on from."""
    left = untouched(sides.both)
    booked = {_key(entry) for entry in left if entry.kind in ("bull", "group")}
    targets = {entry.id: entry for entry in sides.both}
    for here, (one, other) in (
        (True, (sides.here, sides.there)),
        (False, (sides.there, sides.here)),
    ):
        used = grouped(
            ((slot, e) for e in other if e.kind != "strike" for slot in _uses(e)),
            lambda pair: pair[0],
        )
        told: set[Slot] = set()
        for strike in one:
            target = targets.get(strike.body["entry"]) if strike.kind == "strike" else None
            for slot in () if target is None else _opens(target):
                if slot in booked or slot in told or slot not in used:
                    continue
                told.add(slot)
                assert target is not None
                uses = [entry for _, entry in used[slot]]
                yield _taken_back(strike, target, uses, here=here)


def _key(entry: Entry) -> Slot:
    if entry.kind == "bull":
        return ("bull", entry.bull)
    return ("group", entry.body["group"])


def _opens(entry: Entry) -> Iterator[Slot]:
    """What others can go on from that this entry says."""
    body = entry.body
    match entry.kind:
        case "bull" | "group":
            yield _key(entry)
        case "feet":
            for item in body.get("findings", ()):
                yield ("finding", entry.bull, item["foot"], item["claw"], item["code"])
        case "block-on":
            yield ("block", entry.bull, body["foot"], body["claw"])


def _uses(entry: Entry) -> Iterator[Slot]:
    """What an entry goes on from."""
    body = entry.body
    if entry.bull and entry.kind != "bull":
        yield ("bull", entry.bull)
    match entry.kind:
        case "join" if body.get("group") is not None:
            yield ("group", body["group"])
        case "feet":
            for item in (*body.get("findings", ()), *body.get("healed", ())):
                yield ("finding", entry.bull, item["foot"], item["claw"], item["code"])
        case "block-off":
            yield ("block", entry.bull, body["foot"], body["claw"])


def _taken_back(strike: Entry, target: Entry, uses: list[Entry], *, here: bool) -> Disagreement:
    one, other = ("here", "there") if here else ("there", "here")
    whose = target.body["group"] if target.kind == "group" else _tag(target)
    what = "booking" if target.kind == "bull" else "group" if target.kind == "group" else ""
    of = f"{whose}: {what} taken back" if what else f"{whose}: {_words(target)} taken back"
    by = f" by {plain(strike.body['by'])}" if strike.body.get("by") else ""
    why = f" ({plain(strike.body['why'])})" if strike.body.get("why") else ""
    text = (
        f"{of} {one} on {full_day_words(strike.day)}{by}{why}, {other} "
        f"{plural(len(uses), 'entry goes', 'entries go')} on from it, the last {_words(uses[-1])}"
    )
    if target.kind == "bull":
        text += ". He is held until he is booked again or those are taken back"
    ids = ([strike], uses) if here else (uses, [strike])
    return _disagreement("taken-back", target, text, *ids)


def _corrected(sides: Sides) -> Iterator[Disagreement]:
    """One entry that both took back and said anew: both stand."""
    targets = {entry.id: entry for entry in sides.both}
    here, there = (_instead(side) for side in (sides.here, sides.there))
    for id_ in here.keys() & there.keys() & targets.keys():
        target, one, other = targets[id_], here[id_], there[id_]
        if [canonical(e.body) for e in one] == [canonical(e.body) for e in other]:
            continue
        said, said_there = (" ".join(map(_words, entries)) for entries in (one, other))
        whose = _tag(target) if target.bull else plain(target.body.get("group", ""))
        text = f"{whose}: {_words(target)} was corrected twice, here {said}, there {said_there}"
        yield _disagreement("corrected", target, f"{text}; both stand", one, other)


def _instead(side: Sequence[Entry]) -> dict[str, list[Entry]]:
    """Id → what was said in the place of that entry, in one batch with its strike."""
    gone = struck_ids(side)
    by_batch = grouped((e for e in side if e.batch), lambda entry: entry.batch)
    found = {}
    for batch in by_batch.values():
        said = [entry for entry in batch if entry.kind != "strike" and entry.id not in gone]
        for strike in (entry for entry in batch if entry.kind == "strike"):
            if said:
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
                f"{_tag(gone)}: {sides_words[0]} {_words(gone)} on {full_day_words(gone.day)}, "
                f"{sides_words[1]} {said}, the last {_words(after[-1])}"
            )
            ids = ([gone], after) if here else (after, [gone])
            yield _disagreement("left", gone, text, *ids)


# ---- words ---------------------------------------------------------------------------------------


def _disagreement(
    what: str, of: Entry, text: str, here: Iterable[Entry], there: Iterable[Entry]
) -> Disagreement:
    bull = _tag(of) if of.bull else None
    ids = (tuple(entry.id for entry in side) for side in (here, there))
    return Disagreement(what, bull, plain(text), *ids)


def _tag(entry: Entry) -> str:
    return plain(str(entry.body.get("bull", "")))


def _words(entry: Entry) -> str:
    return words(entry.body).rstrip(".")


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
