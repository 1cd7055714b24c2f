"""``backup``: a consistent copy of the book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from readiness.cli.context import Context
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", nargs="?", type=Path, help="a new file (default beside the book)"
    )


def run(options: Namespace, context: Context, output: Output) -> int:
    output.say(str(context.desk().book.backup(options.file)))
    return 0
