"""``backup``: a consistent copy of the book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    text = "a new file (default beside the book)"
    argument(parser, "file", "FILE", text, nargs="?", type=path_argument)
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    made = str(context.desk().book.backup(options.file))
    if options.json:
        output.json({"file": made})
    else:
        output.say(made)
