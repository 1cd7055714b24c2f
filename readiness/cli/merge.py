"""``merge``: take in another copy of the book."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, flag, json_option, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    text = "another copy of the book: a book or backup, an export, or a journal"
    argument(parser, "other", "OTHER", text, type=path_argument)
    flag(parser, "--check", "only look: what would come in, and what disagrees; write nothing")
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.report.as_json import as_json
    from readiness.report.merging_text import merging_lines

    merging = context.desk().merge(options.other, check=options.check)
    output.warn(merging.remarks)
    if options.json:
        output.json(as_json(merging))
        return
    for line in merging_lines(merging, output.look.width):
        output.say(line)
