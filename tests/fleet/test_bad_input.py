"""What a fleet refuses, in one sentence each, with nothing written."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from readiness.fleet import run as fleet_run
from readiness.fleet.sources import farm_folder, sources
from tests.cli.conftest import Ran, Run
from tests.fleet.farms import ON, partitions

USAGE, WRONG, NOT_THERE, NOT_WRITTEN = 2, 65, 66, 73


def refused(run: Run, room: Path, code: int, *more: object, out: str = "out") -> Ran:
    before = {path for path in room.rglob("*")}
    ran = run("fleet", room / "farms", "--out", room / out, "--on", ON, *more)
    assert (ran.code, ran.out) == (code, ""), ran.err
    assert ran.err.startswith("readiness: ") and ran.err.count("\n") == 1
    assert {path for path in room.rglob("*")} == before
    return ran


def empty(room: Path, *names: str) -> None:
    """Files of these names, or folders where they end in a slash."""
    (room / "farms").mkdir(exist_ok=True)
    for name in names:
        path = room / "farms" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.mkdir() if name.endswith("/") else path.write_text("")


def test_a_folder_that_is_not_there_or_holds_no_farm(run: Run, tmp_path: Path) -> None:
    assert "cannot be looked into" in refused(run, tmp_path, NOT_THERE).err
    empty(tmp_path, "notes.txt", "bulls.duckdb.journal/", ".hidden.duckdb")
    assert "holds no farm" in refused(run, tmp_path, NOT_THERE).err


def test_two_sorts_in_one_folder_are_named(run: Run, tmp_path: Path) -> None:
    empty(tmp_path, "Moss.duckdb", "Hill/entries.jsonl")
    err = refused(run, tmp_path, WRONG).err
    assert "books (*.duckdb), as Moss.duckdb and exports" in err and "as Hill" in err
    empty(tmp_path, "farm=Glen/entries.parquet")
    assert "partitions" in refused(run, tmp_path, WRONG).err


def test_two_of_one_farm_are_named(run: Run, tmp_path: Path) -> None:
    empty(tmp_path, "farm=Hill End/a.parquet", "farm=hill%20end/a.parquet")
    err = refused(run, tmp_path, WRONG).err
    assert "farm=Hill End and farm=hill%20end are two of one farm" in err


def test_a_farm_without_a_name(run: Run, tmp_path: Path) -> None:
    empty(tmp_path, "farm=/a.parquet")
    assert "names no farm" in refused(run, tmp_path, WRONG).err


@pytest.mark.parametrize("out", ["farms", "farms/out", ".", "linked"])
def test_results_within_the_folder_of_farms(run: Run, tmp_path: Path, out: str) -> None:
    partitions(tmp_path / "farms")
    (tmp_path / "linked").symlink_to(tmp_path / "farms")
    assert "lie in each other" in refused(run, tmp_path, NOT_WRITTEN, out=out).err


def test_results_where_something_else_stands(run: Run, tmp_path: Path) -> None:
    partitions(tmp_path / "farms")
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "letter.txt").write_text("mine")
    assert "as letter.txt" in refused(run, tmp_path, WRONG).err
    (tmp_path / "file").write_text("mine")
    assert "is no folder" in refused(run, tmp_path, NOT_WRITTEN, out="file").err


@pytest.mark.usefixtures("alone")
def test_results_of_another_sort_of_run_or_with_something_put_beside(
    run: Run, tmp_path: Path
) -> None:
    farms = partitions(tmp_path / "farms")
    assert run("fleet", farms, "--out", tmp_path / "out", "--on", ON).code == 0
    refused(run, tmp_path, WRONG, "--partitions")
    (tmp_path / "out" / "letter.txt").write_text("mine")
    assert "as letter.txt" in refused(run, tmp_path, WRONG).err
    assert run("fleet", "stats", tmp_path / "out").code == WRONG
    shutil.rmtree(tmp_path / "out")
    assert run("fleet", farms, "--out", tmp_path / "out", "--partitions").code == 0
    refused(run, tmp_path, WRONG)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--farm", "A"), "--farm has no meaning here"), (("--processes", "0"), "1 to 1,024"),
        (("--rules", "none.toml"), "no such rules file"),
    ],
)  # fmt: skip
def test_a_command_line_that_means_nothing(
    run: Run, tmp_path: Path, more: tuple[str, ...], said: str
) -> None:
    partitions(tmp_path / "farms")
    code = NOT_THERE if "--rules" in more else USAGE
    assert said in refused(run, tmp_path, code, *more).err


def test_what_is_asked_of_a_folder_that_no_fleet_wrote(run: Run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    for asked in (("stats",), ("board",)):
        more = ("--farm", "A") if asked == ("board",) else ()
        assert run("fleet", *asked, tmp_path / "none", *more).code == NOT_THERE
        assert run("fleet", *asked, tmp_path / "empty", *more).code == NOT_THERE
        assert run("fleet", *asked, tmp_path, "--out", "x", *more).code == USAGE
    assert run("fleet", "board", tmp_path / "empty").code == USAGE
    assert run("fleet", "stats", tmp_path / "empty", "--farm", "A").code == USAGE
    assert run("fleet", tmp_path / "empty").code == USAGE


@pytest.mark.usefixtures("alone")
def test_a_farm_that_nobody_did_and_a_day_before_all(run: Run, tmp_path: Path) -> None:
    farms = partitions(tmp_path / "farms")
    assert run("fleet", farms, "--out", tmp_path / "out", "--on", ON).code == 0
    assert "No farm Moss is done" in run("fleet", "board", tmp_path / "out", "--farm", "Moss").err
    ran = run("fleet", "stats", tmp_path / "out", "--on", "2026-04-02")
    assert ran.code == NOT_THERE and "up to 2026-04-02" in ran.err


@pytest.mark.usefixtures("alone")
def test_a_partition_that_is_none_is_named_with_what_one_has(run: Run, tmp_path: Path) -> None:
    farms = partitions(tmp_path / "farms", ["A", "B", "C", "D"])
    (farms / "farm=A" / "entries.parquet").write_bytes(b"PAR1 no more")
    (farms / "farm=B" / "entries.parquet").unlink()
    again = farms / "farm=C" / "entries.parquet"
    (farms / "farm=C" / "twice.parquet").write_bytes(again.read_bytes())
    ran = run("fleet", farms, "--out", tmp_path / "out", "--on", ON, "--json")
    why = {each["farm"]: each["why"] for each in ran.json()["failed"]}
    assert "Write it anew with `readiness fleet DIR --partitions`" in why["A"]
    assert "holds no *.parquet" in why["B"] and "holds an entry twice" in why["C"]
    assert [each["farm"] for each in ran.json()["farms"]] == ["D"] and ran.code == WRONG


@pytest.mark.parametrize(
    "name", ["../../up", "..", "a/b", "C:\\x", "a\nb", "%2F", "é", "\udcff", "="]
)
def test_no_farms_name_leads_out_of_its_folder_and_each_comes_back(
    tmp_path: Path, name: str
) -> None:
    made = farm_folder(name)
    assert not set(made) & set("/\\\n:") and made.startswith("farm=") and made not in (".", "..")
    (tmp_path / made).mkdir()
    assert [source.farm for source in sources(tmp_path)] == [name]


@pytest.mark.usefixtures("alone")
def test_a_farm_of_any_name_is_written_within_the_folder(run: Run, tmp_path: Path) -> None:
    farms = partitions(tmp_path / "farms", ["../../up", "a/b"])
    assert run("fleet", farms, "--out", tmp_path / "out", "--on", ON).code == 0
    assert {path.name for path in tmp_path.iterdir()} == {"farms", "out"}
    board = run("fleet", "board", tmp_path / "out", "--farm", "../../up")
    assert board.code == 0 and len(board.json()["bulls"]) == 6


def test_without_its_extra_one_sentence_says_what_to_install(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    farms = partitions(tmp_path / "farms")
    monkeypatch.setitem(sys.modules, "distributed", None)
    assert farms.is_dir()
    assert "pip install 'readiness[fleet]'" in refused(run, tmp_path, USAGE).err


@pytest.mark.long
def test_a_scheduler_that_is_not_there(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fleet_run, "ANSWER", 0.3)
    farms = partitions(tmp_path / "farms")
    assert farms.is_dir()
    ran = refused(run, tmp_path, NOT_THERE, "--scheduler", "tcp://127.0.0.1:9")
    assert "No Dask scheduler answers at tcp://127.0.0.1:9" in ran.err
    ran = refused(run, tmp_path, USAGE, "--scheduler", "nonsense://here")
    assert "is no address of a scheduler" in ran.err
