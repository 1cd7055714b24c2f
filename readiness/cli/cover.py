"""``cover``: are the bulls enough for the females, how sure is that, which moves mend it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, day_argument, farm_option, flag, whole
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, page_asked, write_page
from readiness.system.errors import UsageError
from readiness.trade.words import plural

if TYPE_CHECKING:
    from readiness.cover.whole import Cover
    from readiness.desk.desk import Desk

MOST_FEMALES = 100_000


def arguments(parser: ArgumentParser) -> None:
    form_options(parser, csv=True)
    farm_option(parser)
    argument(parser, "--group", "NAME", "only this group")
    argument(parser, "--turnout", "DATE", "what if turnout were then", type=day_argument)
    argument(parser, "--females", "N", "what if each group had so many", type=whole)
    flag(parser, "--take", "write the moves that mend a shortage, as one batch")


def run(options: Namespace, context: Context, output: Output) -> None:
    as_page = page_asked(options)
    if options.females is not None and options.females > MOST_FEMALES:
        raise UsageError(f"--females {options.females} is too many: give at most {MOST_FEMALES}.")
    if options.take and (options.turnout is not None or options.females is not None):
        raise UsageError("--take writes what mends the plan as it is: take the what-if away.")
    desk = context.desk()
    cover = desk.reading().cover(
        farm=options.farm, group=options.group, turnout=options.turnout, females=options.females
    )
    if options.take:
        _take(cover, desk, options, context, output)
    elif options.json:
        from readiness.report.cover_data import cover_json

        output.json(cover_json(cover))
    elif options.csv:
        from readiness.report.cover_data import cover_csv

        output.raw(cover_csv(cover))
    elif as_page:
        from readiness.report.cover_page import cover_page

        pieces = cover_page(cover, large=options.large_print, turnout=options.turnout)
        write_page(options, pieces, output, plural(len(cover.groups), "group"))
    else:
        from readiness.report.cover_text import cover_text

        output.say(cover_text(cover, output.look))


def _take(cover: Cover, desk: Desk, options: Namespace, context: Context, output: Output) -> None:
    from readiness.cli.output import report
    from readiness.cover.moves import joins
    from readiness.report.cover_words import move_words

    if not cover.moves:
        raise UsageError("No move mends a shortage here: nothing was written.")
    outcome = desk.add(joins(cover.moves, desk.on, context.who))
    words = "".join(f"{move_words(move)}. " for move in cover.moves)
    report(outcome, output, as_json=options.json, words=words)
