"""``restore``: bring a backup back, into a new or empty place, never over a book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.paths import path_argument


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file", metavar="FILE", type=path_argument, help="the backup; --book says where to"
    )


def run(options: Namespace, context: Context, output: Output) -> int:
    from readiness.book.copies import restore

    restore(options.file.absolute(), context.book.absolute())
    output.say(f"restored to {context.book}")
    return 0
