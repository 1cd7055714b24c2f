"""A fleet run again: what is done is skipped, what changed is done anew, and what went wrong on the
way never counts."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import duckdb
import pytest

from readiness import fleet as room
from readiness.fleet import task
from readiness.report.schemas.results import schema_of
from tests.cli.conftest import Run
from tests.faults.processes import HOLD, pipe, start
from tests.fleet.farms import NAMES, ON, books, partitions
from tests.promises.test_schemas import holds, places, reached
from tests.volume import sampled

pytestmark = pytest.mark.usefixtures("alone")
Fleet = Callable[..., Any]


@pytest.fixture
def fleet(run: Run, tmp_path: Path) -> Fleet:
    """The farms of ``tmp_path/farms``, done; which of them were done before."""
    partitions(tmp_path / "farms")

    def done(*more: object) -> set[str]:
        ran = run(
            "fleet", tmp_path / "farms", "--out", tmp_path / "out", "--on", ON, "--json", *more
        )
        assert ran.code == 0, ran.err
        told = ran.json()
        assert {farm["farm"] for farm in told["farms"]} == set(NAMES)
        return {farm["farm"] for farm in told["farms"] if farm["skipped"]}

    assert done() == set()
    return done


def files(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_is_done_is_skipped_and_stays_as_it_is(fleet: Fleet, tmp_path: Path) -> None:
    before = files(tmp_path / "out")
    assert fleet() == set(NAMES)
    assert files(tmp_path / "out") == before


@pytest.mark.long
def test_other_entries_rules_days_or_versions_are_done_anew(
    fleet: Fleet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    partitions(tmp_path / "other", NAMES[:1], bulls=3)
    shutil.rmtree(tmp_path / "farms" / "farm=Low End")
    shutil.copytree(tmp_path / "other" / "farm=Low End", tmp_path / "farms" / "farm=Low End")
    assert fleet() == {*NAMES} - {"Low End"}
    rules = tmp_path / "farms" / "Low End.toml"
    rules.write_text("[rules]\nfeet.oldest = 30\n", encoding="utf-8")
    assert fleet() == {*NAMES} - {"Low End"}
    assert fleet() == {*NAMES}
    assert fleet("--on", "2026-04-04") == set()
    assert fleet() == {*NAMES}  # the day before stands beside it
    monkeypatch.setattr(task, "__version__", "0.0.0+another")
    monkeypatch.setattr(task.Job.__new__, "__defaults__", ("0.0.0+another",))
    assert fleet() == set()


def test_what_somebody_removed_or_cut_short_is_done_anew(fleet: Fleet, tmp_path: Path) -> None:
    first, second, _ = sorted((tmp_path / "out" / "findings").rglob("*.parquet"))
    first.unlink()
    second.write_bytes(second.read_bytes()[:-1])
    assert len(fleet()) == 1
    assert len(fleet()) == 3


@sampled("step", range(4))
def test_what_a_kill_leaves_has_no_receipt_and_is_not_counted(
    fleet: Fleet, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: int
) -> None:
    """The files of a farm are put in their places one by one: a kill may come before each."""
    rules = tmp_path / "farms" / "Low End.toml"
    rules.write_text("[rules]\nfeet.oldest = 30\n", encoding="utf-8")
    moved, replace = 0, os.replace

    def killed(*paths: Any) -> None:
        nonlocal moved
        moved += 1
        if moved > step:
            raise KeyboardInterrupt
        replace(*paths)

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", killed)
        ran = run("fleet", tmp_path / "farms", "--out", tmp_path / "out", "--on", ON)
    assert ran.code == 130
    figures = run("fleet", "stats", tmp_path / "out", "--json").json()
    assert figures["farms"] == 2
    assert fleet() == {*NAMES} - {"Low End"}
    assert run("fleet", "stats", tmp_path / "out", "--json").json()["farms"] == 3


def everything() -> set[str]:
    return {place[2:] for place in places(schema_of("fleet"))}


@pytest.mark.long
def test_a_book_that_cannot_be_read_is_named_and_stops_nobody(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(task, "PATIENCE", 0.1)
    farms, out = books(run, tmp_path, (3, 11)), tmp_path / "out"
    whole = (farms / "Farm 3.duckdb").read_bytes()
    (farms / "Torn.duckdb").write_bytes(whole[: len(whole) // 2])
    (farms / "Text.duckdb").write_text("no book", encoding="utf-8")
    (farms / "Newer.duckdb").write_bytes(whole)
    with duckdb.connect(farms / "Newer.duckdb") as con:
        con.execute("INSERT INTO meta VALUES ('version', '99'), ('needs', '9.9.9')")
    (farms / "Busy.duckdb").write_bytes(whole)
    (farms / "Rules.duckdb").write_bytes(whole)
    (farms / "Rules.toml").write_text("[rules]\nfeet.oldest = 'long'\n", encoding="utf-8")
    holder = start(HOLD, farms / "Busy.duckdb")
    try:
        assert pipe(holder.stdout).readline() == "held\n"
        ran = run("fleet", farms, "--out", out, "--on", ON, "--json")
    finally:
        holder.communicate("\n")
    told = ran.json()
    holds("fleet", told)
    assert {place[2:] for place in reached(schema_of("fleet"), told)} == everything()
    assert [farm["farm"] for farm in told["farms"]] == ["Farm 11", "Farm 3"]
    failed = {farm["farm"]: (farm["code"], farm["why"]) for farm in told["failed"]}
    assert {name: code for name, (code, _) in failed.items()} == {
        "Busy": 75, "Newer": 65, "Rules": 78, "Text": 65, "Torn": 65,
    }  # fmt: skip
    assert ran.code == told["failed"][0]["code"] == 75
    for name, said in {
        "Busy": "is in use by process", "Newer": "Install version 9.9.9", "Text": "not a book",
        "Rules": "feet.oldest",
    }.items():  # fmt: skip
        assert said in failed[name][1]
    assert not [path for path in out.rglob("*") if "Torn" in path.name or ".readiness" in path.name]
    text = run("fleet", farms, "--out", out, "--on", ON)
    assert "2 farms done, 2 of them before" not in text.out  # Busy is free by now
    assert "3 farms done, 2 of them before" in text.out and "not done: Newer: " in text.err


def test_the_engine_is_asked_for_by_the_run_alone() -> None:
    """Who has not installed it can do all else."""
    here = Path(room.__file__).parent
    asking = {path.name for path in here.glob("*.py") if "distributed" in path.read_text("utf-8")}
    assert asking == {"run.py"}
