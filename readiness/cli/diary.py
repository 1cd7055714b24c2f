"""``diary``: what is due, by day and by whom."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, farm_option, flag, json_option, whole
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.herd.diary import WHO, diary, only, planned
from readiness.report.as_json import diary_json, visit_json
from readiness.report.diary_lines import diary_text, season_text
from readiness.visits.asked import Wishes


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)
    argument(parser, "--days", "N", "so many days ahead (default all)", type=whole)
    farm_option(parser)
    argument(parser, "--who", None, "only what this person does", choices=WHO)
    flag(parser, "--visits", "with the return visits planned")
    flag(parser, "--season", "a line for each week instead")


def run(options: Namespace, context: Context, output: Output) -> None:
    desk = context.desk()
    board = desk.board(farm=options.farm)
    made = diary if options.json else planned
    found = made(board, options.days)
    found = only(found, options.who) if options.who else found
    last = None if options.days is None else board.on + options.days
    visits = desk.visits(Wishes(), farm=options.farm).visits if options.visits else ()
    if options.json:
        more = {"visits": [visit_json(visit) for visit in visits]} if options.visits else {}
        output.json({**diary_json(found, board.groups), **more})
    elif options.season:
        output.say(season_text(found, output.look, board.groups, visits))
    else:
        output.say(diary_text(found, output.look, board.groups, visits, last))
