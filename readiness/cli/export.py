"""``export``: everything in the book as files for other programs."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option, known_option, path_argument
from readiness.cli.bar import Bar
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.trade.words import plural


def arguments(parser: ArgumentParser) -> None:
    text = "a new or empty folder, or an earlier export, which is replaced"
    argument(parser, "folder", "DIR", text, type=path_argument)
    known_option(parser)
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.export.write import export

    with Bar("export") as bar:
        files = export(context.desk(), options.folder, known=options.known, progress=bar.tell)
    if options.json:
        output.json({"folder": str(options.folder), "files": [made._asdict() for made in files]})
    else:
        output.say(f"{options.folder}: {plural(len(files), 'file')}")
        for made in files:
            if made.path.startswith("parquet/"):
                continue  # a table's CSV and Parquet hold the same rows and share a line
            name = made.path
            if name.startswith("csv/"):
                name = f"{name.removesuffix('.csv')}.csv, .parquet"
            output.say(f"  {name}" if made.rows is None else f"  {name:44} {made.rows:>8,}")
