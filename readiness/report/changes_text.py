"""Which bulls change, in words: another turnout, a visit moved or dropped."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.engine.care import cares
from readiness.engine.results import Assessment
from readiness.herd.changes import Change
from readiness.report.look import Look, hanging
from readiness.report.rows import short_tags
from readiness.system.plain import plain
from readiness.trade.words import Day, column_day, days_words, plural

NOBODY = "No bull changes."


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
    missed = ""
    if change.missed:
        texts = {check.id: check.text for check in after.outstanding}
        missed = "no day before turnout for: " + "; ".join(texts[c] for c in change.missed)
    asides = ", ".join(filter(None, (ready, missed)))
    return plain(f"{who}: {stands}{f' ({asides})' if asides else ''}")


def standing_words(bull: Assessment) -> str:
    """How a bull stands towards his turnout."""
    if bull.outlook == "working":
        return "working"
    if bull.outlook == "vet-decides":
        return "the vet decides"
    if bull.outlook == "wrong-group":
        return "HOLD, not safe with heifers"
    if bull.status == "GO":
        return "GO, but ask first" if cares(bull) else "GO"
    if bull.slack_days is None:
        return "HOLD, no turnout"
    if bull.slack_days < 0:
        return f"HOLD, {days_words(-bull.slack_days)} too late"
    return f"HOLD, {days_words(bull.slack_days)} to spare"
