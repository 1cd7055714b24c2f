"""``bull``: one bull, why, and what would make him ready."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, known_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, known_words, page_asked, write_page


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "tag", "TAG", "his tag, its last digits, or his name")
    form_options(parser)
    known_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    as_page = page_asked(options)
    desk = context.desk()
    card = desk.card(options.tag, known=options.known)
    if options.json:
        from readiness.report.as_json import card_json

        output.json(card_json(card, desk.on.toordinal()))
    elif as_page:
        from readiness.report.bull_page import bull_page

        known = known_words(options.known)
        pieces = bull_page(card, desk.on.toordinal(), known=known, large=options.large_print)
        write_page(options, pieces, output, card.assessment.bull)
    else:
        from readiness.report.bull_text import bull_text

        output.say(bull_text(card, desk.on.toordinal(), output.look))
