"""``restore``: bring a backup back, into a new or empty place, never over a book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "file", "FILE", "the backup; --book says where to", type=path_argument)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.book.copies import restore

    restore(options.file.absolute(), context.book.absolute())
    output.say(f"restored to {context.book}")
