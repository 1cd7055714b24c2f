"""A farm of a fleet is answered as its own commands answer it."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any

import duckdb
import pytest

from readiness.fleet.tables import COVER, TABLES
from readiness.report.cover_data import GROUP
from tests.cli.conftest import Run
from tests.fleet.farms import ON, books
from tests.volume import sampled

pytestmark = pytest.mark.usefixtures("alone")
SEEDS = (3, 11)


def fleet(run: Run, folder: Path, out: Path, *more: object) -> Any:
    ran = run("fleet", folder, "--out", out, "--on", ON, "--json", *more)
    assert ran.code == 0, ran.err
    return ran.json()


def rows(out: Path, table: str, columns: str = "*") -> list[dict[str, Any]]:
    """As anybody reads them who knows partitions."""
    files = f"{out}/{table}/*/*/*.parquet"
    found = duckdb.sql(
        f"SELECT {columns} FROM read_parquet('{files}', hive_partitioning = true, "
        "hive_types_autocast = false) ORDER BY ALL"
    )
    assert found is not None
    return [dict(zip(found.columns, row, strict=True)) for row in found.fetchall()]


@pytest.mark.long
@sampled("seeds", [SEEDS, (5, 17, 23), (29, 31, 37)], mark=pytest.mark.at_length)
def test_the_bytes_of_board_json_come_back_from_books_exports_and_partitions(
    run: Run, tmp_path: Path, seeds: tuple[int, ...]
) -> None:
    farms, parts, exports = books(run, tmp_path, seeds), tmp_path / "parts", tmp_path / "exports"
    exports.mkdir()
    assert run("fleet", farms, "--out", parts, "--partitions").code == 0
    for seed in seeds[:2]:  # an export takes a second
        book = farms / f"Farm {seed}.duckdb"
        assert run("export", exports / f"Farm {seed}", "--book", book, "--on", ON).code == 0
    rules = f"Farm {seeds[0]}.toml"
    (exports / rules).write_bytes((farms / rules).read_bytes())
    (parts / rules).write_bytes((farms / rules).read_bytes())
    for folder in (farms, exports, parts):
        out = tmp_path / f"of {folder.name}"
        told = fleet(run, folder, out)
        for farm in told["farms"]:
            board = run("board", "--json", "--book", farms / f"{farm['farm']}.duckdb", "--on", ON)
            assert board.code == 0 and len(board.json()["bulls"]) == farm["bulls"] > 0
            assert run("fleet", "board", out, "--farm", farm["farm"]).out == board.out


def test_rules_that_are_named_hold_for_every_farm(run: Run, tmp_path: Path) -> None:
    farms, own = books(run, tmp_path, SEEDS), tmp_path / "own.toml"
    own.write_text("[rules]\nfeet.oldest = 30\n", encoding="utf-8")
    fleet(run, farms, tmp_path / "out", "--rules", own)
    for seed in SEEDS:
        book = farms / f"Farm {seed}.duckdb"
        board = run("board", "--json", "--book", book, "--on", ON, "--rules", own).out
        assert run("fleet", "board", tmp_path / "out", "--farm", f"farm {seed}").out == board
        assert '"name": "own"' in board


@pytest.mark.long
def test_the_tables_say_what_board_cover_and_stats_say(run: Run, tmp_path: Path) -> None:
    farms, out = books(run, tmp_path, SEEDS), tmp_path / "out"
    fleet(run, farms, out)
    bulls, groups, found = (rows(out, table.name) for table in TABLES)
    for seed in SEEDS:
        farm, asked = f"Farm {seed}", ("--book", farms / f"Farm {seed}.duckdb", "--on", ON)
        board = run("board", "--json", *asked).json()["bulls"]
        mine = {bull["bull"]: bull for bull in bulls if bull["farm"] == farm}
        assert mine.keys() == {bull["bull"] for bull in board} and all(mine)
        for bull in board:
            told = mine[bull["bull"]]
            assert bull == json.loads(told["json"])
            assert (bull["status"], bull["farm"]) == (told["status"], told["said_farm"])
            assert bull["earliest_ready"] == (
                told["earliest_ready"] and str(told["earliest_ready"])
            )
        cover = csv.DictReader(io.StringIO(run("cover", "--csv", *asked).out))
        said = {(group["farm"], group["group"]): group for group in cover}
        his = {(g["said_farm"] or "", g["group"]): g for g in groups if g["farm"] == farm}
        assert said.keys() == his.keys() != set()
        for key, group in his.items():
            assert [text(group[name]) for name in GROUP[2:]] == list(said[key].values())[2:]
        lifted = run("stats", "--json", *asked).json()["lifted"]
        of_farm = [row for row in found if row["farm"] == farm]
        assert len({row["lift"] for row in of_farm}) == lifted["feet"] > 0
        assert len({row["bull"] for row in of_farm}) == lifted["bulls"]


def text(value: object) -> str:
    return "" if value is None else str(value)


def test_cover_has_a_column_for_every_field_of_the_command() -> None:
    said = {column.name for column in COVER.columns}
    assert said == {"on", "said_farm", *GROUP}


def test_every_table_is_as_its_schema_says(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "out"
    fleet(run, books(run, tmp_path, SEEDS), out)
    package = json.loads((out / "datapackage.json").read_text("utf-8"))
    assert [each["name"] for each in package["resources"]] == [table.name for table in TABLES]
    for each in package["resources"]:
        told = rows(out, each["name"])
        assert len(told) > 5 and list(out.glob(each["pattern"]))
        fields = {field["name"]: field.get("constraints", {}) for field in each["schema"]["fields"]}
        assert list(fields) == list(told[0])
        keys = {tuple(row[name] for name in each["schema"]["primaryKey"]) for row in told}
        assert len(keys) == len(told)
        for row in told:
            assert {name for name, of in fields.items() if wrong(row[name], of)} == set()


def wrong(value: Any, of: dict[str, Any]) -> bool:
    if value is None:
        return bool(of.get("required"))
    return (
        value not in of.get("enum", [value])
        or not of.get("minimum", value) <= value <= of.get("maximum", value)
        or len(str(value)) > of.get("maxLength", 1 << 30)
    )
