"""``diary``: what is due, by day and by whom, with the days of the season and of the vet."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, farm_option, flag, whole
from readiness.cli.calendar_file import counted_words, ics_option, refuse_stdout
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, page_asked, write_page
from readiness.herd.diary import WHO, Diary, diary, only, planned
from readiness.system.errors import UsageError
from readiness.trade.words import plural

if TYPE_CHECKING:
    from collections.abc import Sequence

    from readiness.cover.ahead import Ahead
    from readiness.desk.desk import Desk
    from readiness.visits.plan import Visit


def arguments(parser: ArgumentParser) -> None:
    form_options(parser, csv=True)
    ics_option(parser)
    argument(parser, "--days", "N", "so many days ahead (default all)", type=whole)
    farm_option(parser)
    argument(parser, "--who", None, "only what this person does", choices=WHO)
    flag(parser, "--visits", "with the return visits planned")
    flag(parser, "--season", "a line for each week instead")


def run(options: Namespace, context: Context, output: Output) -> None:
    refuse_stdout(options.ics)
    as_page = page_asked(options)
    if options.season and (options.csv or as_page):
        raise UsageError("--season is for the text alone: take it away, or --csv, --html, --pdf.")
    desk = context.desk()
    whole_ahead = desk.ahead(farm=options.farm)
    board = whole_ahead.board
    last = None if options.days is None else board.on + options.days
    ahead = whole_ahead.for_person(options.who, last)
    found = (diary if options.json else planned)(board, options.days)
    found = only(found, options.who) if options.who else found
    visits = _visits(desk, options) if options.visits else ()
    if options.ics is not None:  # first: what is printed may find no reader
        _calendar(options, ahead, desk, output)
    if as_page:
        from readiness.report.diary_page import diary_page

        pieces = diary_page(found, ahead, options.who, visits, large=options.large_print)
        write_page(options, pieces, output, _count(found))
    else:
        _say(found, ahead, visits, options, output)


def _say(
    found: Diary, ahead: Ahead, visits: Sequence[Visit], options: Namespace, output: Output
) -> None:
    from readiness.report import ahead_words
    from readiness.report.diary_data import ahead_json, diary_csv
    from readiness.report.diary_lines import diary_text, season_text

    groups, notes = ahead.board.groups, ahead_words.notes(ahead)
    if options.json:
        from readiness.report.as_json import visit_json

        more = {"visits": [visit_json(visit) for visit in visits]} if options.visits else {}
        output.json({**ahead_json(found, ahead), **more})
    elif options.csv:
        output.raw(diary_csv(found, ahead))
    elif options.season:
        output.say(season_text(found, output.look, groups, visits, notes))
    else:
        below = ahead_words.below(ahead)
        output.say(diary_text(found, output.look, groups, visits, ahead.last, notes, below))


def _visits(desk: Desk, options: Namespace) -> Sequence[Visit]:
    from readiness.visits.asked import Wishes

    return desk.visits(Wishes(), farm=options.farm).visits


def _calendar(options: Namespace, ahead: Ahead, desk: Desk, output: Output) -> None:
    from readiness.report.calendar_file import write_calendar
    from readiness.report.ics_diary import diary_appointments, spoken
    from readiness.report.ics_event import DIARY

    found = planned(ahead.board, options.days)
    found = only(found, options.who) if options.who else found
    events = diary_appointments(found, ahead)
    span = spoken(ahead, options.farm, options.who)
    done = write_calendar(options.ics, events, span, desk.clock.now(), DIARY)
    output.note(counted_words(options.ics, done))


def _count(found: Diary) -> str:
    dues = len(found.overdue) + len(found.undated) + sum(len(dues) for _, dues in found.days)
    return plural(dues, "check")
