"""What a slip means for the bull: what is odd about it before it is saved; once it is, how he
stands, what is asked for, what answered."""

from __future__ import annotations

from readiness.crush.before import before_of, ending, unsaid, without_asked
from readiness.crush.slip import Content, Slip
from readiness.engine.results import Assessment, Check
from readiness.engine.warnings import in_his_state
from readiness.entries.entry import Entry
from readiness.herd.board import group_of
from readiness.herd.card import Card
from readiness.herd.selection import in_order
from readiness.history import History, advance, history
from readiness.history.groups import Group
from readiness.report.rows import check_words, mark, shorter, why
from readiness.report.sentences import STATUS, outlook
from readiness.rules.model import Rules
from readiness.trade.words import column_day as day

DONE, NO_LONGER = "done with this", "asked no more"
"""What became of a check that is not outstanding any more: what was said answers it; or what asked
for it was mended, and nobody did it."""


def meaning(before: Assessment | None, after: Assessment, on: int, gone: str = DONE) -> list[str]:
    """In plain lines: how he stands now, what is asked for anew and when, what is outstanding no
    more and why (``gone``). What comes first is said first: a narrow screen cuts off the end."""
    was = {check.id: check for check in before.outstanding} if before else {}
    now = {check.id: check for check in after.outstanding}
    days = {id_: (check.not_before, check.due) for id_, check in was.items()}
    news = (c for c in after.outstanding if days.get(c.id) != (c.not_before, c.due))
    lines = [_standing(after, on), *(_asked(check, on) for check in in_order(news))]
    answered = [check_words(check) for id_, check in was.items() if id_ not in now]
    if answered:
        lines.append(f"{gone}: {', '.join(dict.fromkeys(answered))}")
    return lines


def odd(slip: Slip, card: Card, in_hand: tuple[str, str] = ("", "")) -> list[str]:
    """What is odd about what is said, each entry in the light of those before it. ``in_hand``: the
    foot and claw of which more may yet be said."""
    before = before_of(card, slip.on)
    said = without_asked(before, slip, in_hand)
    found = [words for words in (settling(said, card.rules), next_look(said, card.rules)) if words]
    day = slip.on.toordinal()
    state = card.state

    def his_group(now: History, _day: int) -> Group | None:
        return group_of(now, card.groups)

    for at, content in enumerate(said.contents):
        if at == 1:  # what is on the card must stay as it is
            state = history(reversed(card.entries), card.rules, day, card.assessment.key)
            advance(state, _as_entry(said.contents[0], 0, day, state.key))
        found += in_his_state(content, content["kind"], day, state, his_group)
        if at:
            advance(state, _as_entry(content, at, day, state.key))
    return list(dict.fromkeys([*found, *unsaid(before, said), *ending(before, slip, in_hand[0])]))


def _as_entry(content: Content, at: int, day: int, key: str) -> Entry:
    """As it will stand in the book, after all that is there."""
    return Entry(day, "", at, f"slip-{at}", content["kind"], key, content)


def settling(slip: Slip, rules: Rules) -> str | None:
    """That a sound walk of the day of trimming does not count yet, and from when one does."""
    walk = slip.last("mobility")
    worked = any(item["act"] in ("trim", "pare") for item in slip.feet.get("work", ()))
    if walk is None or not worked or walk["score"] >= rules.mobility[walk["scale"]].lame:
        return None
    counts = slip.on.toordinal() + rules.limits.trim_settle
    return f"trimmed or pared today: a walk counts from {day(counts, slip.on.toordinal())}"


def next_look(slip: Slip, rules: Rules) -> str | None:
    """From when the vet is asked again, where he gave no day."""
    look = slip.last("vet-look")
    if look is None or look["outcome"] != "again" or "again_on" in look:
        return None
    days = rules.limits.vet_look_again
    today = slip.on.toordinal()
    return f"the vet gave no day: his next look is asked for from {day(today + days, today)}"


def _standing(bull: Assessment, on: int) -> str:
    """ "HOLD for a reason: block on LF outer. Ready 10 Apr at the earliest, …"."""
    if bull.status == "GO":
        return why(bull, on)
    reasons = [shorter(reason.text)[-1] for reason in bull.reasons]
    held = STATUS[mark(bull)] + (f": {'; '.join(reasons)}" if reasons else "")
    return f"{held}. {outlook(bull, on)}"


def _asked(check: Check, on: int) -> str:
    """ "block off LF between 29 Apr and 13 May", by the day that the board has, too; where turnout
    leaves no day for it, by its own clock: that he is too late is said with how he stands."""
    last = check.plan_by if check.has_last_day else None
    if check.not_after is not None and check.not_after < check.not_before:
        last = check.due
    start = max(check.not_before, on)
    words = check_words(check)
    if last is None or last < start:
        return f"{words} {'now' if start == on else f'from {day(start, on)}'}"
    if start == last:
        return f"{words} {'today' if last == on else f'on {day(last, on)}'}"
    if start == on:
        return f"{words} by {day(last, on)}"
    return f"{words} between {day(start, on)} and {day(last, on)}"
