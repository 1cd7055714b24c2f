"""What one copy of a book took back, and the other goes on from or says still. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.book.at_odds import odds_among
from readiness.book.former import key_given
from readiness.book.shelf import untouched
from readiness.desk.sides import Disagreement, Sides, Slot, disagreement, tag_of, words_of
from readiness.entries.entry import Entry
from readiness.system.grouped import grouped
from readiness.system.plain import plain
from readiness.trade.words import full_day_words, plural


def withdrawn(sides: Sides) -> Iterator[Disagreement]:
    """What one copy took back and the other goes on from."""
    left = untouched(sides.both)
    booked = {_key(entry) for entry in left if entry.kind in ("bull", "group")}
    targets = {entry.id: entry for entry in sides.both}
    two_tags = odds_among(sides.both).two_tags
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
                assert target is not None
                held = two_tags.get(target.bull) or two_tags.get(key_given(strike))
                if (slot in booked and not held) or slot in told or slot not in used:
                    continue
                told.add(slot)
                uses = [entry for _, entry in used[slot]]
                yield _taken_back(strike, target, uses, held or _UNBOOKED, here=here)


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


_UNBOOKED = "held until he is booked again or those are taken back"


def _taken_back(
    strike: Entry, target: Entry, uses: list[Entry], held: str, *, here: bool
) -> Disagreement:
    one, other = ("here", "there") if here else ("there", "here")
    whose = target.body["group"] if target.kind == "group" else tag_of(target)
    what = "booking" if target.kind == "bull" else "group" if target.kind == "group" else ""
    of = f"{whose}: {what} taken back" if what else f"{whose}: {words_of(target)} taken back"
    text = (
        f"{of} {one} on {_when_and_why(strike)}, {other} "
        f"{plural(len(uses), 'entry goes', 'entries go')} on from it, the last {words_of(uses[-1])}"
    )
    if target.kind == "bull":
        text += f". He is {held}"
    ids = ([strike], uses) if here else (uses, [strike])
    return disagreement("taken-back", target, text, *ids)


def said_still(sides: Sides) -> Iterator[Disagreement]:
    """What one copy took back, and in whose place the other says something still."""
    mine, yours = ({entry.id for entry in side} for side in (sides.here, sides.there))
    for said, strike in odds_among(sides.both).denied:
        for here, (one, other) in ((True, (mine, yours)), (False, (yours, mine))):
            if said.id not in one or strike.id not in other:
                continue
            words_here, words_there = ("here", "there") if here else ("there", "here")
            text = (
                f"{tag_of(said)}: {words_of(said)} of {full_day_words(said.day)} is said "
                f"{words_here} still, {words_there} it was taken back on {_when_and_why(strike)}. "
                f"He is held until {said.id} is taken back; if it is right, say it anew after that"
            )
            ids = ([said], [strike]) if here else ([strike], [said])
            yield disagreement("taken-back", said, text, *ids)


def _when_and_why(strike: Entry) -> str:
    by = f" by {plain(strike.body['by'])}" if strike.body.get("by") else ""
    why = f" ({plain(strike.body['why'])})" if strike.body.get("why") else ""
    return f"{full_day_words(strike.day)}{by}{why}"
