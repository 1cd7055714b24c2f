"""``retag``: all that is said of a bull, under another tag."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, flag, json_option
from readiness.cli.context import Context
from readiness.cli.output import Output, report


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "tag", "TAG", "his tag in the book, its last digits, or his name")
    argument(parser, "new", "NEW", "the whole tag that he has now")
    flag(parser, "--same", "the bull who has NEW in the book already is this one, too")
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.desk.retagging import retag

    done = retag(context.desk(), options.tag, options.new, same=options.same)
    report(done.outcome, output, as_json=options.json, words=done.words)
