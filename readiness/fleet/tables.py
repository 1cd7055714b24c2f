"""The tables that a fleet's folder holds, a file for each day and farm: how the bulls stand, what
each group has, and what was found on the feet lifted up to the day."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from readiness.book.views import TYPES
from readiness.cover.groups import groups_of_board
from readiness.desk.reading import Reading
from readiness.entries.columns import Column
from readiness.entries.models import Bull, Finding, Group, foot_text
from readiness.entries.tables import BULL
from readiness.export.derived import BOARD, DAYS, ON
from readiness.export.shape import Said, Table, as_in, day, text, whole, word
from readiness.herd.stats.lifts import AGES, age_band, breed_in, foot_lifts
from readiness.herd.stats.results import SKIN
from readiness.report.as_json import as_json, as_line
from readiness.report.as_json import day as iso
from readiness.report.cover_data import group_row
from readiness.trade.ages import birth_in
from readiness.trade.feet import BLOCK_CLAWS
from readiness.trade.females import FEMALES

FARM = text("farm", "The farm, as its book, export or partition is called", required=True)
_SAID_FARM = as_in(Bull, "farm", "The farm that is named in the book")
_SAID_FARM = replace(_SAID_FARM, name="said_farm")
_BREED = as_in(Bull, "breed", "His breed, as it was said")
_AGE = word("age", "His age", AGES, required=True)
_BULLS, _FEMALES = ("bulls", 0, DAYS), ("females", 0, DAYS)


def _board(reading: Reading) -> Said:
    profiles = {state.key: state.profile for state in reading.herd.states}
    for place, bull in enumerate(reading.board.bulls, start=1):
        told, profile = as_json(bull), profiles[bull.key]
        yield {
            **told,
            "bull": reading.tags[bull.key],
            "said_farm": bull.farm,
            "breed": breed_in(profile),
            "age": age_band(birth_in(profile), reading.on),
            "place": place,
            "json": as_line(told),
        }


ASSESSMENTS = Table(
    "assessments",
    "GO or HOLD for each bull on the day",
    f"{BOARD.text} With `json` the farm's `board --json` can be had again, byte for byte.",
    (
        *(ON, FARM, BULL),
        *(_SAID_FARM if of.name == "farm" else of for of in BOARD.columns if of not in (ON, BULL)),
        _BREED,
        _AGE,
        whole("place", "His place on the farm's board, from 1", "place", 1, DAYS, required=True),
        Column("json", "string", "All that `board --json` says of him", required=True),
    ),
    ("on", "farm", "bull"),
    _board,
)


def _groups(reading: Reading) -> Said:
    for group in groups_of_board(reading.herd, reading.board):
        told = group_row(group)
        yield {**told, "said_farm": told["farm"]}


def _chance(name: str, text: str) -> Column:
    return Column(name, "number", text, least=0, most=1)


COVER = Table(
    "cover",
    "What the bulls of each group carry",
    "Groups whose season is over stand here no more. What is out is empty before the season.",
    (
        *(ON, FARM, _SAID_FARM),
        as_in(Group, "group", required=True),
        as_in(Group, "turnout", required=True),
        word("class", "What the females are", FEMALES, required=True),
        as_in(Group, "females"),
        whole("workers", "Bulls in the place of a worker", *_BULLS),
        whole("capacity_go", "What those who are GO carry", *_FEMALES),
        whole("capacity_forecast", "What those carry who can be GO by turnout", *_FEMALES),
        whole("short", "Females that nobody carries by turnout", *_FEMALES),
        day("covered_from", "The first day on which those who are ready carry all"),
        _chance("chance", "That those who last the season carry all"),
        whole("spare_for_90", "More bulls that make that chance 90 %", *_BULLS),
        whole("spare_for_95", "More bulls that make that chance 95 %", *_BULLS),
        whole("short_if_one_fails", "Females that nobody carries then", *_FEMALES),
        day("first_calf", "The first day of calving"),
        day("last_calf", "The last day of calving"),
        day("last_day", "The last day of its season", required=True),
        whole("bulls_out", "Bulls at work", *_BULLS),
        whole("capacity_out", "What they carry", *_FEMALES),
        whole("short_out", "Females that they do not", *_FEMALES),
        _chance("chance_out", "That those of them who last carry all"),
        whole("short_out_if_one_fails", "Females that nobody carries then", *_FEMALES),
        whole("bulls_waiting", "Bulls that are GO and in", *_BULLS),
        whole("capacity_waiting", "What they would carry", *_FEMALES),
    ),
    ("on", "farm", "said_farm", "group"),
    _groups,
)


def _lifted(reading: Reading) -> Said:
    lifts = foot_lifts(reading.shelf.standing, reading.rules, reading.on)
    for number, lift in enumerate(lifts, start=1):
        told = {"lift": number, "bull": reading.tags[lift.bull], "lifted": iso(lift.day)}
        told |= {"foot": lift.foot, "said_farm": lift.farm, "breed": lift.breed, "age": lift.age}
        yield from ({**told, **found._asdict()} for found in sorted(lift.found, key=str))
        if not lift.found:
            yield told


def _numbered(said: Said) -> Iterator[Mapping[str, object]]:
    return ({**row, "line": line} for line, row in enumerate(said, start=1))


FINDINGS = Table(
    "findings",
    "Every foot lifted up to the day, and what was listed on it",
    "A row for each finding of a lift; a foot lifted without one has a row without a code. What "
    "was seen healed is none.",
    (
        *(ON, FARM),
        whole("line", "Row of the farm, from 1", "row", 1, 2**31 - 1, required=True),
        whole("lift", "Foot lifted once, from 1", "lift", 1, 2**31 - 1, required=True),
        BULL,
        day("lifted", "The day of the lift", required=True),
        as_in(Finding, "foot", foot_text("The foot lifted"), required=True),
        replace(_SAID_FARM, text="The farm that he was on that day"),
        _BREED,
        replace(_AGE, text="His age that day"),
        word("claw", "The claw, or the skin of the foot", (*BLOCK_CLAWS, SKIN)),
        as_in(Finding, "code", "What was found"),
        as_in(Finding, "zone", "Where"),
    ),
    ("on", "farm", "line"),
    lambda reading: _numbered(_lifted(reading)),
)

TABLES: tuple[Table, ...] = (ASSESSMENTS, COVER, FINDINGS)


def types_of(table: Table) -> dict[str, str]:
    """Column → the database's type of it."""
    return {column.name: TYPES[column.type] for column in table.columns}
