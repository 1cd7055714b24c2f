"""The checks on the feet themselves: lifts, looks, healed, blocks, wraps. They are the trimmer's,
but for a wrap, which the farmer takes off, and a look so soon that no trimmer is there."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import ceil, floor

from readiness.engine import say
from readiness.engine.plan import Case, Plan
from readiness.history import History
from readiness.history.finding import Finding, plausible_day
from readiness.history.records import Block, Mark
from readiness.rules.model import Rules
from readiness.trade.feet import FEET

_Plan = partial(Plan, who="trimmer")


def feet_plans(case: Case) -> list[Plan]:
    """Every outstanding check on the feet but the routine lift, whatever the turnout, in the order
    in which their days follow each other."""
    offs = list(_block_offs(case))
    looks: list[Plan] = []
    clears: list[Plan] = []
    for finding in case.state.feet.open.values():
        if finding.holds:
            _finding(case, finding, offs, looks, clears)
    bare = list(_wrap_offs(case))
    return [*_lift(case), *offs, *bare, *looks, *clears, *_block_looks(case, offs)]


def routine_lift(case: Case, turnout: int) -> Iterator[Plan]:
    """The feet that nobody has had in hand for too long by turnout."""
    state, limits = case.state, case.limits
    oldest = turnout - limits.feet_oldest
    missing = tuple([foot for foot in FEET if state.last_lift(foot) < oldest])
    if missing:
        yield _Plan(
            check="feet",
            rule="feet.oldest",
            text=f"lift and trim {say.listed(missing)}",
            feet=missing,
            due=None if case.promised is None else case.promised - limits.feet_due,
            advised_by=None if case.promised is None else case.promised - limits.feet_advised,
            oldest=limits.feet_oldest,
        )


def _lift(case: Case) -> Iterator[Plan]:
    unmet = case.state.missing_lifts()
    if not unmet:
        return
    limits = case.limits
    missing = tuple(foot for foot in FEET if any(foot == asked for asked, _ in unmet))
    due, rule = min(
        (ask.day + limits.lame_lift_worst, "lame.lift_worst")
        if ask.worst
        else (ask.day + limits.lame_lift, "lame.lift")
        for _, ask in unmet
    )
    yield _Plan(
        check="lift",
        rule=rule,
        text=f"lift {say.listed(missing)}",
        feet=missing,
        due=due,
        since=min(ask.day for _, ask in unmet),
    )


def look_day(finding: Finding, rules: Rules) -> tuple[int, int] | None:
    """(day, interval) of the next look that a holding finding asks for: the first of its series
    without a look, or, the series over, again after its last interval."""
    series = rules.findings[finding.code].looks
    slack = rules.limits.look_slack
    for days in series:
        if finding.looked < finding.clock + days - floor(days * slack):
            return finding.clock + days, days
    return (finding.looked + series[-1], series[-1]) if series else None


def named(finding: Finding, rules: Rules) -> str:
    """ "sole ulcer LF outer"."""
    return f"{rules.findings[finding.code].name} {say.place(finding.foot, finding.claw)}"


def _of(finding: Finding, check: str, rule: str, text: str) -> Plan:
    return Plan(
        check, f"{rule}.{finding.code}", "trimmer", text,
        foot=finding.foot, claw=finding.claw, code=finding.code, since=finding.first,
    )  # fmt: skip


def _finding(
    case: Case, finding: Finding, offs: list[Plan], looks: list[Plan], clears: list[Plan]
) -> None:
    """What one holding finding asks for: to be seen healed, and a look before where one is due."""
    rules = case.state.rules
    name = named(finding, rules)
    clear = _of(finding, "clear", "clear.days", f"is {name} healed?")
    _plausible(clear, finding, rules)
    first = plausible_day(finding, rules)
    for off in offs:
        if off.foot == finding.foot:
            clear.behind(off, 0, off.rule, "seen healed once the block is off")
            first = max(first, off.first)
    clears.append(clear)
    due = look_day(finding, rules)
    if due is None:
        return
    day, interval = due
    slack = rules.limits.look_slack
    late = ceil(interval * slack)
    if day >= first:
        clear.due = day + late
        return
    look = _of(finding, "look", "look.days", f"look at {name}")
    look.due = day + late
    if interval <= rules.limits.look_farmer:
        look.who = "farmer"
    opens = day - floor(interval * slack)
    seen = Mark(finding.looked, finding.entries[-1])
    look.after(seen, opens - finding.looked, look.rule, "look again")
    clear.behind(look, 0, look.rule, "looked at before it is seen healed")
    looks.append(look)


def _plausible(clear: Plan, finding: Finding, rules: Rules) -> None:
    days = rules.findings[finding.code].clear
    wait = days[finding.clock_severity - 1] if days else 0
    clear.after(
        Mark(finding.clock, finding.clock_entry), wait, clear.rule, "healed is plausible from here"
    )
    clear.after(
        Mark(finding.seen, finding.seen_entry),
        rules.limits.clear_after_open,
        "clear.after_open",
        "not sooner after it was found open",
    )
    since = finding.floor - finding.floor_from.day
    clear.after(finding.floor_from, since, clear.rule, "not sooner than under its former name")


def wrong_block(state: History, block: Block) -> Finding | None:
    """The holding finding that the blocked claw itself carries, the first that made it wrong."""
    wrong = [
        finding
        for finding in state.feet.open.values()
        if finding.holds and (finding.foot, finding.claw) == (block.foot, block.claw)
    ]
    return min(
        wrong, key=lambda finding: (max(block.day, finding.held), finding.code), default=None
    )


def _block_offs(case: Case) -> Iterator[Plan]:
    limits = case.limits
    for block in case.state.blocks.values():
        wrong = wrong_block(case.state, block)
        where = say.place(block.foot, block.claw)
        off = _Plan(
            check="block-off", rule="block.least", text=f"block off {where}",
            foot=block.foot, claw=block.claw, since=block.day, due=block.day + limits.block_most,
        )  # fmt: skip
        if wrong is None:
            fitted = Mark(block.day, block.entry)
            off.after(fitted, limits.block_least, off.rule, "block on this long")
        else:
            off.rule = "block.wrong"
            since, entry = max((block.day, block.entry), (wrong.held, wrong.held_entry))
            off.after(Mark(since, entry), 0, off.rule, "block on a claw with a finding")
            off.due = since + limits.block_wrong
            off.text = f"block off {where}: this claw carries a finding"
        yield off


def _wrap_offs(case: Case) -> Iterator[Plan]:
    for wrap in case.state.wraps.values():
        off = _Plan(
            check="wrap-off", rule="wrap.most", who="farmer", text=f"wrap off {wrap.foot}",
            foot=wrap.foot, since=wrap.day, due=wrap.day + case.limits.wrap_most,
        )  # fmt: skip
        off.after(Mark(wrap.day, wrap.entry), 1, off.rule, "wrapped")
        yield off


def _block_looks(case: Case, offs: list[Plan]) -> Iterator[Plan]:
    """A lift of the foot on the day of block-off or later: planned, or still missing."""
    text = "look under the block {}"
    for off in offs:
        look = _Plan(
            check="block-look", rule="block.look", text=text.format(say.place(off.foot, off.claw)),
            foot=off.foot, claw=off.claw, since=off.since,
        )  # fmt: skip
        look.behind(off, 0, look.rule, "both claws are looked at once the block is off")
        yield look
    for block in case.state.block_off.values():
        if case.state.last_lift(block.foot) < block.day:
            look = _Plan(
                check="block-look", rule="block.look", foot=block.foot, claw=block.claw,
                text=text.format(say.place(block.foot, block.claw)),
                since=block.day, due=block.day + case.limits.block_look,
            )  # fmt: skip
            look.after(Mark(block.day, block.entry), 0, look.rule, "the block came off")
            yield look
