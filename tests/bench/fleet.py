"""A fleet of farms made in place and run through, on one process and on two: bulls per second, the
ratio of the two, and the most memory that a process had.

``python -m tests.bench.fleet`` takes 20 farms of 100 bulls; ``--farms 1000 --bulls 1000 --entries
8`` is a million bulls with 8,000,000 entries. The farms are partitions: a few are made entry by
entry, the others are these under another name, so that a million is made in minutes.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from readiness.book.parquet import write_partition
from readiness.entries.entry import Entry
from tests.bench.books import ON, book, working_book
from tests.build import entries_of

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = 8
AIM = 1.8


def make(folder: Path, farms: int, bulls: int, entries: int) -> int:
    """The partitions; how many entries they hold. Every second template is of random books, whose
    bulls have all sorts of findings; the others are of plain years at the crush."""
    counts = []
    for number in range(farms):
        place = folder / f"farm=Farm {number:05}"
        place.mkdir(parents=True)
        if number < TEMPLATES:
            told = template(number, bulls, entries)
            counts.append(write_partition(place / "entries.parquet", told))
        else:
            source = folder / f"farm=Farm {number % TEMPLATES:05}" / "entries.parquet"
            shutil.copyfile(source, place / "entries.parquet")
    return sum(counts[number % len(counts)] for number in range(farms))


def template(number: int, bulls: int, entries: int) -> list[Entry]:
    if number % 2:
        return book(bulls, entries, seed=number)
    return sorted(entries_of(working_book(bulls, entries)))


def run(farms: Path, out: Path, processes: int) -> tuple[float, dict[str, object]]:
    """Seconds, and what the command told, of a process of its own."""
    command = [sys.executable, "-m", "readiness", "fleet", str(farms), "--out", str(out)]
    more = ["--processes", str(processes), "--on", str(ON), "--json"]
    start, before = time.perf_counter(), _worked()
    done = subprocess.run([*command, *more], cwd=ROOT, check=True, capture_output=True)
    took = time.perf_counter() - start
    return took, json.loads(done.stdout) | {"worked": _worked() - before}


def _worked() -> float:
    """Seconds that processors worked for the processes begun here and theirs."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def measure(room: Path, farms: int, bulls: int, entries: int, counts: list[int]) -> None:
    start = time.perf_counter()
    made = make(room / "farms", farms, bulls, entries)
    print(f"{farms:,} farms, {made:,} entries, made in {time.perf_counter() - start:.1f} s")
    small = make_small(room)
    run(small, room / "first", 2)  # its bytecode is cached, as an installed program's is
    took, _ = run(small, room / "second", 2)
    print(f"to begin and to end alone    {took:8.1f} s   (in each of these figures)")
    speeds = []
    for processes in counts:
        took, told = run(room / "farms", room / f"out{processes}", processes)
        assert not told["failed"], told["failed"]
        speeds.append(_say(processes, took, told))
    if counts == [1, 2]:
        ratio = speeds[1] / speeds[0]
        cores = os.cpu_count()
        print(f"two processes to one{'':12} x{ratio:5.2f}   (aim {AIM} x, on {cores} cores)")
    start = time.perf_counter()
    out = room / f"out{counts[-1]}"
    command = [sys.executable, "-m", "readiness", "fleet", "stats", str(out), "--json"]
    subprocess.run(command, cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    print(f"fleet stats over all of them {time.perf_counter() - start:8.1f} s")
    took, told = run(room / "farms", out, counts[-1])
    print(f"run again, all skipped       {took:8.1f} s")


def make_small(room: Path) -> Path:
    make(room / "small", 2, 2, 8)
    return room / "small"


def _say(processes: int, took: float, told: dict[str, object]) -> float:
    farms, peaks = told["farms"], told["processes"]
    assert isinstance(farms, list) and isinstance(peaks, list)
    bulls = sum(farm["bulls"] for farm in farms)
    memory = ", ".join(f"{each['peak_mb']:.0f}" for each in peaks)
    print(
        f"{processes} process{'es' if processes > 1 else '  '}  {took:8.1f} s  "
        f"{bulls / took:8.0f} bulls a second   {told['worked']:8.1f} s of a processor   "
        f"at most {memory} MB each"
    )
    return float(bulls / took)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n\n")[0])
    parser.add_argument("--farms", type=int, default=20)
    parser.add_argument("--bulls", type=int, default=100)
    parser.add_argument("--entries", type=int, default=8, help="of each bull")
    parser.add_argument("--processes", type=int, nargs="+", default=[1, 2])
    parser.add_argument("--room", type=Path, help="a folder with room (default: a temporary one)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(dir=asked.room, prefix="fleet-") as room:
        measure(Path(room), asked.farms, asked.bulls, asked.entries, asked.processes)


if __name__ == "__main__":
    main()
