"""What the saving of a slip means for the bull: how he stands, what is asked for, what answered."""

from __future__ import annotations

from readiness.crush.slip import Slip
from readiness.engine.results import Assessment, Check
from readiness.report.rows import check_words, day, mark, shorter, why
from readiness.report.sentences import STATUS, outlook
from readiness.rules.model import Rules


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


def settling(slip: Slip, rules: Rules) -> str | None:
    """That a sound walk of the day of trimming does not count yet, and from when one does."""
    walk = slip.last("mobility")
    worked = any(item["act"] in ("trim", "pare") for item in slip.feet.get("work", ()))
    if walk is None or not worked or walk["score"] >= rules.mobility[walk["scale"]].lame:
        return None
    counts = slip.on.toordinal() + rules.limits.trim_settle
    return f"trimmed or pared today: a walk counts from {day(counts, slip.on.toordinal())}"


def _standing(bull: Assessment, on: int) -> str:
    """ "HOLD for a reason: block on LF outer. Ready 10 Apr at the earliest, …"."""
    if bull.status == "GO":
        return why(bull, on)
    reasons = [shorter(reason.text)[-1] for reason in bull.reasons]
    held = STATUS[mark(bull)] + (f": {'; '.join(reasons)}" if reasons else "")
    return f"{held}. {outlook(bull, on)}"


def _news(check: Check, was: Check | None) -> bool:
    if was is None:
        return True
    return (check.not_before, check.due) != (was.not_before, was.due)


def _asked(check: Check, on: int) -> str:
    """ "block off LF between 29 Apr and 13 May". By its own clock where it has one: that turnout
    comes sooner is said with how he stands."""
    last = check.due if check.due is not None else check.not_after
    start = max(check.not_before, on)
    words = check_words(check)
    if last is None or last < start:
        return f"{words} {'now' if start == on else f'from {day(start, on)}'}"
    if start == last:
        return f"{words} {'today' if last == on else f'on {day(last, on)}'}"
    if start == on:
        return f"{words} by {day(last, on)}"
    return f"{words} between {day(start, on)} and {day(last, on)}"
