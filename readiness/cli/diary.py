"""``diary``: what is due, by day and by whom."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.numbers import whole
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="for programs")
    parser.add_argument("--days", metavar="N", type=whole, help="so many days ahead (default all)")


def run(options: Namespace, context: Context, output: Output) -> int:
    diary = context.desk().diary(days=options.days)
    if options.json:
        from readiness.report.as_json import diary_json

        output.json(diary_json(diary))
    else:
        from readiness.report.diary_text import diary_text

        output.say(diary_text(diary, output.look))
    return 0
