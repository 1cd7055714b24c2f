"""``group``: write a group and its turnout."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import Any

from readiness.cli.context import Context
from readiness.cli.numbers import whole
from readiness.cli.output import Output
from readiness.cli.parser import day_argument
from readiness.cli.saved import report


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="the group's name")
    parser.add_argument(
        "--turnout", metavar="DATE", type=day_argument, required=True, help="the day they go out"
    )
    parser.add_argument("--females", metavar="N", type=whole, help="how many females")
    parser.add_argument("--weeks", metavar="N", type=whole, help="how long the season lasts")
    parser.add_argument(
        "--class", dest="category", choices=("cows", "heifers"), help="of females (default cows)"
    )
    parser.add_argument("--farm", metavar="F", help="whose group it is (default the unnamed farm)")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    desk = context.desk()
    said: dict[str, Any] = {
        "kind": "group",
        "on": desk.on.isoformat(),
        "group": options.name,
        "turnout": options.turnout.isoformat(),
        "weeks": options.weeks,
        "females": options.females,
        "class": options.category,
        "farm": options.farm,
        "by": context.who,
    }
    outcome = desk.add([{key: value for key, value in said.items() if value not in (None, "")}])
    words = f"{options.name}: turnout {options.turnout.isoformat()}"
    report(outcome, output, as_json=options.json, words=words)
    return 0
