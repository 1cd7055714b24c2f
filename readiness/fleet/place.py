"""The folder that a fleet is written into, and what it holds.

``assessments``, ``cover`` and ``findings``, each with ``on=DAY/farm=NAME/*.parquet``; of each day
and farm a receipt in ``done``, written last: what has none, or another than it should, is not
there. Or, of a fleet of entries, ``farm=NAME/entries.parquet``. ``datapackage.json`` says what the
tables are, and marks the folder as ours.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from readiness import __version__
from readiness.export.folder import Folder
from readiness.export.package import FORMAT, MANIFEST, OURS, indented, schema
from readiness.fleet.sources import farm_folder
from readiness.fleet.tables import TABLES
from readiness.system.errors import CannotWrite, DataError, NotFound, ReadinessError
from readiness.system.files import (
    bytes_of,
    make_room,
    not_written,
    reason,
    sync_folder,
    write_whole,
)
from readiness.system.leftovers import draft_folder
from readiness.system.limits import RECEIPT_MOST, SMALL_MOST

DONE = "done"
ASSESSED, ENTRIES = "assessed", "entries"
"""What a folder is of: farms assessed, or their entries as partitions."""


class Receipt(NamedTuple):
    """That a farm is done. ``digest``: of what it was done from. ``head``: its ``board --json`` up
    to the first bull. ``files``: path in the folder → bytes."""

    digest: str
    farm: str
    on: str | None
    entries: int
    bulls: int
    go: int
    head: str
    files: Mapping[str, int]


def receipt_path(out: Path, farm: str, on: date | None) -> Path:
    day = (f"on={on}",) if on else ()
    return Path(out, DONE, *day, f"{farm_folder(farm)}.json")


def file_path(table: str, farm: str, on: date) -> str:
    """Where a table of a day and farm stands in the folder."""
    return f"{table}/on={on}/{farm_folder(farm)}/{table}.parquet"


def read_receipt(path: Path) -> Receipt | None:
    """None where there is none, or one that no program of this version wrote."""
    try:
        told = json.loads(bytes_of(path, RECEIPT_MOST))
        return Receipt(**told)
    except (ReadinessError, ValueError, TypeError, RecursionError):
        return None


def is_done(out: Path, farm: str, on: date | None, digest: str) -> Receipt | None:
    """The receipt of what was done from the same, where all that it tells of is still there."""
    found = read_receipt(receipt_path(out, farm, on))
    if found is None or found.digest != digest:
        return None
    with suppress(OSError):
        if all((out / path).stat().st_size == size for path, size in found.files.items()):
            return found
    return None


def put(out: Path, on: date | None, made: Callable[[Folder], Receipt]) -> Receipt:
    """Write what ``made`` writes into a draft, each file under its name then, and the receipt last.

    Raises CannotWrite; then of this day and farm nothing half-written stands there: what stood
    before is whole, or has no receipt any more.
    """
    try:
        with draft_folder(out) as draft:
            folder = Folder(draft)
            told = made(folder)
            told = told._replace(files={path: of.bytes for path, of in folder.files.items()})
            receipt = receipt_path(out, told.farm, on)
            receipt.unlink(missing_ok=True)  # the files beneath it are exchanged one by one
            for path in folder.files:
                make_room((out / path).parent)
                os.replace(draft / path, out / path)
                sync_folder((out / path).parent)
            make_room(receipt.parent)
            write_whole(receipt, json.dumps(told._asdict()).encode())
            return told
    except OSError as problem:
        raise not_written(problem)(
            f"{out} cannot be written: {reason(problem)}. See to the disk or the permission, then "
            "run it again: what is done is kept."
        ) from problem


# ---- the folder as a whole -----------------------------------------------------------------------


def refuse_place(out: Path, what: str, source: Path) -> None:
    """Raise CannotWrite where the folder and the farms' own lie in each other or it is none,
    DataError where it holds something else."""
    place, given = Path(os.path.realpath(out)), Path(os.path.realpath(source))
    if place == given or given in place.parents or place in given.parents:
        raise CannotWrite(
            f"{out} and {source} lie in each other, and the farms are only read. Name an --out "
            "elsewhere."
        )
    if out.is_dir():
        refuse_other(out, what)
    elif os.path.lexists(out):
        raise CannotWrite(f"{out} is no folder. Name a new folder, or one of an earlier run.")


def claim(out: Path, what: str) -> None:
    """Make the folder, or take up one of before. Raises CannotWrite."""
    make_room(out)
    if not (out / MANIFEST).exists():
        write_manifest(out, what)


def refuse_other(out: Path, what: str) -> None:
    """Raise DataError where the folder holds anything but what a run of this kind wrote."""
    try:
        names = {path.name for path in out.iterdir() if not path.name.startswith(".readiness-")}
    except OSError as problem:
        raise CannotWrite(f"{out} cannot be looked into: {reason(problem)}.") from problem
    ours = {MANIFEST, DONE, *(table.name for table in TABLES)}
    strange = sorted(n for n in names - ours if what == ASSESSED or not n.startswith("farm="))
    known = _what(out) if names else what
    if known != what or strange:
        other = f", as {strange[0]}" if strange else ""
        raise DataError(
            f"{out} holds something that no such run of fleet wrote{other}. Nothing was written: "
            "name a new folder, or one of an earlier run."
        )


def _what(out: Path) -> str | None:
    """What kind of run wrote this folder; None for none."""
    try:
        found = json.loads(bytes_of(out / MANIFEST, SMALL_MOST))[OURS]
        return str(found["fleet"]) if found["format"] == FORMAT else None
    except (ReadinessError, ValueError, LookupError, TypeError, RecursionError):
        return None


def write_manifest(out: Path, what: str) -> None:
    """``datapackage.json``: each table with its Table Schema. Where its files stand says
    ``pattern``: one path cannot name them all."""
    tables = [
        {
            "name": table.name,
            "title": table.title,
            "description": table.text,
            "path": f"{table.name}/",
            "pattern": f"{table.name}/on=*/farm=*/{table.name}.parquet",
            "format": "parquet",
            "mediatype": "application/vnd.apache.parquet",
            "schema": schema(table),
        }
        for table in TABLES
        if what == ASSESSED
    ]
    told: dict[str, Any] = {
        "name": "readiness-fleet",
        "title": "Farms of readiness, each worked out by itself",
        "description": "This informs: it is no diagnosis, no certificate and no legal record, and "
        "the vet decides.",
        "resources": tables,
        OURS: {"format": FORMAT, "fleet": what, "version": __version__},
    }
    write_whole(out / MANIFEST, indented(told))


def receipts(out: Path, upto: date | None = None) -> Iterator[Receipt]:
    """Every receipt of a folder of farms assessed, day by day up to one. Raises NotFound where
    there is none, DataError where the folder is none of ours."""
    if not out.is_dir():
        raise NotFound(f"There is no folder {out}. Give the --out of `readiness fleet DIR`.")
    refuse_other(out, ASSESSED)
    found = False
    for path in sorted((out / DONE).glob("on=*/farm=*.json")):
        receipt = read_receipt(path)
        if receipt and receipt.on and (upto is None or receipt.on <= upto.isoformat()):
            found = True
            yield receipt
    if not found:
        until = f" up to {upto}" if upto else ""
        raise NotFound(f"No farm is done in {out}{until}. Run `readiness fleet DIR --out {out}`.")
