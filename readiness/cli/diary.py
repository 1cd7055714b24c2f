"""``diary``: what is due, by day and by whom."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.parser import whole
from readiness.herd.diary import WHO, diary, only, planned

if TYPE_CHECKING:
    from readiness.visits.plan import Visit


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="for programs")
    parser.add_argument("--days", metavar="N", type=whole, help="so many days ahead (default all)")
    parser.add_argument("--farm", metavar="NAME", help="only this farm")
    parser.add_argument("--who", choices=WHO, help="only what this person does")
    parser.add_argument("--visits", action="store_true", help="with the return visits planned")
    parser.add_argument("--season", action="store_true", help="a line for each week instead")


def run(options: Namespace, context: Context, output: Output) -> int:
    desk = context.desk()
    board = desk.board(farm=options.farm)
    made = diary if options.json else planned
    found = made(board, options.days)
    found = only(found, options.who) if options.who else found
    last = None if options.days is None else board.on + options.days
    visits: tuple[Visit, ...] = ()
    if options.visits:
        from readiness.visits.asked import Wishes

        visits = desk.visits(Wishes(), farm=options.farm).visits
    if options.json:
        from readiness.report.as_json import diary_json, visit_json

        more = {"visits": [visit_json(visit) for visit in visits]} if options.visits else {}
        output.json({**diary_json(found, board.groups), **more})
    elif options.season:
        from readiness.report.diary_lines import season_text

        output.say(season_text(found, output.look, board.groups, visits))
    else:
        from readiness.report.diary_lines import diary_text

        output.say(diary_text(found, output.look, board.groups, visits, last))
    return 0
