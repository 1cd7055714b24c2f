"""Every reader at length, each in a process of its own, and a table of what came of it.

python -m tests.hostile --rows 100000 [--seed N] [--only PART-OF-A-NAME] [--jobs N]
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from argparse import ArgumentParser
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from tests.hostile.every import READERS
from tests.hostile.readers import Reader, tried
from tests.hostile.watch import a_box

ROOT = Path(__file__).parents[2]
COLUMNS = (
    "rows",
    "refused",
    "taken",
    "traceback",
    "exit 70",
    "other",
    "slowest s",
    "peak MB",
    "all s",
)


def peak() -> float:
    """The most memory of this process so far, in MB: as Linux counts it from its own start on."""
    said = Path("/proc/self/status").read_text(encoding="ascii")
    return int(said.partition("VmHWM:")[2].split()[0]) / 1024


def of_reader(reader: Reader, rows: int, start: int) -> dict[str, Any]:
    begun = time.perf_counter()
    with a_box() as box:
        tally = tried(reader, box, round(rows * reader.share / 100), start)
    return {
        "reader": tally.reader, "rows": tally.rows, "refused": tally.refused, "taken": tally.taken,
        "traceback": tally.wrong["traceback"], "exit 70": tally.wrong["exit 70"],
        "other": sum(tally.wrong.values()) - tally.wrong["traceback"] - tally.wrong["exit 70"],
        "slowest s": round(tally.slowest, 2), "peak MB": round(peak()),
        "all s": round(time.perf_counter() - begun, 1), "told": tally.told,
    }  # fmt: skip


def in_process(reader: Reader, rows: int, start: int) -> dict[str, Any]:
    command = [sys.executable, "-m", "tests.hostile", "--here", "--only", reader.name,
               "--rows", str(rows), "--seed", str(start)]  # fmt: skip
    done = subprocess.run(command, cwd=ROOT, stdout=subprocess.PIPE, check=True)
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def main() -> int:
    parser = ArgumentParser(prog="python -m tests.hostile")
    parser.add_argument("--rows", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", default="", help="readers with this in their names")
    parser.add_argument("--jobs", type=int, default=1, help="processes beside each other")
    parser.add_argument("--here", action="store_true", help="one reader, in this process, as JSON")
    asked = parser.parse_args()
    readers = [each for each in READERS if asked.only in each.name]
    if asked.here:
        print(json.dumps(of_reader(readers[0], asked.rows, asked.seed)))
        return 0
    print(f"{'reader':24}" + "".join(f"{column:>11}" for column in COLUMNS))
    told: list[str] = []
    total: Counter[str] = Counter()
    pool = ThreadPoolExecutor(asked.jobs)
    for row in pool.map(lambda each: in_process(each, asked.rows, asked.seed), readers):
        print(
            f"{row['reader']:24}" + "".join(f"{row[column]:>11}" for column in COLUMNS), flush=True
        )
        told += row["told"]
        total.update({column: row[column] for column in COLUMNS[:6]})
    print(f"{'all':24}" + "".join(f"{total[column]:>11}" for column in COLUMNS[:6]))
    print(*told, sep="\n")
    return 1 if told else 0


if __name__ == "__main__":
    sys.exit(main())
