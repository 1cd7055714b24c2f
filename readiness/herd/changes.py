"""What changes between two boards of the same bulls, and why: another turnout, a visit less."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from readiness.engine.results import Assessment, Board, Check, Remark
from readiness.trade.checks import AGEING, CHECKS


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that makes a bull stand otherwise.

    ``what``: "reason-comes", "reason-goes" (``check`` is None then); a check that is asked for as
    well, "too-old" where what was done will be too old by then, else "asked"; one that is asked for
    no more, "recent-enough" where what was done is not too old by then, else "not-asked";
    "day-gained", "day-lost": a check that has a day before turnout now, or none any more.
    ``check``: its id; ``kind``: its name; ``text``: that of the check or the reason.
    """

    what: str
    check: str | None
    kind: str | None
    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class Change:
    """One bull before and after, and why. ``open_end``: the day he can be ready is no more than a
    day before which he is not."""

    before: Assessment
    after: Assessment
    why: tuple[Cause, ...]
    open_end: bool = False

    @property
    def missed(self) -> tuple[str, ...]:
        """The ids of checks that had a day before turnout and have none any more."""
        return tuple(each.check for each in self.why if each.what == "day-lost" and each.check)

    @property
    def minor(self) -> bool:
        """Only the days to spare change: he is ready on the day on which he was, and no more nor
        less in time, and nothing else is to be done."""
        before, after = _stands(self.before), _stands(self.after)
        return before == after and not self.why and not self.open_end


def changes(
    before: Board, after: Board, open_end: Collection[str] = frozenset()
) -> tuple[Change, ...]:
    """The bulls for whom something changes that a person decides by, in the order of the board
    after: status, outlook, the day he can be ready, days to spare, what is to be done, checks that
    have no day. Reasons alone, beside others that held him as well, are none of it.

    ``open_end``: keys of bulls with a check that has no day on the plan.
    """
    found = []
    for old, bull in in_both(before, after):
        why = (*_reasons(old, bull), *_checks(old, bull))
        if _decides(old) != _decides(bull) or any(each.check for each in why):
            found.append(Change(old, bull, why, bull.key in open_end))
    return tuple(found)


def in_both(before: Board, after: Board) -> Iterator[tuple[Assessment, Assessment]]:
    """Each bull of both boards, before and after, in the order of the board after."""
    was = {bull.key: bull for bull in before.bulls}
    return ((was[bull.key], bull) for bull in after.bulls if bull.key in was)


def _stands(bull: Assessment) -> tuple[object, ...]:
    return bull.status, bull.hold, bull.outlook, bull.earliest_ready


def _decides(bull: Assessment) -> tuple[object, ...]:
    return *_stands(bull), bull.slack_days


def _reasons(old: Assessment, bull: Assessment) -> Iterator[Cause]:
    """The reasons that come and go."""
    for each in bull.reasons:
        if each not in old.reasons:
            yield _of_reason("reason-comes", each)
    for each in old.reasons:
        if each not in bull.reasons:
            yield _of_reason("reason-goes", each)


def _checks(old: Assessment, bull: Assessment) -> Iterator[Cause]:
    """The checks that come and go, then those that get a day or lose it. A check whose own reason
    comes or goes ("too young") is said by it already."""
    said = {each.rule for each in (*old.reasons, *bull.reasons) if _one_sided(each, old, bull)}
    was, now = ({check.id: check for check in of.outstanding} for of in (old, bull))
    later = (bull.turnout or 0) > (old.turnout or 0)
    for check in now.values():
        if check.id not in was:
            yield _of_check("too-old" if later and _ages(check) else "asked", check)
    for check in was.values():
        if check.id not in now:
            earlier = not later and _ages(check)
            yield _of_check("recent-enough" if earlier else "not-asked", check)
    had_none, has_none = no_day(old), no_day(bull)
    for check in now.values():
        if check.rule in said:
            continue
        if check.id in has_none and check.id not in had_none:
            yield _of_check("day-lost", check)
        # where turnout is past nothing is bounded by it: that is no day before it
        elif check.id in had_none and check.id not in has_none and check.not_after is not None:
            yield _of_check("day-gained", check)


def _one_sided(reason: Remark, old: Assessment, bull: Assessment) -> bool:
    return (reason in old.reasons) != (reason in bull.reasons)


def _ages(check: Check) -> bool:
    """Whether what was done for it may be too old by turnout: a farm's own check, too."""
    return check.check in AGEING or check.check not in CHECKS


def _of_reason(what: str, reason: Remark) -> Cause:
    return Cause(what, None, None, reason.rule, reason.text)


def _of_check(what: str, check: Check) -> Cause:
    return Cause(what, check.id, check.check, check.rule, check.text)


def no_day(bull: Assessment) -> tuple[str, ...]:
    """The ids of his checks that have no day left before turnout."""
    return tuple(
        check.id
        for check in bull.outstanding
        if check.not_after is not None and check.not_before > check.not_after
    )
