"""A farm's entries as a Parquet partition that somebody hands over: bytes that are bent, and entries
that are bent with a digest that fits."""

from __future__ import annotations

import json
import shutil
from functools import cache
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import strategies as st

from readiness.book.parquet import PARTITION, asked, write_parquet
from readiness.fleet.sources import sources
from readiness.fleet.task import Failed, Job, do
from readiness.settings.settings import NONE_SET
from readiness.system.errors import FAULT, DataError
from readiness.trade.tags import tag_key
from tests.fleet.farms import ON, partitions
from tests.hostile.attacks import bent_bytes, bent_object
from tests.hostile.files import File, rows_of
from tests.hostile.readers import Reader
from tests.hostile.watch import Box, Ran


@cache
def valid() -> tuple[bytes, list[dict[str, Any]]]:
    """A partition, and its rows."""
    with TemporaryDirectory() as room:
        (path,) = partitions(Path(room) / "farms", ["A"], bulls=2).rglob("*.parquet")
        columns = ", ".join(f"{name}::VARCHAR" for name in PARTITION)
        found = asked(f"SELECT {columns} FROM read_parquet($path)", {"path": str(path)}, "", "")
        rows = [dict(zip(PARTITION, row, strict=True)) for row in found]
        return path.read_bytes(), rows


@st.composite
def a_partition(draw: st.DrawFn) -> File:
    data, rows = valid()
    if draw(st.integers(0, 3)) == 0:
        return draw(bent_bytes(data)), 1
    at = draw(st.integers(0, len(rows) - 1))
    bent = draw(bent_object(json.loads(rows[at]["body"])))
    body = json.dumps(bent)
    tag = bent.get("bull")
    row = {
        **rows[at],
        "body": body,
        "digest": sha256(body.encode()).hexdigest(),
        "kind": str(bent.get("kind")),
        "bull": tag_key(tag) if isinstance(tag, str) else "",
    }
    kept = [*rows[:at], draw(st.sampled_from((row, bent_row(draw, row)))), *rows[at + 1 :]]
    with TemporaryDirectory() as room:
        path = Path(room) / "entries.parquet"
        types = {**dict.fromkeys(PARTITION, "VARCHAR"), "day": "DATE", "position": "INTEGER"}
        write_parquet(path, types, ([each[name] for name in PARTITION] for each in kept))
        return path.read_bytes(), len(rows)


def bent_row(draw: st.DrawFn, row: dict[str, Any]) -> dict[str, Any]:
    """Without something that every row has."""
    return {**row, draw(st.sampled_from(sorted(PARTITION))): None}


def read(box: Box, file: File) -> Ran:
    farms, out = box.folder / "farms", box.folder / "fleet"
    (farms / "farm=A").mkdir(parents=True)
    out.mkdir()
    (farms / "farm=A" / "entries.parquet").write_bytes(file[0])

    def assessed() -> str:
        (source,) = sources(farms)
        done = do(Job(source, out, ON, None, NONE_SET), None, "")
        if isinstance(done, Failed):
            assert done.code != FAULT, done.why
            raise DataError(done.why)
        return done.farm

    ran = box.ask(assessed)
    shutil.rmtree(farms)
    shutil.rmtree(out)
    return ran


PARTITIONS = (Reader("a farm's partition", 1, a_partition(), read, rows_of),)
