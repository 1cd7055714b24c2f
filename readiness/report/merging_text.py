"""What a merge brings in, and what disagrees, in words: the same for a look and for the deed."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.desk.merging import ComesIn, Merging
from readiness.report.look import hanging
from readiness.trade.words import full_day_words, list_words, plural

_KINDS = {
    "bull": ("booking", "bookings"),
    "weight": ("weight", "weights"),
    "group": ("saying", "sayings"),
    "join": ("group he goes with", "groups he goes with"),
    "feet": ("lift of feet", "lifts of feet"),
    "block-on": ("block fitted", "blocks fitted"),
    "block-off": ("block taken off", "blocks taken off"),
    "mobility": ("walk", "walks"),
    "condition": ("condition", "conditions"),
    "vet-exam": ("vet's examination", "vet's examinations"),
    "vet-look": ("vet's look", "vet's looks"),
    "body": ("body part", "body parts"),
    "incident": ("incident", "incidents"),
    "treatment": ("treatment", "treatments"),
    "check": ("test", "tests"),
    "moved": ("out or in", "outs and ins"),
    "strike": ("entry taken back", "entries taken back"),
}


def merging_lines(merging: Merging, width: int) -> Iterator[str]:
    """The lines of it, each at most so wide."""
    entries = plural(merging.entries, "entry", "entries")
    verb = "come in" if merging.written else "would come in"
    if not merging.entries:
        yield "Nothing new: all that it says is here already."
    else:
        yield f"{entries} {verb if merging.entries != 1 else verb.replace('come', 'comes')}:"
        for comes_in in merging.comes_in:
            yield from hanging(came_words(comes_in), width)
    if merging.disagreements:
        said = plural(len(merging.disagreements), "disagreement")
        yield f"{said}; nothing is lost, both are kept. Settle it by what is right:"
        for each in merging.disagreements:
            yield from hanging(each.text, width)


def came_words(comes_in: ComesIn) -> str:
    """One bull: how much, of which days, of what."""
    whose = f"{comes_in.bull} {comes_in.name or ''}".strip() if comes_in.bull else ""
    whose = whose or (f"group {comes_in.group}" if comes_in.group else "of nobody here")
    days = full_day_words(comes_in.first)
    if comes_in.last != comes_in.first:
        days = f"{days} to {full_day_words(comes_in.last)}"
    kinds = list_words(plural(each.count, *_KINDS[each.kind]) for each in comes_in.kinds)
    return f"{whose}: {kinds}; {days}"
