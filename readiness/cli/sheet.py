"""``sheet``: the day sheet that is left at the farm."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import farm_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, page_asked, write_page
from readiness.system.errors import NotFound
from readiness.trade.words import plural


def arguments(parser: ArgumentParser) -> None:
    form_options(parser)
    farm_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    as_page = page_asked(options)
    from readiness.report.paper import next_visits
    from readiness.report.sheet_text import nothing

    desk = context.desk()
    sheets, last = desk.day_sheets(farm=options.farm)
    if not sheets:
        raise NotFound(nothing(desk.on.toordinal(), options.farm, last))
    plan = next_visits(desk)
    if options.json:
        from readiness.report.as_json import sheets_json

        output.json(sheets_json(sheets, desk.on.toordinal(), plan.visits))
    elif as_page:
        from readiness.report.sheet_page import sheet_page

        bulls = plural(sum(len(sheet.bulls) for sheet in sheets), "bull")
        pieces = sheet_page(sheets, plan, large=options.large_print)
        write_page(options, pieces, output, f"day sheet of {bulls}")
    else:
        from readiness.report.sheet_text import sheet_text

        output.say(sheet_text(sheets, plan, output.look))
