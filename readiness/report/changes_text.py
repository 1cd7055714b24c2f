"""Which bulls change and why, in words: another turnout, a visit moved or dropped."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.cover.what_if import Calving, WhatIf
from readiness.engine.care import cares
from readiness.engine.results import Assessment
from readiness.herd.changes import Cause, Change
from readiness.report.look import Look, hanging
from readiness.report.rows import short_tags
from readiness.system.plain import plain
from readiness.trade.words import Day, column_day, day_words, days_words, list_words, plural

NOBODY = "No bull changes."
IN_ALL = "In all:"
_DONE = {
    "feet": "the lift of his feet",
    "mobility": "his walk",
    "condition": "his condition score",
    "vet-exam": "his examination",
}
_TOO_YOUNG = "age.least"
# What several checks share is said once, before their names.
_LISTED = {"day-gained": "a day now for: ", "day-lost": "no day before turnout for: "}


def changes_lines(changed: Iterable[Change], on: Day, look: Look) -> list[str]:
    """A line for each bull that changes; one that says so where none does."""
    large, minor = changes_words(changed, on)
    lines = [look.paint("head", "Bulls that change:")] if large else []
    for words in (*map(look.plain_marks, large), *minor):
        lines += hanging(words, look.width)
    return lines or [NOBODY]


def changes_words(changed: Iterable[Change], on: Day) -> tuple[list[str], list[str]]:
    """What changes for each bull; and, where there are any, how many others have more or fewer days
    to spare and are no worse off."""
    found = list(changed)
    names = short_tags(change.after.bull for change in found)
    large = [change_words(change, names, on) for change in found if not change.minor]
    minor = len(found) - len(large)
    more = f"{plural(minor, 'bull')} more: only the days to spare change."
    return large, [more] if minor else []


def change_words(change: Change, names: dict[str, str], on: Day) -> str:
    """ "00388 Gorse: 1 day too late → 21 days to spare (could go 10 Apr)"."""
    before, after = change.before, change.after
    who = f"{names[after.bull]} {after.name or ''}".strip()
    was, now = standing_words(before), standing_words(after)
    ready = ""
    if after.earliest_ready is not None and after.status != "GO":
        ready = f"could go {column_day(after.earliest_ready, on)}"
        if before.earliest_ready not in (None, after.earliest_ready):
            least = "not before " if change.open_end else ""
            was_ready, now_ready = before.earliest_ready or 0, after.earliest_ready
            ready = f"could go {column_day(was_ready, on)} → {least}{column_day(now_ready, on)}"
    stands = f"{was} → {now}" if was != now else now
    asides = ", ".join(filter(None, (ready, *why_words(change.why))))
    return plain(f"{who}: {stands}{f' ({asides})' if asides else ''}")


def why_words(why: Iterable[Cause]) -> list[str]:
    """Each thing that makes him stand otherwise; the checks that get or lose a day, together."""
    causes = list(why)
    said = [_cause_words(each) for each in causes if each.what not in _LISTED]
    for what, lead in _LISTED.items():
        if texts := [each.text for each in causes if each.what == what]:
            said.append(lead + "; ".join(texts))
    return said


def _cause_words(cause: Cause) -> str:
    done = _DONE.get(cause.kind or "", cause.kind)
    if cause.what == "reason-goes":
        return "old enough now" if cause.rule == _TOO_YOUNG else f"no more: {cause.text}"
    if cause.what == "reason-comes":
        return cause.text
    if cause.what == "too-old":
        return f"{done} grows too old"
    if cause.what == "recent-enough":
        return f"{done} is recent enough"
    return f"{'asked for' if cause.what == 'asked' else 'asked for no more'}: {cause.text}"


def sum_words(found: WhatIf, on: Day) -> list[str]:
    """What it comes to in all, a sentence each: the bulls that become ready in time or are lost,
    the jobs, the first calves; none where it comes to nothing."""
    if found.nothing:
        return []
    one = {True: "becomes ready in time, if every check passes", False: "is lost to it"}
    many = {True: "become ready in time, if every check passes", False: "are lost to it"}
    bulls = [
        f"{plural(len(of), 'bull')} {(one if len(of) == 1 else many)[gained]}: {_names(of)}."
        for of, gained in ((found.ready, True), (found.lost, False))
        if of
    ]
    several = len(found.calving) > 1
    return [
        *map(plain, bulls or ["No bull becomes ready in time, and none is lost to it."]),
        _jobs(found.jobs_added, found.jobs_gone),
        *(plain(_calving(each, on, several=several)) for each in found.calving),
    ]


def _jobs(added: int, gone: int) -> str:
    if not added and not gone:
        return "No job is added or taken away."
    return f"{plural(added, 'job') if added else 'No job'} added, {gone or 'none'} taken away."


def _names(bulls: Iterable[Assessment]) -> str:
    return list_words(bull.name or bull.bull for bull in bulls)


def _calving(of: Calving, on: Day, *, several: bool) -> str:
    whose = f"{', '.join(filter(None, (of.group, of.farm)))}: first" if several else "First"
    before, after = day_words(of.before, on), day_words(of.after, on)
    if before == after:
        return f"{whose} calving stays on {after}."
    return f"{whose} calving moves from {before} to {after}."


def what_if_lines(found: WhatIf, on: Day, look: Look) -> list[str]:
    """The bulls that change, a line each, then what it comes to in all."""
    lines = changes_lines(found.changes, on, look)
    if said := sum_words(found, on):
        lines.append(look.paint("head", IN_ALL))
        for words in said:
            lines += hanging(words, look.width)
    return lines


def standing_words(bull: Assessment) -> str:
    """How a bull stands towards his turnout."""
    if bull.outlook == "working":
        return "working"
    if bull.outlook == "vet-decides":
        return "the vet decides"
    if bull.outlook == "not-booked":
        return "HOLD, booking taken back"
    if bull.outlook == "at-odds":
        return "HOLD, copies of the book disagree"
    if bull.outlook == "wrong-group":
        return "HOLD, not safe with heifers"
    if bull.status == "GO":
        return "GO, but ask first" if cares(bull) else "GO"
    if bull.slack_days is None:
        return "HOLD, no turnout"
    if bull.slack_days < 0:
        return f"HOLD, {days_words(-bull.slack_days)} too late"
    return f"HOLD, {days_words(bull.slack_days)} to spare"
