"""What is odd in an entry and may yet be true: warned of, never refused.

These need the bull's history; what an entry shows by itself is ``readiness.entries.oddities``.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from typing import Any

from readiness.engine import say
from readiness.entry import Entry
from readiness.findings import claws_of, plausible_day
from readiness.history import History, advance
from readiness.rules.model import Rules

Body = Mapping[str, Any]


def oddities_of_bull(
    entries: Iterable[Entry], rules: Rules, today: int, asked: Collection[str]
) -> Iterator[tuple[str, str]]:
    """(entry id, warning) for each of the ``asked`` entries of one bull.

    ``entries``: all of his, in ``entry_order``. ``today``: an ordinal; what lies after it is odd.
    """
    state = History(rules)
    for entry in entries:
        if entry.id in asked:
            for text in oddities(entry.body, entry.kind, entry.day, state, today):
                yield entry.id, text
        advance(state, entry)


def oddities(body: Body, kind: str, day: int, before: History, today: int) -> list[str]:
    """Warnings about one entry, given his history before it."""
    found = []
    if day > today:
        found.append(
            f"dated {say.day(day, today)}, which is still to come: it counts from that day"
        )
    if before.gone:
        found.append("he has left: the entry is kept and changes nothing; strike the leaving first")
        return found
    look = _BY_KIND.get(kind)
    if look is not None:
        found += look(body, day, before)
    return found


def _feet(body: Body, day: int, before: History) -> list[str]:
    return [
        *_missing(body.get("healed", ()), "code", "healed", before),
        *_missing((f for f in body.get("findings", ()) if "was" in f), "was", "renamed", before),
        *_too_soon(body, day, before),
    ]


def _missing(items: Iterable[Body], field: str, said: str, before: History) -> Iterator[str]:
    for item in items:
        for claw in claws_of(item["claw"]):
            if (item["foot"], claw, item[field]) not in before.feet.open:
                where = say.place(item["foot"], claw)
                yield f"{said} {item[field]} {where}: no such finding was open there"


def _too_soon(body: Body, day: int, before: History) -> Iterator[str]:
    rules = before.rules
    low = [
        (item, item.get("was", item["code"]))
        for item in body.get("findings", ())
        if "severity" in item or "stage" in item or "was" in item
    ]
    for item, code in [(item, item["code"]) for item in body.get("healed", ())] + low:
        healed = item in body.get("healed", ())
        for claw in claws_of(item["claw"]):
            finding = before.feet.open.get((item["foot"], claw, code))
            if finding is None or not finding.holds:
                continue
            rule = rules.findings[item["code"]]
            stage = item.get("stage") or (finding.stage if code == item["code"] else None)
            severity = item.get("severity") or (1 if "was" in item else finding.severity)
            if not healed and rule.holds(severity, stage):
                continue
            plausible = plausible_day(finding, rules)
            if day < plausible:
                yield (
                    f"{code} {say.place(item['foot'], claw)} cannot be believed gone before "
                    f"{say.day(plausible, day)}: this counts as a look, and he is held until a "
                    "lift from that day on says so again"
                )


def _block_on(body: Body, day: int, before: History) -> list[str]:
    foot, claw = body["foot"], body["claw"]
    there = [f for f in before.feet.open.values() if (f.foot, f.claw) == (foot, claw)]
    names = ", ".join(before.rules.findings[finding.code].name for finding in there)
    found = []
    if there:
        found.append(
            f"{say.place(foot, claw)} carries an open finding ({names}): a block belongs on the "
            "sound claw; take it off"
        )
    if (foot, claw) in before.blocks:
        fitted = say.day(before.blocks[foot, claw].day, day)
        found.append(f"a block has been on {say.place(foot, claw)} since {fitted}: counted as new")
    return found


def _block_off(body: Body, day: int, before: History) -> list[str]:
    if (body["foot"], body["claw"]) in before.blocks:
        return []
    return [f"no block was on {say.place(body['foot'], body['claw'])}: this changes nothing"]


def _mobility(body: Body, day: int, before: History) -> list[str]:
    scale, run = before.rules.mobility[body["scale"]], before.run
    if body["score"] >= scale.lame:
        return []
    if before.blocks:
        return ["not lame, but on a block: no walk counts until the block is off and settled"]
    if run is not None and day < run.last + before.rules.limits.mobility_again:
        again = say.day(run.last + before.rules.limits.mobility_again, day)
        return [f"sound too soon after he was last lame to count: score him again from {again}"]
    return []


def _moved(body: Body, day: int, before: History) -> list[str]:
    """A bull let out with a block on or lame is what this program is there to prevent."""
    if body["act"] != "out":
        return []
    held = ["he is lame"] if before.run else []
    held += [f"a block is on {say.place(*place)}" for place in before.blocks]
    held += [
        f"{before.rules.findings[f.code].name} {say.place(f.foot, f.claw)} is open"
        for f in before.feet.open.values()
        if f.holds
    ]
    return [f"out while on hold: {'; '.join(held)}"] if held else []


def _check(body: Body, day: int, before: History) -> list[str]:
    if any(own.name == body["check"] for own in before.rules.checks):
        return []
    return [f"the rules know no check named {body['check']}: kept, and it changes nothing"]


_BY_KIND: dict[str, Callable[[Body, int, History], list[str]]] = {
    "feet": _feet,
    "block-on": _block_on,
    "block-off": _block_off,
    "mobility": _mobility,
    "moved": _moved,
    "check": _check,
}
