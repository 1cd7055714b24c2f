"""``backup``: a consistent copy of the book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.paths import path_argument


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file",
        metavar="FILE",
        nargs="?",
        type=path_argument,
        help="a new file (default beside the book)",
    )


def run(options: Namespace, context: Context, output: Output) -> int:
    output.say(str(context.desk().book.backup(options.file)))
    return 0
