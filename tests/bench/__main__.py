"""The benchmarks: each a figure beside a floor measured in the same run.

    python -m tests.bench                          all of them, one table
    python -m tests.bench cold growth --most 5000  some, and no book of more bulls
    python -m tests.bench --json f.json --plot f.svg

Nothing here passes or fails: a machine's speed is no property of the program, a ratio nearly is.
"""

from __future__ import annotations

import argparse
import json
import os
import tempfile
from collections.abc import Callable, Iterable, Iterator
from compileall import compile_dir
from pathlib import Path

from tests.bench import cold, crush_keys, first_paint, growth, visits_plan, work
from tests.bench.measure import ROOT, Row, machine
from tests.bench.plot import plot

PARTS: dict[str, Callable[[Path, int], Iterator[Row]]] = {
    "cold": cold.rows,
    "paint": first_paint.rows,
    "crush": crush_keys.rows,
    "work": work.rows,
    "visits": visits_plan.rows,
    "growth": growth.rows,
}
COLUMNS = "{:<40}{:>10}{:>9}{:>9}{:>7}  {:<28}{:>9}{:>8}  {}"
HEAD = COLUMNS.format("what", "median", "from", "to", "MB", "floor", "", "times", "aim")


def line(row: Row) -> str:
    """A row in words."""
    took = row.took
    memory = "" if took.memory is None else f"{took.memory:.0f}"
    aim = ""
    if row.aim is not None:
        aim = f"{'met' if row.aim.met(took, row.floor) else 'MISSED'}: {row.aim.words}"
    return COLUMNS.format(
        row.what, ms(took.ms), ms(took.low), ms(took.high), memory, row.against, ms(row.floor),
        f"{row.times:.2f}", aim,
    ).rstrip()  # fmt: skip


def markdown(rows: Iterable[Row]) -> Iterator[str]:
    """The table as it stands in the guide."""
    yield "| what | median | MB | floor | aim |"
    yield "|---|---|---|---|---|"
    for row in rows:
        took, aim = row.took, ""
        if row.aim is not None:
            aim = f"{row.aim.words}{'' if row.aim.met(took, row.floor) else ': missed'}"
        memory = "" if took.memory is None else f"{took.memory:.0f}"
        floor = f"{row.times:.2g} x {row.against}"
        yield f"| {row.what} | {ms(took.ms)} | {memory} | {floor} | {aim} |"


def ms(value: float) -> str:
    """Milliseconds as they are read: microseconds, milliseconds or seconds."""
    if value < 1:
        return f"{value * 1000:.1f} us"
    return f"{value:.0f} ms" if value < 10_000 else f"{value / 1000:.1f} s"


def run(names: Iterable[str], most: int) -> Iterator[Row]:
    """The rows of these parts, as they are measured."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    compile_dir(ROOT / "readiness", quiet=1)  # as an installed program is
    for name in names or PARTS:
        with tempfile.TemporaryDirectory() as folder:
            os.environ["XDG_DATA_HOME"] = folder
            yield from PARTS[name](Path(folder), most)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("names", nargs="*", choices=[*PARTS, []], help=", ".join(PARTS))
    parser.add_argument("--most", type=int, default=50_000, help="bulls of the largest book")
    parser.add_argument("--json", type=Path, help="the table for programs")
    parser.add_argument("--markdown", type=Path, help="the table as the guide has it")
    parser.add_argument("--plot", type=Path, help="how it grows, drawn as SVG")
    options = parser.parse_args()
    where = machine()
    print(", ".join(f"{key} {value}" for key, value in where.items()))
    print(HEAD)
    found = []
    for row in run(options.names, options.most):
        print(line(row), flush=True)
        found.append(row)
    if options.json is not None:
        told = {"machine": where, "rows": [row.told() for row in found]}
        options.json.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    if options.markdown is not None:
        options.markdown.write_text("\n".join(markdown(found)) + "\n", encoding="utf-8")
    if options.plot is not None:
        options.plot.write_text(plot(found), encoding="utf-8")


if __name__ == "__main__":
    main()
