"""``import``: take in files of entries, rosters of bulls and vet's sheets, each all or nothing."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.cli.alike import in_short
from readiness.cli.arguments import argument, flag, json_option, path_argument
from readiness.cli.bar import Bar
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.trade.words import plural

if TYPE_CHECKING:
    from readiness.desk.writing import Outcome

Done = list[tuple[Path, "Outcome"]]


def arguments(parser: ArgumentParser) -> None:
    text = "entries as .jsonl; rosters of bulls, and vet's sheets, as .csv or .xlsx"
    argument(parser, "files", "FILE", text, nargs="+", type=path_argument)
    flag(parser, "--check", "only check, write nothing; of a roster or a vet's sheet, show it")
    text = "how a roster writes 03/04/2026: day first or month first"
    argument(parser, "--dates", None, text, choices=("dmy", "mdy"))
    argument(parser, "--farm", "F", "the farm of a roster's bulls without one")
    text = "a roster's births that differ and names that other bulls bear are meant"
    flag(parser, "--renames", text)
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    desk = context.desk()
    done: Done = []
    try:
        for path in options.files:
            with Bar(f"import {path.name}") as bar:
                outcome = desk.import_file(
                    path,
                    check=options.check,
                    dates=options.dates,
                    farm=options.farm,
                    renames=options.renames,
                    progress=bar.tell,
                )
            done.append((path, outcome))
            output.warn(in_short(path.name, _warnings(outcome)))
            if not options.json:
                _say(path, outcome, output, check=options.check)
    finally:  # files before the one that was refused are in the book
        if options.json and done:
            output.json(_together(done, check=options.check))


def _warnings(outcome: Outcome) -> Iterator[tuple[str, str]]:
    """A roster's say the row; those of a file of entries are told with the entry."""
    for warning in outcome.warnings:
        yield "" if outcome.roster is not None else warning.entry, warning.text


def _say(path: Path, outcome: Outcome, output: Output, *, check: bool) -> None:
    written = plural(len(outcome.written), "entry", "entries")
    there = f", {len(outcome.skipped)} there already" if outcome.skipped else ""
    verb = "would be written" if check else "written"
    rows = ""
    if outcome.roster is not None:
        from readiness.report.look import hanging
        from readiness.roster.preview import begun, counts_words, lacking, table, understood

        lines = understood(outcome.roster) + (list(table(outcome.roster)) if check else [])
        lines += [*begun(outcome.roster), *lacking(outcome.roster)]
        for line in lines:
            output.say("\n".join(hanging(line, output.look.width)))
        rows = f"{counts_words(outcome.roster)}; "
    output.say(f"{path.name}: {rows}{written} {verb}{there}")


def _together(done: Done, *, check: bool) -> dict[str, object]:
    from readiness.desk.writing import Outcome
    from readiness.report.as_json import outcome_json
    from readiness.roster.preview import changes_json

    outcomes = [outcome for _, outcome in done]
    total = Outcome(
        tuple(entry for outcome in outcomes for entry in outcome.written),
        tuple(entry for outcome in outcomes for entry in outcome.skipped),
        tuple(warning for outcome in outcomes for warning in outcome.warnings),
    )
    told = outcome_json(total)
    rosters = [changes_json(path.name, o.roster) for path, o in done if o.roster is not None]
    if rosters:
        told["rosters"] = rosters
    return {**told, "written": [], "would_write": told["written"]} if check else told
