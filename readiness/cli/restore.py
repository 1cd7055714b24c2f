"""``restore``: bring a backup back, into a new or empty place, never over a book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "file", "FILE", "the backup; --book says where to", type=path_argument)
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.book.copies import restore

    restore(options.file.absolute(), context.book.absolute())
    if options.json:
        output.json({"book": str(context.book), "backup": str(options.file)})
    else:
        output.say(f"restored to {context.book}")
