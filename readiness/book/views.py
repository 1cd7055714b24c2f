"""Typed views: the tables of what was said, as the export has them, for anyone with DuckDB.

Each shows the entries that stand (struck ones left out), with the fields of its kind as columns.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from readiness.entries.columns import Column
    from readiness.entries.tables import EntryTable

TYPES = {
    "string": "VARCHAR",
    "integer": "INTEGER",
    "number": "DOUBLE",
    "boolean": "BOOLEAN",
    "date": "DATE",
    "datetime": "TIMESTAMP",
}
"""The type of a column → the type that DuckDB, and with it Parquet, gives it."""

# Structs compare field by field: the least is the earliest, the same one in every copy of the book.
_FIRST_RECEIPT = """
    SELECT id, first.* EXCLUDE (nameless) FROM (
        SELECT id, min(
            struct_pack(recorded, position, batch, device, nameless := who = '', who)
        ) AS first
        FROM receipt GROUP BY id
    )
"""

# What was put out again is in no view; an entry that came back is in them again.
WITHHELD = "SELECT id FROM taken_in GROUP BY id HAVING NOT arg_max(here, rowid)"

_TOLD = "SELECT entry.* FROM entry ANTI JOIN withheld USING (id)"

_TAKEN_BACK = "SELECT DISTINCT body->>'$.entry' AS id FROM told WHERE kind = 'strike'"

# Bulls that are spoken of though no booking of them stands: those that were taken back stand then.
_UNBOOKED = """
    SELECT bull FROM told ANTI JOIN taken_back USING (id) WHERE kind <> 'strike' AND bull <> ''
    GROUP BY bull HAVING NOT bool_or(kind = 'bull')
"""

# Entry → what was taken back and is said anew by it, as `anew.py` has it.
_SAID_ANEW = """
    WITH strike AS (
        SELECT *, body->>'$.entry' AS target, body->>'$.why' AS why
        FROM told JOIN first_receipt USING (id) WHERE kind = 'strike'
    ),
    again AS (
        SELECT target, sha1(unhex('{again}') || encode(id)) AS hex FROM strike
    ),
    instead AS (
        SELECT batch, list(target ORDER BY position) AS targets FROM strike
        WHERE why IN {instead} OR starts_with(why, '{why}')
        GROUP BY batch HAVING max(position) = count(*) - 1
    ),
    found AS (
        SELECT
            concat_ws('-', hex[1:8], hex[9:12], '5' || hex[14:16],
                '89ab89ab89ab89ab'[instr('0123456789abcdef', hex[17])] || hex[18:20], hex[21:32]
            ) AS id, target, 0 AS rank
        FROM again
        UNION ALL
        SELECT told.id, targets[least(position + 1 - len(targets), len(targets))], 1
        FROM told JOIN first_receipt USING (id) JOIN instead USING (batch)
        WHERE kind <> 'strike' AND position >= len(targets)
    )
    SELECT id, arg_min(target, rank) AS target FROM found SEMI JOIN told USING (id)
    WHERE target IN (SELECT id FROM told) GROUP BY id
"""

# Entry → where it counts within its day: where what it stands for did, then where it was written.
_PLACES = """
    WITH RECURSIVE place(id, target, path) AS (
        SELECT id, id, [struct_pack(recorded, position, id)] FROM first_receipt
        UNION ALL
        SELECT
            place.id, next.target,
            list_prepend(struct_pack(receipt.recorded, receipt.position, receipt.id), path)
        FROM place JOIN said_anew AS next ON next.id = place.target
        JOIN first_receipt AS receipt ON receipt.id = next.target
        WHERE NOT list_contains([each.id for each in path], next.target)
    )
    SELECT id, arg_max(path, len(path)) AS path FROM place GROUP BY id
"""

_EFFECTIVE = """
    SELECT
        entry.id, entry.kind, entry.day, entry.bull, entry.body->>'$.bull' AS tag,
        entry.body->>'$.by' AS said_by, entry.body->>'$.note' AS note,
        receipt.recorded, receipt.position, receipt.batch, receipt.device, receipt.who, entry.body,
        struct_pack(day := entry.day, path := places.path) AS place
    FROM told AS entry JOIN first_receipt AS receipt USING (id) JOIN places USING (id)
    LEFT JOIN taken_back ON taken_back.id = entry.id
    LEFT JOIN unbooked ON unbooked.bull = entry.bull
    WHERE entry.kind <> 'strike' AND (
        taken_back.id IS NULL OR (entry.kind = 'bull' AND unbooked.bull IS NOT NULL)
    )
"""

_STRIKES = """
    SELECT
        strike.*, receipt.recorded, strike.body->>'$.entry' AS struck, target.kind AS struck_kind
    FROM told AS strike JOIN first_receipt AS receipt USING (id)
    LEFT JOIN told AS target ON target.id = strike.body->>'$.entry'
    WHERE strike.kind = 'strike'
"""

# Look-up key → the bull's tag as he was booked last, else as he was spoken of.
_TAGS = """
    SELECT
        bull AS key,
        coalesce(arg_max(tag, place) FILTER (kind = 'bull'), arg_max(tag, place)) AS tag
    FROM effective WHERE bull <> '' GROUP BY bull
"""

# A group as all that is said of it makes it: of each field what was last said, which may be null.
# Copies may have spelt it each in their way: then it goes by what was said first.
_GROUPS = """
    SELECT
        arg_min(body->>'$.group', place) AS "group", body->>'$.farm' AS farm,
        CAST(arg_max(body->>'$.turnout', place) AS DATE) AS turnout,
        CAST(arg_max(body->'$.weeks', place)->>'$' AS INTEGER) AS weeks,
        CAST(arg_max(body->'$.females', place)->>'$' AS INTEGER) AS females,
        coalesce(arg_max(body->'$.class', place)->>'$', 'cows') AS "class",
        CAST(max(recorded) AS TIMESTAMP) AS changed
    FROM effective WHERE kind = 'group'
    GROUP BY farm, lower(regexp_replace(trim(body->>'$.group'), '\\s+', ' ', 'g'))
"""

VIEWS_VERSION = 7
"""To be counted up whenever a view changes, so that the books of before get it too."""


@cache
def views() -> dict[str, str]:
    """Name → query, in the order in which they can be made; the version that a book has stands in
    one of them. Made only where a book gets its views: reading one needs no entry's fields."""
    from readiness.book.anew import INSTEAD
    from readiness.entries.entry import ANOTHER_TAG
    from readiness.entries.ids import AGAIN
    from readiness.entries.tables import STRIKE_COLUMNS, TABLES

    return {
        "view_version": f"SELECT {VIEWS_VERSION} AS version",
        "first_receipt": _FIRST_RECEIPT,
        "withheld": WITHHELD,
        "told": _TOLD,
        "taken_back": _TAKEN_BACK,
        "unbooked": _UNBOOKED,
        "said_anew": _SAID_ANEW.format(again=AGAIN.hex, instead=INSTEAD, why=ANOTHER_TAG),
        "places": _PLACES,
        "effective": _EFFECTIVE,
        "tags": _TAGS,
        **{table.name: _query(table) for table in TABLES},
        "strikes": _select(STRIKE_COLUMNS, _STRIKES, {n: n for n in ("struck", "struck_kind")}),
        "groups": _GROUPS,
    }


def _query(table: EntryTable) -> str:
    kinds = ", ".join(f"'{kind}'" for kind in table.kinds)
    rows = (
        "SELECT effective.*, tags.tag AS booked FROM effective LEFT JOIN tags ON key = bull "
        f"WHERE kind IN ({kinds})"
    )
    values = {"bull": "booked", "taken_away": _taken_away(table.may_be_taken_away)}
    if table.told:
        values[table.told.name] = "split_part(kind, '-', -1)"
    if table.lists:
        items = " || ".join(_items(table, name) for name in table.lists)
        rows = (
            "SELECT *, unnest(items) AS item, generate_subscripts(items, 1) AS line "
            f"FROM (SELECT *, {items} AS items FROM ({rows}))"
        )
        values |= {"line": "line"} | {c.name: _said("item", c) for c in table.own}
    return _select(table.columns, rows, values)


def _items(table: EntryTable, name: str) -> str:
    """The items of one list, as JSON objects: a plain word as one of its own."""
    items = f"coalesce(CAST(body->'$.{name}' AS JSON[]), [])"
    if not (table.item and table.told):
        return items
    made = f"json_object('{table.item}', word, '{table.told.name}', '{name}')"
    return f"list_transform({items}, lambda word: {made})"


def _taken_away(fields: list[str]) -> str:
    """What is null is NULL, as what is not said: so that it is taken away is told by name."""
    null = (f"CASE json_type(body, '$.{name}') WHEN 'NULL' THEN '{name}' END" for name in fields)
    return f"nullif(concat_ws(' ', {', '.join(null)}), '')"


def _select(columns: tuple[Column, ...], rows: str, values: dict[str, str]) -> str:
    """The columns of some entries; ``values``: those that stand elsewhere than in the body."""
    values = {"entry": "id", "on": "day", "recorded": "recorded", **values}
    texts = [values.get(column.name) or _said("body", column) for column in columns]
    said = (
        f'CAST({text} AS {TYPES[column.type]}) AS "{column.name}"'
        for text, column in zip(texts, columns, strict=True)
    )
    return f"SELECT {', '.join(said)} FROM ({rows})"


def _said(source: str, column: Column) -> str:
    return f"{source}->>'$.{column.name}'"
