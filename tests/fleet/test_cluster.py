"""A real cluster of two processes: one killed in the middle, one without room; and nothing beyond
this machine is spoken to."""

from __future__ import annotations

import json
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from readiness.book.parquet import write_partition
from readiness.fleet import run as fleet_run
from readiness.fleet.sources import farm_folder
from tests.bench.books import book
from tests.cli.conftest import Run
from tests.faults.processes import ROOT, pipe
from tests.fleet.farms import ON, one_after_another, partitions

NO_ROOM = 73
FARMS = [f"Farm {number}" for number in range(12)]

# Runs a fleet on two workers, and kills one of them once three farms are done; then says what came.
KILL = """
import json, os, signal, sys
from multiprocessing import active_children
from pathlib import Path
from readiness.fleet.place import ASSESSED, claim
from readiness.fleet.run import Engine, run
from readiness.book.parquet import write_partition
from readiness.fleet import run as fleet_run
from readiness.fleet.sources import sources
from readiness.fleet.task import Job
from readiness.settings.settings import NONE_SET
from tests.fleet.farms import ON
from tests.fleet.test_cluster import only_this_machine

only_this_machine()
killed = []

def progress(done, total):
    if done == 3:
        killed.extend(child.pid for child in active_children())
        os.kill(killed[0], signal.SIGKILL)

if __name__ == "__main__":
    farms, out = map(Path, sys.argv[1:])
    jobs = [Job(source, out, ON, None, NONE_SET) for source in sources(farms)]
    came = run(jobs, Engine(None, 2), lambda: claim(out, ASSESSED), print, progress)
    print(json.dumps([killed, [each._asdict() for each in came]]))
"""


def only_this_machine() -> None:
    """Whoever of Python's asks for another address ends the process, with a word on stderr."""

    def heard(event: str, arguments: tuple[Any, ...]) -> None:
        if event in ("socket.connect", "socket.bind", "socket.sendto"):
            address = arguments[1]
        elif event == "socket.getaddrinfo":
            address = arguments
        else:
            return
        inside = isinstance(address, (str, bytes)) or address[0] in ("127.0.0.1", "localhost")
        if not inside:  # a text is a socket of the file system
            os.write(2, f"network: {event} {arguments}\n".encode())
            os._exit(99)

    sys.addaudithook(heard)


@pytest.mark.long
def test_a_worker_killed_in_the_middle_costs_no_farm(run: Run, tmp_path: Path) -> None:
    farms = partitions(tmp_path / "farms", FARMS, bulls=40)
    done = as_script(tmp_path, KILL, farms, tmp_path / "out")
    assert (done.returncode, done.stderr) == (0, "")
    killed, came = json.loads(done.stdout.splitlines()[-1])
    assert len(killed) == 2 and all("why" not in each for each in came)
    assert sorted(each["farm"] for each in came) == sorted(FARMS)
    boards = {run("fleet", "board", tmp_path / "out", "--farm", name).out for name in FARMS}
    assert len(boards) == 1 and len(json.loads(boards.pop())["bulls"]) == 40
    assert not [*(tmp_path / "out").glob(".readiness-*")]


def as_script(room: Path, text: str, *more: Path) -> subprocess.CompletedProcess[str]:
    """In a file of its own: the workers import what began them."""
    script = room / "script.py"
    script.write_text(text, encoding="utf-8")
    return subprocess.run(
        [sys.executable, str(script), *map(str, more)], cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip


@contextmanager
def little_room(folder: Path, room: int) -> Iterator[dict[str, Any]]:
    """A disk of so many bytes at ``folder``; where none may be mounted here, files that may not
    grow beyond a third of that. What a process in there is started with."""
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={room}", "tmpfs", str(folder)]
    try:
        mounted = subprocess.run(mount, capture_output=True, check=False).returncode == 0
    except OSError:
        mounted = False
    try:
        yield {} if mounted else {"preexec_fn": lambda: _limit(room // 3)}
    finally:
        if mounted:
            subprocess.run(["umount", str(folder)], check=True)


def _limit(size: int) -> None:
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def fleet(*more: object, **how: Any) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "readiness", "fleet", *map(str, more), "--on", str(ON)]
    return subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120, **how
    )


@pytest.mark.long
def test_a_disk_without_room_is_named_and_leaves_nothing_half_written(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    farms = partitions(tmp_path / "farms", FARMS[:2], bulls=10)
    (farms / "farm=Large").mkdir()
    write_partition(farms / "farm=Large" / "entries.parquet", book(150, 12))
    with little_room(tmp_path / "disk", 72 * 1024) as how:
        out = tmp_path / "disk" / "out"
        done = fleet(farms, "--out", out, "--processes", 2, "--json", **how)
        told = json.loads(done.stdout)
        failed = {each["farm"]: each for each in told["failed"]}
        assert "Large" in failed  # which leaves the others less room while it is tried
        assert {done.returncode, *(each["code"] for each in failed.values())} == {NO_ROOM}
        assert "cannot be written" in failed["Large"]["why"]
        kept = {farm_folder(each["farm"]) for each in told["farms"]}
        assert {path.parent.name for path in out.rglob("*.parquet")} == kept
        assert not [*out.glob(".readiness-*")]
        shutil.rmtree(farms / "farm=Large")
        monkeypatch.setattr(fleet_run, "run", one_after_another)
        again = run("fleet", farms, "--out", out, "--on", ON, "--json").json()
        assert {farm_folder(each["farm"]) for each in again["farms"] if each["skipped"]} == kept
        for name in FARMS[:2]:
            assert len(run("fleet", "board", out, "--farm", name).json()["bulls"]) == 10


# One farm kills whoever has it.
DEADLY = """
import json, os, signal, sys
from pathlib import Path
from readiness.fleet import run as fleet_run
from readiness.fleet.place import ASSESSED, claim
from readiness.fleet.run import Engine
from readiness.fleet.sources import sources
from readiness.fleet.task import Job
from readiness.settings.settings import NONE_SET
from tests.fleet.farms import ON

plain = fleet_run._on_worker

def deadly(job):
    if job.source.farm == "Farm 1":
        os.kill(os.getpid(), signal.SIGKILL)
    return plain(job)

if __name__ == "__main__":
    farms, out = map(Path, sys.argv[1:])
    claim(out, ASSESSED)
    fleet_run._on_worker = deadly
    jobs = [Job(source, out, ON, None, NONE_SET) for source in sources(farms)]
    came = fleet_run.run(jobs, Engine(None, 2), int, print, lambda *_: None)
    print(json.dumps([each._asdict() for each in came]))
"""


@pytest.mark.at_length
def test_a_farm_that_kills_whoever_has_it_is_named_and_costs_no_other(tmp_path: Path) -> None:
    farms = partitions(tmp_path / "farms", FARMS[:6])
    done = as_script(tmp_path, DEADLY, farms, tmp_path / "out")
    assert (done.returncode, done.stderr) == (0, "")
    came = json.loads(done.stdout.splitlines()[-1])
    assert [each["farm"] for each in came if "why" in each] == ["Farm 1"]
    (bad,) = (each for each in came if "why" in each)
    assert bad["code"] == 71 and "needs more memory than a process has" in bad["why"]


SCHEDULER = """
import sys
from distributed import LocalCluster
if __name__ == "__main__":
    with LocalCluster(n_workers=int(sys.argv[1]), threads_per_worker=1, host="127.0.0.1",
                      dashboard_address=None) as cluster:
        print(cluster.scheduler_address, flush=True)
        sys.stdin.readline()
"""


@contextmanager
def scheduler(room: Path, workers: int) -> Iterator[str]:
    """The address of a scheduler of somebody else's."""
    script = room / "scheduler.py"
    script.write_text(SCHEDULER, encoding="utf-8")
    command = [sys.executable, str(script), str(workers)]
    process = subprocess.Popen(
        command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    try:
        yield pipe(process.stdout).readline().strip()
    finally:
        process.communicate("\n")


@pytest.mark.at_length
def test_a_cluster_that_is_there_does_the_same_and_lives_on(run: Run, tmp_path: Path) -> None:
    farms = partitions(tmp_path / "farms", FARMS[:3])
    with scheduler(tmp_path, 2) as address:
        done = fleet(farms, "--out", tmp_path / "out", "--scheduler", address)
        assert (done.returncode, done.stderr) == (0, "") and "3 farms done" in done.stdout
        again = fleet(farms, "--out", tmp_path / "out", "--scheduler", address)
        assert "3 of them before" in again.stdout
    with scheduler(tmp_path, 0) as address:
        done = fleet(farms, "--out", tmp_path / "other", "--scheduler", address)
        assert done.returncode == 66 and "has no worker" in done.stderr
