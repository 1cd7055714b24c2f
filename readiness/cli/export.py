"""``export``: everything in the book as files for other programs."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, flag, known_option, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.system.plain import plain
from readiness.trade.words import plural

if TYPE_CHECKING:
    from readiness.export.package import Written


def arguments(parser: ArgumentParser) -> None:
    text = "a new or empty folder, or an earlier export, which is replaced"
    argument(parser, "folder", "DIR", text, type=path_argument)
    known_option(parser)
    flag(parser, "--json", "what was written, for programs")


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.export.write import export

    files = export(context.desk(), options.folder, known=options.known, progress=output.progress)
    if options.json:
        output.json({"folder": str(options.folder), "files": [made._asdict() for made in files]})
    else:
        output.say(plain(f"{options.folder}: {plural(len(files), 'file')}"))
        for line in _lines(files):
            output.say(line)


def _lines(files: Sequence[Written]) -> Iterator[str]:
    """A line for each file with its rows, the manifest last; a table's CSV and Parquet hold the
    same rows and share a line."""
    for made in files:
        if made.path.startswith("parquet/"):
            continue
        name = made.path
        if name.startswith("csv/"):
            name = f"{name.removesuffix('.csv')}.csv, .parquet"
        yield f"  {name}" if made.rows is None else f"  {name:44} {made.rows:>8,}"
