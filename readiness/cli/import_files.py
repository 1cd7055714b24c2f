"""``import``: take in files of entries, each all or nothing."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.paths import path_argument
from readiness.trade.words import plural

if TYPE_CHECKING:
    from readiness.desk import Outcome


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "files", metavar="FILE", nargs="+", type=path_argument, help="entries as .jsonl"
    )
    parser.add_argument("--check", action="store_true", help="only check, write nothing")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    desk = context.desk()
    done: list[Outcome] = []
    try:
        for path in options.files:
            outcome = desk.import_file(path, check=options.check)
            done.append(outcome)
            output.warn(f"{path.name}: {said.entry}: {said.text}" for said in outcome.warnings)
            if not options.json:
                output.say(_line(path, outcome, check=options.check))
    finally:  # files before the one that was refused are in the book
        if options.json and done:
            output.json(_together(done, check=options.check))
    return 0


def _line(path: Path, outcome: Outcome, *, check: bool) -> str:
    written = plural(len(outcome.written), "entry", "entries")
    there = f", {len(outcome.skipped)} there already" if outcome.skipped else ""
    verb = "would be written" if check else "written"
    return f"{path.name}: {written} {verb}{there}"


def _together(done: list[Outcome], *, check: bool) -> dict[str, object]:
    from readiness.desk import Outcome
    from readiness.report.as_json import outcome_json

    total = Outcome(
        tuple(entry for outcome in done for entry in outcome.written),
        tuple(entry for outcome in done for entry in outcome.skipped),
        tuple(warning for outcome in done for warning in outcome.warnings),
    )
    said = outcome_json(total)
    return {**said, "written": [], "would_write": said["written"]} if check else said
