"""``log``: write what was seen or done, in shorthand, and read it back in words."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.saved import report


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("tag", metavar="TAG", help="his tag, its last digits, or his name")
    parser.add_argument(
        "shorthand",
        metavar="SHORTHAND",
        nargs="+",
        help='as "lf o su@4/2 pare; walk 1; cond 3.25" (quote it: ; ends a shell command)',
    )
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    outcome, words = context.desk().log(options.tag, " ".join(options.shorthand))
    report(outcome, output, as_json=options.json, words=words)
    return 0
