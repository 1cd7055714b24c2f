"""``stats``: how often what was found, with what the numbers can bear."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, known_option, past_day_argument
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, known_words, page_asked, write_page
from readiness.system.errors import UsageError
from readiness.trade.words import plural


def arguments(parser: ArgumentParser) -> None:
    form_options(parser, csv=True)
    argument(parser, "--farm", "NAME", "only lifts of bulls then on this farm")
    text = "only lifts on that day and later"
    argument(parser, "--since", "DATE", text, type=past_day_argument)
    known_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    as_page = page_asked(options)
    desk = context.desk()
    if options.since is not None and options.since > desk.on:
        raise UsageError(
            f"--since {options.since} is after {desk.on}, the last day that counts: give an "
            "earlier day, or a later --on."
        )
    figures = desk.stats(farm=options.farm, since=options.since, known=options.known)
    if options.json:
        from readiness.report.as_json import stats_json

        output.json(stats_json(figures))
    elif options.csv:
        from readiness.report.csv_table import stats_csv

        output.raw(stats_csv(figures))
    elif as_page:
        from readiness.report.stats_page import stats_page

        known = known_words(options.known)
        pieces = stats_page(figures, known=known, large=options.large_print)
        write_page(options, pieces, output, plural(figures.feet, "foot lifted", "feet lifted"))
    else:
        from readiness.report.stats_words import stats_text

        output.say(stats_text(figures, output.look))
