"""The tables, held to the Table Schema they come with, to the entries, and to each other.

Reference: Data Package and Table Schema v1 (specs.frictionlessdata.io), read by the reference
library ``frictionless``; RFC 4180 for CSV; Parquet as DuckDB reads it.
"""

from __future__ import annotations

import json
import shutil
import warnings
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Any

import duckdb
import pytest
from hypothesis import given
from hypothesis import strategies as st

from readiness.entries import models
from readiness.entries.columns import Column, columns_of
from readiness.entries.validate import validate
from readiness.export.package import schema
from readiness.export.shape import Table
from readiness.export.tables import SAID, STRIKES, TABLES
from readiness.report.csv_table import BEGINS, guarded
from tests.entries.samples import FULL
from tests.export.conftest import Made, Run
from tests.export.farm import DAY, HOSTILE, csv_rows, standing, unguarded

# Table → the kinds of its entries and the list in them, as the tables name them.
LISTS = {
    "findings": "findings", "healed": "healed", "work": "work", "measures": "measures",
    "vet_examined": "examined",
}  # fmt: skip
KINDS = {
    "bookings": ("bull",), "group_said": ("group",), "memberships": ("join",),
    "mobility": ("mobility",), "condition": ("condition",), "weights": ("weight",),
    "vet_exams": ("vet-exam",), "vet_looks": ("vet-look",), "body": ("body",),
    "incidents": ("incident",),
    "treatments": ("treatment",), "checks": ("check",), "moves": ("moved",),
    "blocks": ("block-on", "block-off"),
}  # fmt: skip


def problems(folder: Path) -> set[tuple[str, str]]:
    """What the reference library finds wrong with a package: (table, kind of error)."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of the library's own dependencies
        from frictionless import Package

        report = Package(str(folder / "datapackage.json")).validate()
    return {(task.name, error.type) for task in report.tasks for error in task.errors}


def test_the_package_holds_to_its_own_schemas(made: Made) -> None:
    """Types, constraints, keys and references of every row of every table, sizes and hashes."""
    assert problems(made.folder) == set()
    package = json.loads((made.folder / "datapackage.json").read_bytes())
    assert [resource["name"] for resource in package["resources"]] == [t.name for t in TABLES]
    assert all(csv_rows(made.folder, table.name) for table in TABLES)  # none was judged empty


def test_what_breaks_a_schema_is_found(made: Made, tmp_path: Path) -> None:
    """So the judgement above can fail: another claw, another bull, a word for a number, a byte."""
    spoilt = shutil.copytree(made.folder, tmp_path / "spoilt")
    changed = {
        "findings": (",outer,", ",third,"),
        "weights": (",00777,980.5,", ",99999,980.5,"),
        "condition": (",five,3.25,", ",five,fat,"),
        "moves": ("sold", "died"),
    }
    for table, (old, new) in changed.items():
        path = spoilt / "csv" / f"{table}.csv"
        text = path.read_bytes()
        assert old.encode() in text
        path.write_bytes(text.replace(old.encode(), new.encode(), 1))
    package = json.loads((spoilt / "datapackage.json").read_bytes())
    package["resources"] = [r for r in package["resources"] if r["name"] in (*changed, "bulls")]
    for resource in package["resources"]:
        if resource["name"] != "moves":
            del resource["bytes"], resource["hash"]  # else that is all that is said
    (spoilt / "datapackage.json").write_text(json.dumps(package))
    assert problems(spoilt) == {
        ("findings", "constraint-error"),
        ("weights", "foreign-key"),
        ("condition", "type-error"),
        ("moves", "hash-count"),
    }


def said_rows(entries: list[dict[str, Any]], table: str) -> Iterator[dict[str, Any]]:
    """What a table has to hold, made from the entries in the plainest way."""
    for entry in entries:
        head = {**entry, "entry": entry["id"]}
        if table == "lifts" and entry["kind"] == "feet":
            tried = [(foot, "lifted") for foot in entry["lifted"]]
            tried += [(foot, "refused") for foot in entry.get("refused", [])]
            for line, (foot, outcome) in enumerate(tried, start=1):
                yield {**head, "line": line, "foot": foot, "outcome": outcome}
        elif table in LISTS:
            for line, item in enumerate(entry.get(LISTS[table], []), start=1):
                yield {**head, **item, "line": line}
        elif entry["kind"] in KINDS.get(table, ()):
            more = {"act": entry["kind"][6:]} if table == "blocks" else {}
            if table == "group_said":
                gone = [
                    name for name in ("weeks", "females", "class") if entry.get(name, 0) is None
                ]
                more = {"taken_away": " ".join(gone)}
            yield {**head, **more}


def as_cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


@pytest.mark.parametrize("table", SAID, ids=lambda table: table.name)
def test_csv_says_what_the_entries_say(made: Made, table: Table) -> None:
    columns = [column.name for column in table.columns]
    rows = csv_rows(made.folder, table.name)
    found = [{name: unguarded(row[name]) for name in columns} for row in rows]
    wanted = [
        {name: as_cell(row.get(name)) for name in columns}
        for row in said_rows(standing(made.folder), table.name)
    ]
    assert found == wanted
    assert wanted


@pytest.mark.parametrize("kind", sorted(models.KINDS))
def test_every_field_of_every_kind_has_a_column(kind: str) -> None:
    """A field that is added to an entry is not forgotten here."""
    columns = {column.name for table in TABLES for column in table.columns}
    renamed = {"entry": "struck", "lifted": "outcome", "refused": "outcome"}
    fields = columns_of(models.KINDS[kind])
    known = set(fields)
    for key in known & {*LISTS.values()}:
        known |= columns_of(fields[key].item).keys()
    left_out = {"kind", "id", "position", "batch", "device", "who", *LISTS.values()}
    assert {renamed.get(name, name) for name in known - left_out} <= columns


def typed(cell: str, kind: str) -> object:
    """A cell by the type that its schema gives it."""
    if cell == "":
        return None
    if kind == "string":
        return unguarded(cell)
    if kind == "datetime":
        return datetime.strptime(cell, "%Y-%m-%dT%H:%M:%S.%fZ")
    take = {"date": date.fromisoformat, "integer": int, "number": float,
            "boolean": {"true": True, "false": False}.__getitem__}[kind]  # fmt: skip
    return take(cell)  # type: ignore[operator]


def test_parquet_holds_the_same_rows_typed(made: Made) -> None:
    types = {"string": "VARCHAR", "integer": "INTEGER", "number": "DOUBLE", "boolean": "BOOLEAN",
             "date": "DATE", "datetime": "TIMESTAMP"}  # fmt: skip
    with duckdb.connect() as con:
        for table in TABLES:
            path = made.folder / "parquet" / f"{table.name}.parquet"
            read = con.execute("SELECT * FROM read_parquet(?)", [str(path)])
            head = [(name, str(kind)) for name, kind, *_ in read.description or ()]
            assert head == [(column.name, types[column.type]) for column in table.columns]
            wanted = [
                tuple(typed(row[column.name], column.type) for column in table.columns)
                for row in csv_rows(made.folder, table.name)
            ]
            assert read.fetchall() == wanted


def test_what_null_takes_away_or_an_older_book_lacks_may_be_empty() -> None:
    """A bull out of every group; a look from before a vet's word was asked for."""
    schemas = {table.name: schema(table)["fields"] for table in SAID}
    for table, name in (("memberships", "group"), ("vet_looks", "outcome")):
        (field,) = [field for field in schemas[table] if field["name"] == name]
        assert "required" not in field["constraints"]


def test_the_books_views_show_the_same_tables(made: Made) -> None:
    """Same names, columns, types and rows; a view has no order of its own."""
    with duckdb.connect(str(made.book), read_only=True) as con:
        for table in (*SAID, STRIKES):
            path = made.folder / "parquet" / f"{table.name}.parquet"
            view = con.execute(f'FROM "{table.name}" ORDER BY ALL')
            head = [(name, str(kind)) for name, kind, *_ in view.description or ()]
            shown = view.fetchall()
            file = con.execute("FROM read_parquet(?) ORDER BY ALL", [str(path)])
            assert head == [(name, str(kind)) for name, kind, *_ in file.description or ()]
            assert shown == file.fetchall() != []


def test_csv_is_rfc_4180(made: Made) -> None:
    """CRLF after every record and nowhere else, UTF-8 without a mark, one width, no control."""
    for path in sorted((made.folder / "csv").iterdir()):
        text = path.read_bytes().decode("utf-8")
        assert text.endswith("\r\n") and not text.startswith("\ufeff")
        assert text.count("\r") == text.count("\n") == text.count("\r\n")
        assert all(character.isprintable() for character in text.replace("\r\n", ""))


def test_the_board_is_the_boards(made: Made, run: Run) -> None:
    """Derived tables say what `board --json` says on that day, with every farm's name."""
    board = run("board", "--json", "--on", DAY, "--book", made.book).json()["bulls"]
    rows = csv_rows(made.folder, "board")
    keys = ("bull", "name", "farm", "group", "status", "hold", "outlook", "slack_days", "overdue")
    assert [{key: unguarded(row[key]) for key in keys} for row in rows] == [
        {key: as_cell(bull[key]) for key in keys} for bull in board
    ]
    for table, part in (("outstanding", "outstanding"), ("reasons", "reasons"),
                        ("advice", "advice")):  # fmt: skip
        found = [(unguarded(row["bull"]), row["rule"], unguarded(row["text"]))
                 for row in csv_rows(made.folder, table)]  # fmt: skip
        said = [(bull["bull"], item["rule"], item["text"]) for bull in board for item in bull[part]]
        assert found == said and said


def test_a_group_has_one_row_as_it_stands_and_its_history_another_table(made: Made) -> None:
    """Hill cows: said four times up to the day and once after it; the last but one moves turnout
    alone. A season that is not said is of 12 weeks, by the rules as they come."""
    rows = {(row["farm"], unguarded(row["group"])): row for row in csv_rows(made.folder, "groups")}
    assert len(rows) == len(csv_rows(made.folder, "groups"))
    keys = ("on", "turnout", "weeks", "females", "class", "last_day")
    hill = rows["Sallow Fell", "Hill cows"]
    assert [hill[key] for key in keys] == [
        DAY, "2026-05-15", "9", "", "cows", "2026-07-17",
    ]  # fmt: skip
    late = rows["'-Low Sand", "=Late"]
    assert [late[key] for key in keys] == [DAY, "2026-05-09", "", "", "cows", "2026-08-01"]
    said = [row for row in csv_rows(made.folder, "group_said") if row["group"] == "Hill cows"]
    told = ("turnout", "weeks", "females", "class", "taken_away")
    assert [[row[key] for key in told] for row in said] == [
        ["2026-05-08", "", "", "", ""],
        ["2026-05-08", "9", "60", "heifers", ""],
        ["2026-05-08", "", "", "", "females class"],
        ["2026-05-15", "", "", "", ""],
        ["2026-06-01", "", "", "", "weeks"],
    ]
    assert hill["changed"] == said[3]["recorded"]


def test_open_findings_and_blocks_are_the_bulls(made: Made, run: Run) -> None:
    card = run("bull", "00093", "--json", "--on", DAY, "--book", made.book).json()
    (found,) = [row for row in csv_rows(made.folder, "open_findings") if row["bull"] == "00093"]
    (wanted,) = card["open_findings"]
    for key in ("foot", "claw", "code", "severity", "zone", "holds", "first", "plausible"):
        assert found[key] == as_cell(wanted[key])
    (block,) = [row for row in csv_rows(made.folder, "open_blocks") if row["bull"] == "00093"]
    assert (block["claw"], block["fitted"]) == ("outer", "2026-03-04")


def test_every_bull_is_among_the_bulls(made: Made) -> None:
    """Also those that left; the farm by its name."""
    bulls = {unguarded(row["bull"]): row for row in csv_rows(made.folder, "bulls")}
    assert set(HOSTILE) < set(bulls)
    assert bulls["00601"]["place"] == bulls["00602"]["place"] == "left"
    assert bulls["00502"]["place"] == "out" and bulls["00288"]["place"] == "here"
    assert unguarded(bulls["34"]["farm"]) == "-Low Sand"


@given(st.text())
def test_the_guard_takes_nothing_away(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert guarded(text)[:1] not in set(BEGINS) - {"'"}


def test_no_cell_begins_like_a_formula(made: Made) -> None:
    """OWASP, CSV Injection; numbers and days of ours are none."""
    seen = 0
    for table in TABLES:
        texts = [column.name for column in table.columns if column.type == "string"]
        for row in csv_rows(made.folder, table.name):
            assert not [row[name] for name in texts if row[name].startswith(tuple("=+-@＝＋－＠"))]
            seen += sum(row[name].startswith("'") for name in texts)
    assert seen > 50


def beyond(column: Column) -> Iterator[object]:
    """Just outside what the schema allows."""
    if column.least is not None:
        yield column.least - 1
    if column.most is not None:
        yield column.most + 1
    if column.words:
        yield "quite another word"
    if column.longest is not None:
        yield "x" * (column.longest + 1)


FIELDS = [
    (table.name, column)
    for table in SAID
    for column in table.columns
    if column.name not in ("entry", "line", "on", "recorded", "outcome")
    and column.name != "taken_away"  # in the entry these are null
    # A foot of a lift is named otherwise in the entry, and a block's act is its kind.
    and (table.name, column.name) not in (("lifts", "foot"), ("blocks", "act"))
]


@pytest.mark.parametrize(("table", "column"), FIELDS, ids=lambda v: getattr(v, "name", v))
def test_a_schema_allows_what_an_entry_may_say_and_no_more(table: str, column: Column) -> None:
    """The ranges and words of the schema are those of the entries' own validation."""
    for value in beyond(column):
        checked, wrong = validate(with_value(table, column.name, value))
        assert checked is None and any(column.name in problem.field for problem in wrong)
    for value in (column.least, column.most, *column.words):
        if value is not None:
            _, wrong = validate(with_value(table, column.name, value))
            said = [problem.text for problem in wrong if column.name in problem.field]
            assert not any("range" in text or "not known" in text for text in said)


def with_value(table: str, name: str, value: object) -> dict[str, Any]:
    """A full entry of the table's kind that says this."""
    if table in (*LISTS, "lifts"):
        sample = dict(FULL["vet-exam" if table == "vet_examined" else "feet"])
        if name in ("by", "note", "bull"):
            return {**sample, name: value}
        item = {**sample[LISTS[table]][0], name: value}
        return {**sample, LISTS[table]: [item]}
    return {**FULL[KINDS[table][-1]], name: value}
