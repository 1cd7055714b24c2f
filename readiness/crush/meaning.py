"""What the saving of a slip means for the bull: how he stands, what is asked for, what answered."""

from __future__ import annotations

from readiness.engine.results import Assessment, Check
from readiness.report.rows import check_words, day, mark, ready_words, shorter, why
from readiness.report.sentences import STATUS


def meaning(before: Assessment | None, after: Assessment, on: int) -> list[str]:
    """In plain lines: how he stands now, what is asked for anew and when, what is answered."""
    was = {check.id: check for check in before.outstanding} if before else {}
    now = {check.id: check for check in after.outstanding}
    lines = [_standing(after, on)]
    lines += [_asked(check, on) for check in after.outstanding if _news(check, was.get(check.id))]
    answered = [check_words(check) for id_, check in was.items() if id_ not in now]
    if answered:
        lines.append(f"answered: {', '.join(dict.fromkeys(answered))}")
    return lines


def _standing(bull: Assessment, on: int) -> str:
    """ "HOLD for a reason: block on LF outer; ready 10 Apr at the earliest"."""
    status = STATUS[mark(bull)]
    if bull.status == "GO":
        return why(bull, on)
    reasons = [shorter(reason.text)[-1] for reason in bull.reasons]
    said = f"{status}: {'; '.join(reasons)}" if reasons else status
    ready = ready_words(bull, on)
    if bull.earliest_ready is None:
        return said
    return f"{said}. Ready {ready} at the earliest, if every check passes"


def _news(check: Check, was: Check | None) -> bool:
    if was is None:
        return True
    return (check.not_before, check.due) != (was.not_before, was.due)


def _asked(check: Check, on: int) -> str:
    """ "block off LF: from 29 Apr, by 13 May"."""
    ends = [end for end in (check.due, check.not_after) if end is not None]
    start = "now" if check.not_before <= on else f"from {day(check.not_before, on)}"
    if not ends:
        return f"{check_words(check)}: {start}"
    last = min(ends)
    if last < check.not_before:
        return f"{check_words(check)}: {start}, too late for {day(last, on)}"
    return f"{check_words(check)}: {start}, by {day(last, on)}"
