"""``datapackage.json``: what is in the folder, as a Frictionless Data Package with Table Schemas.

Written to the Data Package and Table Schema specifications, version 1 (specs.frictionlessdata.io);
version 2 (datapackage.org) reads it as well. The member ``readiness`` is our own: what the folder
holds beside the tables, and the mark by which an earlier export is known as ours.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from readiness import __version__
from readiness.entries.columns import Column
from readiness.export.shape import Table
from readiness.report.csv_table import RULE

MANIFEST = "datapackage.json"
OURS = "readiness"
FORMAT = 1
_MOMENT = "%Y-%m-%dT%H:%M:%S.%fZ"

Json = dict[str, Any]


class Written(NamedTuple):
    """One file: its path in the folder, its size, SHA-256 in hex, and how many rows it holds, None
    where it is none of rows."""

    path: str
    bytes: int
    sha256: str
    rows: int | None


def manifest(
    tables: Sequence[Table], files: Mapping[str, Written], about: Mapping[str, Any]
) -> bytes:
    """The manifest's bytes. ``files``: by path; ``about``: day, knowledge, counts."""
    package = {
        "profile": "data-package",
        "name": "readiness-export",
        "title": "A book of readiness: what was seen and done, and how the bulls stand",
        "description": (
            "entries.jsonl is the book itself: `readiness import` makes an equal book of it. The "
            "tables show the entries that stand and what is worked out from them; each is here as "
            f"CSV and as Parquet. In CSV: {RULE} This informs: it is no diagnosis, no certificate "
            "and no legal record, and the vet decides."
        ),
        "resources": [_resource(table, files[csv_path(table)]) for table in tables],
        OURS: {
            "format": FORMAT,
            "version": __version__,
            **about,
            "files": [written._asdict() for written in files.values()],
        },
    }
    return indented(package)


def indented(value: Any) -> bytes:
    """A value as a file of JSON to be read by people, too."""
    return (json.dumps(value, indent=2, ensure_ascii=False) + "\n").encode("utf-8")


def csv_path(table: Table) -> str:
    return f"csv/{table.name}.csv"


def parquet_path(table: Table) -> str:
    return f"parquet/{table.name}.parquet"


def _resource(table: Table, written: Written) -> Json:
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": written.path,
        "title": table.title,
        "description": table.text,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": written.bytes,
        "hash": f"sha256:{written.sha256}",
        "dialect": {"delimiter": ",", "quoteChar": '"', "doubleQuote": True, "header": True},
        "schema": schema(table),
    }


def schema(table: Table) -> Json:
    """The table's Table Schema."""
    said: Json = {
        "fields": [_field(column) for column in table.columns],
        "missingValues": [""],
        "primaryKey": list(table.key),
    }
    if table.refers:
        said["foreignKeys"] = [
            {"fields": [column], "reference": {"resource": other, "fields": [column]}}
            for column, other in table.refers
        ]
    return said


def _field(column: Column) -> Json:
    unit = f" ({column.unit})" if column.unit else ""
    said: Json = {
        "name": column.name,
        "type": column.type,
        "description": f"{column.text}{unit}",
    }
    if column.unit:
        said["unit"] = column.unit
    if column.type == "datetime":
        said["format"] = _MOMENT
    if constraints := {name: to for name, to in _constraints(column).items() if to is not None}:
        said["constraints"] = constraints
    return said


def _constraints(column: Column) -> Json:
    """What Table Schema says of a column's cells, each None where it asks nothing. A guarded text
    is one apostrophe longer."""
    needed = column.required and not (column.null or column.late)
    apostrophe = 1  # that of a guarded text
    return {
        "required": needed or None,
        "enum": list(column.words) or None,
        "minimum": column.least,
        "maximum": column.most,
        "maxLength": None if column.longest is None else column.longest + apostrophe,
    }
