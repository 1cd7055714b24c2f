"""One awkward book for the golden files: names that try to break a table, a terminal, a sheet."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from functools import cache

from readiness.book.admission import as_entry
from readiness.engine.results import Assessment, Board
from readiness.entries.entry import Entry, entry_order, recorded_text
from readiness.entries.jsonl import read_jsonl
from readiness.herd.board import assess_book
from readiness.herd.card import Card
from readiness.history import history
from readiness.rules.load import load_rules
from tests.cli.small_book import Line, bull, lines, sound

DAY = date(2026, 4, 3).toordinal()
NAMES = {
    "7": '=HYPERLINK("http://example.invalid","x")',
    "8": "-1+1",
    "9": 'Quote " and, comma',
    "10": "[bold]牛牛牛牛牛牛牛牛牛牛牛牛[/bold]",
    "11": "Éabhall of the very long name that will not fit",
}


def awkward_lines() -> list[Line]:
    more: list[Line] = []
    for tag, name in NAMES.items():
        more += [*bull(tag, name, "Late", "Low Sand"), *sound(tag)]
    more.append({"kind": "group", "on": "2026-01-10", "group": "Late", "farm": "Low Sand",
                 "turnout": "2027-01-09"})  # fmt: skip
    return [*lines(), *more]


@cache
def entries() -> tuple[Entry, ...]:
    """The book's entries, in their order, recorded at one fixed moment."""
    data = "\n".join(json.dumps(line) for line in awkward_lines()).encode()
    reading = read_jsonl(data, "awkward.jsonl")
    assert not reading.problems
    recorded = recorded_text(datetime(2026, 4, 3, 7, 30, tzinfo=UTC))
    made = [as_entry(new, recorded, number) for number, new in enumerate(reading.entries)]
    return tuple(sorted(made, key=entry_order))


@cache
def board() -> Board:
    return assess_book(entries(), load_rules(None), DAY)


def named(name: str) -> Assessment:
    return next(bull for bull in board().bulls if bull.name == name)


def working(name: str) -> Assessment:
    """This bull as one who is out and lacks nothing."""
    return named(name)._replace(outlook="working", status="GO", hold=None, overdue=0,
                   turnout=None, reasons=(), outstanding=(), advice=())  # fmt: skip


def card(name: str) -> Card:
    """The card of one bull, put together without a desk."""
    bull = named(name)
    own = [entry for entry in entries() if entry.bull == bull.key]
    rules = load_rules(None).for_farm(bull.farm)
    return Card(bull, history(own, rules, DAY, bull.key), tuple(reversed(own)), rules)
