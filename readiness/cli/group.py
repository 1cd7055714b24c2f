"""``group``: write a group and its turnout."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from readiness.cli.context import Context
from readiness.cli.numbers import whole
from readiness.cli.output import Output
from readiness.cli.parser import day_argument
from readiness.cli.saved import report
from readiness.named import near_name

if TYPE_CHECKING:
    from readiness.entry import Entry


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
    farm: str | None = (options.farm or "").strip() or None
    said: dict[str, Any] = {
        "kind": "group",
        "on": desk.on.isoformat(),
        "group": options.name,
        "turnout": options.turnout.isoformat(),
        "weeks": options.weeks,
        "females": options.females,
        "class": options.category,
        "farm": farm,
        "by": context.who,
    }
    odd = _odd(options.name, farm, desk.book.read() if desk.book.exists() else [])
    outcome = desk.add([{key: value for key, value in said.items() if value not in (None, "")}])
    if odd:
        from readiness.desk import Warning_

        warning = Warning_(outcome.written[0], odd)
        outcome = replace(outcome, warnings=(*outcome.warnings, warning))
    where = f"at {farm}" if farm else "of no farm"
    words = f"{options.name} {where}: turnout {options.turnout.isoformat()}"
    report(outcome, output, as_json=options.json, words=words)
    return 0


def _odd(name: str, farm: str | None, entries: Iterable[Entry]) -> str:
    """What is odd about the farm or the name of a group, before it is written; else ""."""
    bodies = [entry.body for entry in entries if entry.kind in ("bull", "group")]
    farms = {body["farm"] for body in bodies if "farm" in body}
    if farm is not None and bodies and farm not in farms:
        return _new_farm(farm, farms)
    here = {body["group"] for body in bodies if "group" in body and body.get("farm") == farm}
    if near := _nearly(name, here):
        return f"There is a group {near} already; this is another: undo it if that one is meant"
    if farm is not None:
        return ""
    at = {body.get("farm") for body in bodies if body.get("group") == name}
    if len(at) != 1 or None in at:
        return ""
    (other,) = at
    return (
        f"There is a group {name} at {other}; this one is of no farm: give --farm "
        f'"{other}" if it is meant'
    )


def _nearly(name: str, groups: set[str]) -> str | None:
    """The group that is spelt nearly so, where this one is new; not Team 1 for Team 2."""
    near = near_name(name, groups, alike=0.9) if name not in groups else None
    return near if near and _digits(near) == _digits(name) else None


def _digits(name: str) -> list[str]:
    return [letter for letter in name if letter.isdigit()]


def _new_farm(farm: str, farms: set[str]) -> str:
    near = near_name(farm, farms)
    hint = f'; the nearest is {near}: give --farm "{near}" if it is meant' if near else ""
    return f"{farm} is new: no bull and no group of the book is there yet{hint}"
