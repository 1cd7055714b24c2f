"""The one place that makes entries, bulls and books for tests. Farms, tags, days are invented.

What is said is a line of a file of entries; unless told otherwise it is said of ``TAG``.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from readiness.book import Book
from readiness.book.shelf import effective
from readiness.engine.results import Assessment, Check
from readiness.entries.entry import Entry, entry_order
from readiness.herd.board import assess_book
from readiness.rules.load import load_rules
from readiness.trade.tags import tag_key

Line = dict[str, Any]

TAG = "B 1"
FEET = ["LF", "RF", "LH", "RH"]
RULES = load_rules(None)


# ---- days ----------------------------------------------------------------------------------------


def day(text: str) -> int:
    return date.fromisoformat(text).toordinal()


def iso(ordinal: int | None) -> str | None:
    return None if ordinal is None else date.fromordinal(ordinal).isoformat()


# ---- what is said --------------------------------------------------------------------------------


def said(kind: str, on: str, tag: str = TAG, /, **fields: Any) -> Line:
    bull = {} if kind == "group" else {"bull": tag}
    return {"kind": kind, "on": on, **bull, **fields}


def booked(tag: str = TAG, on: str = "2025-01-01", **fields: Any) -> Line:
    return said("bull", on, tag, **fields)


def group(turnout: str, name: str = "Hill", on: str = "2025-01-01", **fields: Any) -> Line:
    return said("group", on, group=name, turnout=turnout, **fields)


def join(tag: str = TAG, name: str | None = "Hill", on: str = "2025-01-01", **more: Any) -> Line:
    return said("join", on, tag, group=name, **more)


def grouped(turnout: str | None, *entries: Line) -> list[Line]:
    """The bull, booked, with these entries; in a group of that turnout where one is given."""
    first = [] if turnout is None else [group(turnout, "G")]
    last = [] if turnout is None else [join(name="G")]
    return [*first, booked(), *entries, *last]


def lift(on: str, *feet: str, tag: str = TAG, **fields: Any) -> Line:
    """These feet lifted, or all four."""
    return said("feet", on, tag, lifted=list(feet) or FEET, **fields)


def found(foot: str, claw: str, code: str, zone: int | None = None, **more: Any) -> Line:
    """One finding of a lift."""
    listed = {"foot": foot, "claw": claw, "code": code, **more}
    return listed if zone is None else {**listed, "zone": zone}


def ulcer(severity: int, foot: str = "LH") -> list[Line]:
    return [found(foot, "outer", "SU", 4, severity=severity)]


def walk(on: str, score: int, *, tag: str = TAG, scale: str = "gb0-3", **more: Any) -> Line:
    return said("mobility", on, tag, scale=scale, score=score, **more)


def condition(on: str, score: float, *, tag: str = TAG, scale: str = "five") -> Line:
    return said("condition", on, tag, scale=scale, score=score)


def exam(on: str, outcome: str = "satisfactory", tag: str = TAG, **form: Any) -> Line:
    return said("vet-exam", on, tag, outcome=outcome, **form)


def ready(day: str = "2026-04-28", tag: str = TAG) -> list[Line]:
    """All that a turnout up to 14 days later asks for."""
    return [
        lift("2026-03-20", tag=tag),
        walk(day, 0, tag=tag),
        condition(day, 3.25, tag=tag),
        exam("2026-04-01", tag=tag),
    ]


def sound() -> list[Line]:
    """All that a bull of this book needs to go out in the first days of April 2026."""
    return [
        lift("2026-03-20"),
        walk("2026-03-30", 0),
        condition("2026-03-30", 3),
        exam("2026-03-10"),
    ]


# ---- read and assessed ---------------------------------------------------------------------------


def entries_of(contents: Iterable[Mapping[str, object]]) -> list[Entry]:
    """Entries in the order recorded, as the book would give them: struck ones gone. Each was
    recorded on its own day, unless it says which (``recorded``)."""
    told = [
        Entry(
            day(str(line["on"])),
            f"{line.get('recorded', line['on'])}T00:00:00.000000Z",
            position,
            str(line.get("id") or f"entry-{position}"),
            str(line["kind"]),
            tag_key(str(line.get("bull", ""))),
            line,
        )
        for position, line in enumerate(contents)
    ]
    return effective(sorted(told, key=entry_order))


def standing(book: Book) -> list[Entry]:
    """The entries of a book that stand, in ``entry_order``: neither strikes nor struck ones."""
    return effective(book.snapshot().entries)


def assessed(on: str, *entries: Line, turnout: str | None = None) -> Assessment:
    """The bull on day ``on``, in a group turned out on ``turnout`` where one is given."""
    (bull,) = assess_book(entries_of(grouped(turnout, *entries)), RULES, day(on)).bulls
    return bull


def check(bull: Assessment, name: str) -> Check:
    """The one outstanding check of this name."""
    (found,) = [each for each in bull.outstanding if each.check == name]
    return found


def names(bull: Assessment) -> list[str]:
    return [each.id for each in bull.outstanding]


# ---- books ---------------------------------------------------------------------------------------

_MADE: dict[Hashable, dict[Path, bytes]] = {}


def made_once(folder: Path, what: Hashable, make: Callable[[], object]) -> None:
    """What ``make`` writes into ``folder``. Where the same was made before in this process, the
    files are put there again: a book takes a tenth of a second to make, and none to copy."""
    if what in _MADE:
        for name, data in _MADE[what].items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_bytes(data)
        return
    before = set(folder.rglob("*"))
    make()
    new = [path for path in set(folder.rglob("*")) - before if path.is_file()]
    _MADE[what] = {path.relative_to(folder): path.read_bytes() for path in new}
