"""``group``: write a group and its turnout, or say more of one."""

from __future__ import annotations

from argparse import SUPPRESS, ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from readiness.book.lookup import near_name
from readiness.cli.arguments import argument, day_argument, flag, json_option, whole
from readiness.cli.context import Context
from readiness.cli.output import Output, report
from readiness.entries.columns import columns_of
from readiness.entries.models import KINDS
from readiness.history.groups import (
    FIELDS,
    Group,
    Key,
    farms_named,
    farms_with,
    groups_of,
    spelt,
)
from readiness.system.errors import UsageError
from readiness.system.plain import plain
from readiness.trade.females import with_class
from readiness.trade.words import FARM_LESS, list_words, plural

if TYPE_CHECKING:
    from readiness.entries.entry import Entry

NONE = "none"
"""What takes a value away."""

_HELP = "`readiness group --help` shows how."


def arguments(parser: ArgumentParser) -> None:
    def said(name: str, metavar: str, text: str, **more: Any) -> None:
        argument(parser, name, metavar, text, default=SUPPRESS, **more)

    argument(parser, "name", "NAME", "the group's name")
    text = "the day they go out (of a group that is there: else the one it has)"
    said("--turnout", "DATE", text, type=day_argument)
    said("--females", "N", "how many females; none: not known any more", type=_whole)
    said("--weeks", "N", "how long the season lasts; none: as the rules say", type=_whole)
    text = "cows or heifers; none: cows (of a new group not said: by its name)"
    said("--class", "C", text, dest="class", type=_class)
    argument(parser, "--farm", "F", "whose it is (default: where there is one of that name)")
    flag(parser, "--new", "make it though another farm has one of that name")
    json_option(parser)


def _whole(text: str) -> int | None:
    return None if text == NONE else whole(text)


def _class(text: str) -> str | None:
    if text == NONE:
        return None
    meant = columns_of(KINDS["group"])["class"].meant(text)
    if meant is None:
        raise ArgumentTypeError(f"{text!r} is not known; write cows, heifers or none")
    return str(meant)


def run(options: Namespace, context: Context, output: Output) -> None:
    desk = context.desk()
    before = desk.standing()
    fields = {name: value for name, value in vars(options).items() if name in FIELDS}
    options.name = plain(options.name).strip()  # as it will stand in the book
    home = context.settings.farm
    key = _which(options, groups_of(before), farms_named(before), home)
    now = groups_of(before, desk.on.toordinal()).get(key)
    outcome = desk.add([_content(key, fields, now, desk.on, context.who)])
    if odd := _odd(key, before):
        from readiness.desk.writing import Warning_

        warning = Warning_(outcome.written[0], odd)
        outcome = replace(outcome, warnings=(*outcome.warnings, warning))
    group = groups_of(desk.standing(), desk.on.toordinal())[key]
    season = desk.rules().for_farm(group.farm).limits.group_weeks
    report(
        outcome, output, as_json=options.json, words=_words(group, season),
        group=_as_json(group, season),
    )  # fmt: skip


def _which(options: Namespace, groups: Collection[Key], farms: Collection[str], home: str) -> Key:
    """The group that is meant, there or new; case and runs of spaces make no other name. ``home``:
    the farm that is meant where none is said and it might be several's. Raises ``UsageError`` where
    it might be another farm's."""
    same = farms_with(options.name, groups)
    farm = None if options.farm is None else spelt(plain(options.farm).strip(), farms)
    home = spelt(home, farms)
    if farm is None and home in same:
        farm = home
    if farm is None and len(same) > 1 and not options.new:
        raise UsageError(
            f"{_at(same)} have a group {options.name}. Nothing was written. Say which is meant: "
            f"{_farm_options(same)}."
        )
    if farm is None:
        farm = same[0] if same and not options.new else home
    if farm in same:
        name = spelt(options.name, [name for of, name in groups if of == farm])
        if options.new:
            raise UsageError(
                f"There is a group {name} {_where(farm)} already. Nothing was written. Leave --new "
                "out to say more of it, or give the farm of the new one with --farm."
            )
        return farm, name
    if same and not options.new:
        name = spelt(options.name, [name for _, name in groups])
        raise UsageError(_elsewhere(name, farm, same, farms))
    return farm, options.name


def _elsewhere(name: str, farm: str, same: Sequence[str], farms: Collection[str]) -> str:
    near = near_name(farm, farms) if farm and farm not in farms else None
    meant = f" ({farm} is no farm of the book; the nearest is {near})" if near else ""
    has = "have" if len(same) > 1 else "has"
    return (
        f"{_at(same)} {has} a group {name}, and there is none {_where(farm)}{meant}. Nothing was "
        f"written. If that one is meant, give {_farm_options(same)}; to make a second one "
        f"{_where(farm)}, give --new too."
    )


def _at(farms: Sequence[str]) -> str:
    return list_words(farm or FARM_LESS for farm in farms)


def _farm_options(farms: Sequence[str]) -> str:
    return list_words((f'--farm "{farm}"' for farm in farms), "or")


def _where(farm: str) -> str:
    return f"at {farm}" if farm else "without a farm"


def _content(
    key: Key, fields: Mapping[str, Any], now: Group | None, on: date, who: str
) -> dict[str, Any]:
    """The entry that says what was said, and no more; but a turnout every entry has. Raises
    ``UsageError`` where nothing is said, and of a new group without its turnout."""
    farm, name = key
    if "turnout" not in fields and now is None:
        raise UsageError(
            f"There is no group {name} {_where(farm)} on {on.isoformat()}. Nothing was written. "
            f"Give --turnout with the day it goes out to make it. {_HELP}"
        )
    if not fields:
        raise UsageError(
            f"Nothing is said of {name} {_where(farm)}. Nothing was written. Give --turnout, "
            f"--females, --weeks or --class. {_HELP}"
        )
    turnout = fields.get("turnout") or date.fromordinal(now.turnout if now else on.toordinal())
    whose = {"farm": farm} if farm else {}
    by = {"by": who} if who else {}
    said = {"kind": "group", "on": on.isoformat(), "group": name, **whose, **by, **fields,
            "turnout": turnout.isoformat()}  # fmt: skip
    return with_class(said) if now is None else said


def _odd(key: Key, entries: Sequence[Entry]) -> str:
    """What is odd about the farm or the name of a group, before it is written; else ""."""
    farm, name = key
    farms = farms_named(entries)
    if farm and entries and farm not in farms:
        near = near_name(farm, farms)
        hint = f'; the nearest is {near}: give --farm "{near}" if it is meant' if near else ""
        return f"{farm} is new: no bull and no group of the book is there yet{hint}"
    here = {other for of, other in groups_of(entries) if of == farm}
    near = near_name(name, here, alike=0.9) if name not in here else None
    if near and _digits(near) == _digits(name):  # not Team 1 for Team 2
        return f"There is a group {near} already; this is another: undo it if that one is meant"
    return ""


def _digits(name: str) -> list[str]:
    return [letter for letter in name if letter.isdigit()]


def _words(group: Group, season: int) -> str:
    """How the group stands. ``season``: weeks where nothing is said."""
    weeks = plural(group.weeks or season, "week")
    last = date.fromordinal(group.last_day(season)).isoformat()
    of_rules = "" if group.weeks else ", as the rules say"
    females = f"{group.females} {group.category}"
    if group.females is None:
        females = f"{group.category}, how many is not said"
    turnout = date.fromordinal(group.turnout).isoformat()
    return (
        f"{group.name} {_where(group.farm or '')}: turnout {turnout}, {weeks} (to {last}"
        f"{of_rules}), {females}"
    )


def _as_json(group: Group, season: int) -> dict[str, Any]:
    return {
        "farm": group.farm,
        "group": group.name,
        "turnout": date.fromordinal(group.turnout).isoformat(),
        "weeks": group.weeks,
        "females": group.females,
        "class": group.category,
        "last_day": date.fromordinal(group.last_day(season)).isoformat(),
    }
