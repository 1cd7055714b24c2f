"""What a figure is: a time with its spread, beside a floor of the same run; and the machine."""

from __future__ import annotations

import json
import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from importlib.metadata import version
from pathlib import Path
from statistics import median, quantiles
from typing import Any, NamedTuple

ROOT = Path(__file__).resolve().parents[2]
LIBRARIES = ("textual", "duckdb", "pydantic")


class Took(NamedTuple):
    """Milliseconds: the median of some runs, the quickest and the slowest; of a process, the most
    memory that it had by itself, in MB."""

    ms: float
    low: float
    high: float
    memory: float | None = None

    def per(self, count: int) -> Took:
        """Of one of so many."""
        return Took(self.ms / count, self.low / count, self.high / count, self.memory)


class Aim(NamedTuple):
    """What is wanted at most: milliseconds, so many times the floor or so much over it, MB."""

    words: str
    ms: float | None = None
    times: float | None = None
    over: float | None = None
    memory: float | None = None

    def met(self, took: Took, floor: float) -> bool:
        """Whether a figure keeps it."""
        return (
            (self.ms is None or took.ms <= self.ms)
            and (self.times is None or took.ms <= self.times * floor)
            and (self.over is None or took.ms <= floor + self.over)
            and (self.memory is None or (took.memory or 0) <= self.memory)
        )


class Row(NamedTuple):
    """A line of the table. ``bulls``, ``entries``: of a growing book, for the plot."""

    what: str
    took: Took
    against: str
    floor: float
    aim: Aim | None = None
    bulls: int = 0
    entries: int = 0

    @property
    def times(self) -> float:
        """How many times the floor."""
        return self.took.ms / self.floor

    def told(self) -> dict[str, Any]:
        """As JSON values."""
        said = {**self.took._asdict(), "times": self.times}
        aim = None if self.aim is None else self.aim.words
        met = None if self.aim is None else self.aim.met(self.took, self.floor)
        rest = {key: value for key, value in self._asdict().items() if key not in ("took", "aim")}
        return {**rest, **{k: _rounded(v) for k, v in said.items()}, "aim": aim, "met": met}


def _rounded(value: float | None) -> float | None:
    return None if value is None else float(f"{value:.4g}")


def of_times(seconds: Sequence[float], memory: float | None = None) -> Took:
    """The figure of some runs."""
    return Took(median(seconds) * 1000, min(seconds) * 1000, max(seconds) * 1000, memory)


def p95_of(seconds: Sequence[float]) -> Took:
    """The 95th percentile of many, with the quickest and the slowest."""
    return Took(quantiles(seconds, n=20)[-1] * 1000, min(seconds) * 1000, max(seconds) * 1000)


def timed(work: Callable[[], object], runs: int) -> Took:
    """How long some work takes in this process, after one run that is not counted."""
    work()
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return of_times(times)


class Child(NamedTuple):
    """A process that has ended."""

    seconds: float
    memory: float


_STARTS = """
import json, os, sys, time
null = os.open(os.devnull, os.O_RDWR)
nowhere = [(os.POSIX_SPAWN_DUP2, null, 1), (os.POSIX_SPAWN_DUP2, null, 2)]
start = time.perf_counter()
child = os.posix_spawn(sys.executable, [sys.executable, *sys.argv[1:]], os.environ,
                       file_actions=nowhere)
_, status, used = os.wait4(child, 0)
took = time.perf_counter() - start
print(json.dumps([took, used.ru_maxrss / 1024, os.waitstatus_to_exitcode(status)]))
"""


def child(arguments: Sequence[str], env: Mapping[str, str] | None = None) -> Child:
    """A whole Python process, and the most memory that it, or one that it began, had by itself.

    From ``wait4``, which tells of this one: what the children of a whole run had at the most would
    stand on every line after the largest. And begun by a small process: what its parent had when
    it began counts for a process, too."""
    told = subprocess.run(
        [sys.executable, "-S", "-c", _STARTS, *arguments],
        cwd=ROOT, env=env, stdout=subprocess.PIPE, check=True,
    )  # fmt: skip
    seconds, memory, code = json.loads(told.stdout)
    if code != 0:
        raise SystemExit(f"{' '.join(arguments)} ended with {code}")
    return Child(seconds, memory)


def cold(arguments: Sequence[str], runs: int, env: Mapping[str, str] | None = None) -> Took:
    """How long a process takes from start to end, its files in the disk's cache."""
    if runs > 1:
        child(arguments, env)
    found = [child(arguments, env) for _ in range(runs)]
    return of_times([each.seconds for each in found], max(each.memory for each in found))


def machine() -> dict[str, Any]:
    """Where the figures were made."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return {
        "system": platform.platform(terse=True),
        "processor": _processor(),
        "cores": cores,
        "load before": round(os.getloadavg()[0], 2),
        "python": platform.python_version(),
        **{name: version(name) for name in LIBRARIES},
    }


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return platform.processor()
    names = (line.partition(": ")[2] for line in lines if line.startswith("model name"))
    return next(names, platform.machine())
