"""``strike``: withdraw an entry; nothing is ever deleted."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option
from readiness.cli.context import Context
from readiness.cli.output import Output, entry_words, report


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "id", "ID", "the entry's id, as `bull TAG` shows it")
    argument(parser, "--why", "TEXT", "why it is taken back", default="")
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    desk = context.desk()
    outcome = desk.strike(options.id, options.why)
    words = "; ".join(map(entry_words, desk.entries([options.id])))
    report(outcome, output, as_json=options.json, words=f"taken back {words}")
