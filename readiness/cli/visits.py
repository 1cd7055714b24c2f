"""``visits``: the fewest return visits that cover what is outstanding of the trimmer's."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from readiness.cli.arguments import (
    Meant,
    argument,
    day_argument,
    farm_option,
    json_option,
    whole,
)
from readiness.cli.calendar_file import counted_words, ics_option, refuse_stdout
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.report.as_json import changes_json, visits_json
from readiness.report.visits_text import missed_lines, visits_text, what_if_text
from readiness.system.background import Background
from readiness.system.errors import UsageError
from readiness.trade.words import full_day_words, list_words
from readiness.visits.asked import Promise, Wishes
from readiness.visits.plan import (
    VisitPlan,
    days_of_visits,
    days_to_move,
    what_changes,
    with_moved,
    without_visits,
)

if TYPE_CHECKING:
    from readiness.desk.desk import Desk

SECONDS = 20
MOST_DAYS, MOST_MINUTES, MOST_SECONDS = 366, 1440, 3600


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)
    ics_option(parser)
    farm_option(parser)
    text = "the first day on which to come (default the day assessed)"
    argument(parser, "--from", "DATE", text, dest="first", type=day_argument)
    argument(parser, "--days", "N", "days ahead (default: visits.ahead)", type=whole)
    argument(parser, "--minutes", "N", "of one day (default: minutes.day)", type=whole)
    again: Any = {"action": "append", "default": [], "type": farm_day}
    text = 'a visit that is promised; with several farms "DATE FARM"; may be given again'
    argument(parser, "--keep", "DATE", text, **again)
    what_if = parser.add_mutually_exclusive_group()
    text = "what if the visit planned for that day were dropped; may be given again"
    argument(what_if, "--without", "DATE", text, **again)
    text = "what if the visit planned for that day were on another"
    what_if.add_argument("--move", metavar=("DATE", "TO"), nargs=2, type=farm_day, help=text)
    text = f"how long to look for the best plan (default {SECONDS})"
    argument(parser, "--seconds", "N", text, type=whole, default=SECONDS)


def farm_day(text: str) -> tuple[date | Meant, str | None]:
    """A day, and the farm behind it where one is named: "2026-04-07 Hill End"."""
    from readiness.trade.days import day_at

    said = text.strip()
    end = day_at(said)
    if not end:
        raise ArgumentTypeError(f'{text!r} is no day; write 2026-04-07, or "2026-04-07 FARM"')
    return day_argument(said[:end]), said[end:].strip() or None


def run(options: Namespace, context: Context, output: Output) -> None:
    refuse_stdout(options.ics)
    desk = context.desk()
    wishes = _wishes(options)
    plan = _planned(desk, wishes, options, output)
    if options.without or options.move:
        _what_if(plan, options, output)
        return
    if options.ics is not None:  # first: what is printed may find no reader
        _calendar(options.ics, plan, desk, output)
    if options.json:
        output.json(visits_json(plan))
    else:
        output.say(visits_text(plan, output.look))


def _wishes(options: Namespace) -> Wishes:
    within = (
        ("--days", options.days, 0, MOST_DAYS),
        ("--minutes", options.minutes, 1, MOST_MINUTES),
        ("--seconds", options.seconds, 0, MOST_SECONDS),
    )
    for name, given, least, most in within:
        if given is not None and not least <= given <= most:
            raise UsageError(f"{name} {given} is out of range: give {least} to {most}.")
    kept = tuple(Promise(day, farm) for day, farm in options.keep)
    return Wishes(options.first, options.days, options.minutes, kept)


def _planned(desk: Desk, wishes: Wishes, options: Namespace, output: Output) -> VisitPlan:
    """The plan, worked out in a background thread, so that Ctrl+C works and progress is shown."""

    def work() -> VisitPlan:
        return desk.visits(wishes, farm=options.farm, seconds=float(options.seconds))

    def still(seconds: float) -> bool:
        output.passing("planning, seconds", int(seconds), options.seconds)
        return True

    try:
        return Background(work, may_be_left=True).result(still)
    finally:
        output.passed()


def _what_if(plan: VisitPlan, options: Namespace, output: Output) -> None:
    """The plan with a visit moved or some dropped, and what that changes."""
    after, what = (_moved if options.move else _dropped)(plan, options)
    if options.ics is not None:
        raise UsageError("--ics writes the plan as it is: take --without or --move away.")
    changed = what_changes(plan, after)
    if options.json:
        output.json({**visits_json(after), "changes": changes_json(changed)})
    else:
        missed = missed_lines(after, plan)
        output.say(what_if_text(what, missed, changed, plan.board.on, output.look))


def _dropped(plan: VisitPlan, options: Namespace) -> tuple[VisitPlan, str]:
    dropped = [_visit(plan, day, farm) for day, farm in options.without]
    days = list_words(_words(day, farm) for farm, day in dropped)
    after = without_visits(plan, dropped, float(options.seconds))
    return after, f"Without the visit of {days}, and none in its place:"


def _moved(plan: VisitPlan, options: Namespace) -> tuple[VisitPlan, str]:
    (day, named), (to, _) = options.move
    farm, on = _visit(plan, day, named)
    others = days_of_visits(plan)
    others[farm].remove(on)
    if to.toordinal() not in days_to_move(plan, farm, others):
        here = next(each for each in plan.asked.farms if each.name == farm)
        name = here.holidays.get(to.toordinal())
        why = (
            f"that is {name}, a public holiday of visits.holidays"
            if name
            else "that is no working day of the plan, or one on which somebody is visited already"
        )
        raise UsageError(f"The visit cannot be on {to.isoformat()}: {why}.")
    after = with_moved(plan, farm, on, to.toordinal(), float(options.seconds))
    return after, f"The visit of {_words(on, farm)} on {_words(to.toordinal(), '')} instead:"


def _words(day: int, farm: str) -> str:
    return f"{full_day_words(day)}{f' at {farm}' if farm else ''}"


def _visit(plan: VisitPlan, day: date, farm: str | None) -> tuple[str, int]:
    """The visit that is meant: (farm, day)."""
    on = day.toordinal()
    here = [visit.farm for visit in plan.visits if visit.on == on and farm in (None, visit.farm)]
    if not here:
        where = f" at {farm}" if farm else ""
        raise UsageError(f"No visit is planned for {day.isoformat()}{where}: `visits` lists them.")
    if len(here) > 1:
        raise UsageError(
            f'Which visit on {day.isoformat()}? Write "{day.isoformat()} FARM"; on that day are '
            f"{' and '.join(here)}."
        )
    return here[0], on


def _calendar(path: Path, plan: VisitPlan, desk: Desk, output: Output) -> None:
    from readiness.report.calendar_file import write_calendar
    from readiness.report.ics import appointments, span_of

    done = write_calendar(path, appointments(plan), span_of(plan), desk.clock.now())
    output.note(counted_words(path, done))
