"""``cover``: are the bulls enough for the females, how sure is that, which moves mend it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import page_arguments, page_asked, write_page
from readiness.cli.parser import day_argument, whole
from readiness.system.errors import UsageError
from readiness.trade.words import plural

MOST_FEMALES = 100_000


def arguments(parser: ArgumentParser) -> None:
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="for programs")
    form.add_argument("--csv", action="store_true", help="for spreadsheets (RFC 4180)")
    page_arguments(parser, form)
    parser.add_argument("--farm", metavar="NAME", help="only this farm")
    parser.add_argument("--group", metavar="NAME", help="only this group")
    parser.add_argument(
        "--turnout", metavar="DATE", type=day_argument, help="what if turnout were then"
    )
    parser.add_argument("--females", metavar="N", type=whole, help="what if each group had so many")
    parser.add_argument(
        "--take", action="store_true", help="write the moves that mend a shortage, as one batch"
    )


def run(options: Namespace, context: Context, output: Output) -> int:
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
        from readiness.cli.saved import report
        from readiness.cover.moves import joins
        from readiness.report.cover_words import move_words

        if not cover.moves:
            raise UsageError("No move mends a shortage here: nothing was written.")
        outcome = desk.add(joins(cover.moves, desk.on, context.who))
        report(
            outcome,
            output,
            as_json=options.json,
            words=". ".join(map(move_words, cover.moves)) + ".",
        )
        return 0
    if options.json:
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
    return 0
