"""``strike``: withdraw an entry; nothing is ever deleted."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.saved import report


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("id", metavar="ID", help="the entry's id, as `bull TAG` shows it")
    parser.add_argument("--why", metavar="TEXT", default="", help="why it is withdrawn")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    outcome = context.desk().strike(options.id, options.why)
    report(outcome, output, as_json=options.json, words=f"withdrawn {options.id}")
    return 0
