"""``bull``: one bull, why, and what would make him ready."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.known import known_argument
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("tag", metavar="TAG", help="his tag, or its last digits")
    parser.add_argument("--json", action="store_true", help="for programs")
    parser.add_argument(
        "--known",
        metavar="DATE|DATE-TIME",
        type=known_argument,
        help="as the book knew it then; a day alone means its end",
    )


def run(options: Namespace, context: Context, output: Output) -> int:
    desk = context.desk()
    card = desk.card(options.tag, known=options.known)
    if options.json:
        from readiness.report.as_json import card_json

        output.json(card_json(card))
    else:
        from readiness.report.bull_text import bull_text

        output.say(bull_text(card, desk.on.toordinal(), output.look))
    return 0
