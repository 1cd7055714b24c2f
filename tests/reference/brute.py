"""The assessment by trying days one after another.

``brute_board`` is the whole of it: it reads contract entries in the order of their recording and
says of every bull on the board what the contract's B says. No networks and no longest paths: a
check's day is raised, or lowered, a day at a time until every sentence about it holds. Quotations
are from the specification of the assessment; where a sentence can be read in two ways, the reading
taken stands at the end of this module.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from . import checks as work
from .feet_checks import Check
from .state import Entry, Story, day_of
from .story import tell
from .values import rule_values

Reason = tuple[str, str | None, str | None, str | None]
FARTHEST = 800  # days from today to look for a first possible turnout


def brute_board(
    entries: list[Entry],
    on: date,
    rules: dict[str, Any] | None = None,
    turnout: date | None = None,
) -> list[dict[str, Any]]:
    """Every bull on the board on ``on``, in the order of the board.

    ``entries``: contract objects, valid, in the order in which they were recorded (their place in
    the list is their order within a day), strikes among them. ``rules``: rule ids with other
    values than the defaults; ``checks`` there is a list of {name, who, from, to, applies}.
    ``turnout``: what if every group's turnout were then. Reasons are a set of (kind, foot, claw,
    code), kind one of finding, block, lame, condition, vet, lift, vet-look, quarantine, check:NAME.
    """
    values, today = rule_values(rules), on.toordinal()
    told = in_order(entries)
    tags = [key(entry["bull"]) for entry in told if entry["kind"] == "bull"]
    board = []
    for tag in dict.fromkeys(tags):
        story = tell([e for e in told if "bull" in e and key(e["bull"]) == tag], values, today)
        if story.here and not story.left:
            said = group_said(story, told, today, turnout)
            board.append(assess(story, said, today))
    # "HOLD for a reason, HOLD for checks, GO; in each least slack first (null first), then tag"
    return sorted(board, key=place)


def key(tag: str) -> str:
    # "spaces and case ignored in look-up"
    return "".join(tag.split()).upper()


def place(bull: dict[str, Any]) -> tuple[int, bool, int, str]:
    slack = bull["slack_days"]
    return (
        {"reason": 0, "checks": 1, None: 2}[bull["hold"]],
        slack is not None,
        slack or 0,
        bull["bull"],
    )


def in_order(entries: list[Entry]) -> list[Entry]:
    """The entries that count, by day and within a day as recorded."""
    # "A strike takes its entry away for every day, whatever its own date"; "a strike cannot be
    # struck"
    struck = {entry["entry"] for entry in entries if entry["kind"] == "strike"}
    kept = [e for e in entries if e["kind"] != "strike" and e.get("id") not in struck]
    return sorted(kept, key=lambda entry: day_of(entry["on"]))


def group_said(
    story: Story, told: list[Entry], today: int, turnout: date | None
) -> tuple[str, int] | None:
    """The group he is in today and its turnout."""
    said = None
    for entry in told:
        # "names are per farm"; "said again replaces"
        if (
            entry["kind"] == "group"
            and day_of(entry["on"]) <= today
            and entry["group"] == story.group
            and entry.get("farm") == story.bull.get("farm")
        ):
            said = entry
    if said is None:
        return None
    # "what if turnout were then"
    day = turnout.toordinal() if turnout else day_of(said["turnout"])
    # "Membership of a group ends with its season (turnout + weeks, 12 where unsaid)"
    weeks = said.get("weeks", story.rules["group.weeks"])
    if today > day + 7 * weeks:
        return None
    return said["group"], day


def assess(story: Story, group: tuple[str, int] | None, today: int) -> dict[str, Any]:
    """One bull on one day."""
    turnout = group[1] if group else None
    # "T is his group's turnout; D once that has passed, or where he has no group (then
    # `not_after` and dues from turnout are null)."
    ahead = turnout if turnout is not None and turnout >= today else None
    aim = None if story.out else (ahead if ahead is not None else today)
    listed = work.outstanding(story, today, aim, ahead)
    firsts = earliest(listed, today)
    lasts = latest(listed, ahead) if ahead is not None and not story.out else {}
    reasons = why(story, listed, today)
    ready = None if story.out else first_turnout(story, today)
    slack = None if turnout is None or ready is None else turnout - ready
    # "GO only if nothing is outstanding and no reason stands; otherwise HOLD"
    status = "HOLD" if listed or reasons else "GO"
    bull = story.bull
    return {
        "bull": bull["bull"],
        "farm": bull.get("farm"),
        "group": group[0] if group else None,
        "role": story.role if group else None,
        "turnout": as_date(turnout),
        "status": status,
        "hold": None if status == "GO" else "reason" if reasons else "checks",
        "outlook": outlook(story, group is not None, status, slack),
        "earliest_ready": as_date(ready),
        "slack_days": slack,
        # "`overdue`: bool (due < on)"
        "overdue": sum(c.due is not None and c.due < today for c in listed),
        "reasons": reasons,
        "outstanding": [shown(c, firsts[c.id], lasts.get(c.id), today) for c in listed],
    }


def outlook(story: Story, grouped: bool, status: str, slack: int | None) -> str:
    # "**Outlook**, the first that applies: working (out), vet-decides (last examination
    # unsatisfactory), no-turnout, ready (GO), too-late (slack < 0), tight (slack < tight.days),
    # on-track"
    if story.out:
        return "working"
    if unsatisfactory(story):
        return "vet-decides"
    if not grouped:
        return "no-turnout"
    if status == "GO":
        return "ready"
    if slack is None:
        raise AssertionError("no day fits within the farthest that was tried")
    if slack < 0:
        return "too-late"
    return "tight" if slack < story.rules["tight.days"] else "on-track"


def unsatisfactory(story: Story) -> bool:
    return bool(story.exams) and story.exams[-1]["outcome"] == "unsatisfactory"


def why(story: Story, listed: list[Check], today: int) -> set[Reason]:
    """Reasons to hold, true today."""
    # "holding finding open; block on; lame now; last condition outside hold; last vet examination
    # not satisfactory; lift or vet-look outstanding; in quarantine; own check failed."
    reasons: set[Reason] = {("finding", *k) for k, found in story.open.items() if found.holds}
    reasons |= {("block", foot, claw, None) for foot, claw in story.on_block()}
    free = work.quarantine_until(story)
    plain = {
        "lame": story.run is not None,
        "condition": bool(story.conditions) and not story.conditions[-1][1],
        "vet": bool(story.exams) and story.exams[-1]["outcome"] != "satisfactory",
        "lift": any(c.check == "lift" for c in listed),
        "vet-look": any(c.check == "vet-look" for c in listed),
        "quarantine": free is not None and today < free,
    }
    for own in work.own_rules(story):
        # "a fail is a reason until a later pass"
        said = story.own.get(own["name"], [])
        plain[f"check:{own['name']}"] = bool(said) and said[-1][1] == "fail"
    return reasons | {(kind, None, None, None) for kind, stands in plain.items() if stands}


def first_turnout(story: Story, today: int) -> int | None:
    """The first day that would do as turnout."""
    # "the first day t >= D such that, with t as turnout, every outstanding check has a day (each
    # check passing); null when a person must decide"
    if unsatisfactory(story):
        return None
    for day in range(today, today + FARTHEST + 1):
        listed = work.outstanding(story, today, day, None)
        # whatever cannot come before this day on its own account spares the search
        if any(max(check.floors, default=0) > day - check.before for check in listed):
            continue
        days = earliest(listed, today)
        if all(days[check.id] <= day - check.before for check in listed):
            return day
    return None


def earliest(listed: list[Check], today: int) -> dict[str, int]:
    """The first day of every check: each is put off by a day until nothing forbids it."""
    days = {check.id: today for check in listed}
    moved = True
    while moved:
        moved = False
        for check in listed:
            while not allowed(check, days):
                days[check.id] += 1
                moved = True
    return days


def allowed(check: Check, days: dict[str, int]) -> bool:
    """Whether a check may be done on its day, the checks it waits for on theirs."""
    day = days[check.id]
    return all(day >= floor for floor in check.floors) and all(
        day >= days[other] + between for other, between in check.waits if other in days
    )


def latest(listed: list[Check], turnout: int) -> dict[str, int]:
    """The last day of every check: each is brought forward by a day until turnout allows it."""
    # "`not_after` is what turnout allows: T, less what must follow."
    days = {check.id: turnout for check in listed}
    moved = True
    while moved:
        moved = False
        for check in listed:
            while not leaves_room(check, listed, days, turnout):
                days[check.id] -= 1
                moved = True
    return days


def leaves_room(check: Check, listed: list[Check], days: dict[str, int], turnout: int) -> bool:
    day = days[check.id]
    return day <= turnout - check.before and all(
        day + between <= days[later.id]
        for later in listed
        for other, between in later.waits
        if other == check.id
    )


def shown(check: Check, first: int, last: int | None, today: int) -> dict[str, Any]:
    return {
        "id": check.id,
        "check": check.check,
        "not_before": as_date(first),
        "not_after": as_date(last),
        "due": as_date(check.due),
        "advised_by": as_date(check.advised_by),
        "overdue": check.due is not None and check.due < today,
        "feet": list(check.feet),
        "who": check.who,
    }


def as_date(day: int | None) -> date | None:
    return None if day is None else date.fromordinal(day)


# AMBIGUOUS: sentences that can be read in two ways, and the reading taken here.
#
# - "both" the turnout has passed, or he has no group: T = D; not_after, dues and advised_by
#   from turnout are null; slack still counts from the group's turnout.
# - Membership of a group ends with its season: he has neither group nor role when D is past
#   turnout + 7 * weeks of the last saying of the group; a later saying with a new turnout takes
#   him in again without a new join.
# - a bull whose joined group is not said (yet) on his present farm: no group, no role.
# - role: later kept unless said: a role said in any join, leaving ones too, is kept.
# - what if turnout were then: every group's turnout is that day, its season too; a bull without
#   a group still has none.
# - quarantine: bought-in bulls, from `arrived`: only where the last origin said is bought.
# - got a severity higher than before: than it had until this entry, not than ever.
# - by its severity on the clock day: the severity with which the clock was set; lowered again
#   on the same day changes nothing.
# - the worst spot standing for all: highest severity of the spots (unsaid: kept, or 1); of the
#   stages one that holds before one that does not.
# - renamed to a code that is open on that claw as well: one finding, found again by that code's
#   own severity; earlier first day, looks of both, later clock if both held.
# - first reaching the vet column: a renamed finding is a new one here: it asks again on the day
#   of renaming where its severity is in the column.
# - while it is open: under that name, holding or not; renamed away counts as no longer open.
# - found open long after it was first found: listed among `findings`; healed too soon, or
#   renamed too soon to what would not hold, is not found open.
# - listed, in: no finding listed on an asked foot: found, healed or renamed by `was`; healed or
#   renamed only where it was open; from the day the run began, whatever the order that day.
# - every asked foot; the last asked foot: the feet asked for by check 2: by the open run's
#   events and by every incident with a limb, however old.
# - the events that ask for a missing foot: those whose own asking is not met yet.
# - first day of block-off on a claw with several holding findings: the earliest of their days.
# - carries an open holding finding: a finding of that claw; skin findings are of no claw.
# - max(look's day, clear's first day) + ceil(k/4): clear's first day without D.
# - taken while a block is on: by the order within the day, not by the day.
# - walk-again of a bull that is out: whenever he is lame now: there is no T to compare with.
# - only reasons count [out]: GO when there is no reason and none of the named checks is
#   outstanding: a left-over block-look alone is HOLD for checks.
# - last coming in: the last `moved` in, whether or not he was out.
# - the last score is sound and counts: the last of all scores: a sound one under a block makes
#   an earlier good one no good.
# - day of seen clear: of every finding seen clear, by healing, listing low or renaming.
# - looks, series' last interval: the last number of the series (28 for 7, 28), not the
#   difference of the last two.
# - vet-look not_after: T: nothing is said to follow it.
# - advised_by: feet: turnout - 56; vet-exam: turnout - 28; kept once past; else null.
