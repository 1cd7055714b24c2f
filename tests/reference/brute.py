"""The assessment by trying days one after another.

``brute_board`` is the whole of it: it reads entries in the order of their recording and says of
every bull on the board what ``board --json`` says. No networks and no longest paths: a check's day
is raised, or lowered, a day at a time until every rule about it holds. Where a rule can be
understood in two ways, the understanding taken stands at the end of this module.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial
from typing import Any

from . import checks as work
from .ahead import recorded
from .feet_checks import Check
from .figures import grown, last_exam, too_low
from .groups import Group, group_said
from .search import earliest, first_turnout, latest
from .state import Entry, Story, day_of
from .story import tell
from .values import rule_values
from .vet_checks import person_decides
from .went_out import Past, went_without

Reason = tuple[str, str | None, str | None, str | None]


def brute_board(
    entries: list[Entry],
    on: date,
    rules: dict[str, Any] | None = None,
    turnout: date | None = None,
) -> list[dict[str, Any]]:
    """Every bull on the board on ``on``, in the order of the board.

    ``entries``: valid ones, in the order in which they were recorded (their place in
    the list is their order within a day, unless they say on which other day they were
    ``recorded``), strikes among them. ``rules``: rule ids with other
    values than the defaults; ``checks`` there is a list of {name, who, from, to, lag, applies,
    valid}.
    ``turnout``: what if every group's turnout were then. Reasons are a set of (kind, foot, claw,
    code), kind one of finding, block, wrap, body (foot: its limb, code: the part), lame, condition,
    vet, vet-figures, unfit, lift, vet-look, vet-again, quarantine, age, heifers, unbooked,
    check:NAME and went-out.
    """
    today = on.toordinal()
    board = [
        assess(story, said, today, past)
        for story, said, past in stories(entries, today, rule_values(rules), turnout)
    ]
    # held for a reason first, then held for checks only, then GO; the least slack first, none
    # before it
    return sorted(board, key=place)


def stories(
    entries: list[Entry], today: int, values: dict[str, Any], turnout: date | None = None
) -> Iterator[tuple[Story, Group | None, Past]]:
    """Of every bull on the board his story up to today, his group, and his story up to any day."""
    told = in_order(entries)
    tags = [key(entry["bull"]) for entry in told if entry["kind"] == "bull"]
    for tag in dict.fromkeys(tags):
        mine = [e for e in told if "bull" in e and key(e["bull"]) == tag]
        story = tell(mine, values, today)
        if story.here and not story.left:
            yield story, group_said(story, told, today, turnout), partial(tell, mine, values)


def key(tag: str) -> str:
    # tags are the same whatever their spaces and capitals
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
    # a strike works backwards: its entry never counted; strikes themselves cannot be taken back
    struck = {entry["entry"] for entry in entries if entry["kind"] == "strike"}
    told = [e for e in entries if e["kind"] != "strike" and e.get("id") not in struck]
    # a bull of whom something is said that nobody took back must not vanish: where each of his
    # bookings was taken back they count all the same, and it is remembered of him
    booked = {key(e["bull"]) for e in told if e["kind"] == "bull"}
    lost = {key(e["bull"]) for e in told if "bull" in e} - booked
    kept = []
    for entry in entries:
        if entry["kind"] == "strike":
            continue
        if entry.get("id") not in struck:
            kept.append(entry)
        elif entry["kind"] == "bull" and key(entry["bull"]) in lost:
            kept.append(entry | {"taken_back": True})
    # within a day by when each was recorded, and then as they stand
    return sorted(kept, key=lambda entry: (day_of(entry["on"]), recorded(entry)))


def assess(story: Story, group: Group | None, today: int, past: Past) -> dict[str, Any]:
    """One bull on one day."""
    turnout = group.turnout if group else None
    # what is aimed at is the group's turnout while it is to come, else today, and then nothing is
    # counted back from it
    ahead = turnout if turnout is not None and turnout >= today else None
    aim = None if story.out else (ahead if ahead is not None else today)
    listed = work.outstanding(story, today, aim, ahead)
    without = went_without(story, past, today) if story.out else []
    listed += without
    firsts = earliest(listed, today)
    lasts = latest(listed, ahead) if ahead is not None and not story.out else {}
    reasons = why(story, listed, today, today if aim is None else aim)
    reasons |= {("heifers", None, None, None)} if not fit_for_heifers(story, group) else set()
    reasons |= {("went-out", None, None, None)} if without else set()
    # he is ill until a vet has said that he is fit, at work as at home
    ill = story.ill_still
    by_vet = any(look.place == story.ill_told for look in story.looks)
    story.meets("at work, found ill by a vet", bool(story.out) and ill and by_vet)
    reasons |= {("ill", None, None, None)} if ill else set()
    # no passing check and no waiting makes a bull safe with heifers
    never = story.out or not fit_for_heifers(story, group) or unbooked(story)
    ready = None if never else first_turnout(story, today)
    slack = None if turnout is None or ready is None else turnout - ready
    # anything left to do, or any reason, holds him
    status = "HOLD" if listed or reasons else "GO"
    bull = story.bull
    return {
        "bull": bull["bull"],
        "farm": bull.get("farm"),
        "group": group.name if group else None,
        "role": story.role if group else None,
        "turnout": as_date(turnout),
        "status": status,
        "hold": None if status == "GO" else "reason" if reasons else "checks",
        "outlook": outlook(story, group, status, slack),
        "earliest_ready": as_date(ready),
        "slack_days": slack,
        # overdue: its own last day lies before today
        "overdue": sum(c.due is not None and c.due < today for c in listed),
        "reasons": reasons,
        "outstanding": [shown(c, firsts[c.id], lasts.get(c.id), today) for c in listed],
    }


def fit_for_heifers(story: Story, group: Group | None) -> bool:
    # whoever is in a group of heifers, working or in reserve, must not be said to be unsafe with
    # them
    return not (group and group.heifers and story.bull.get("heifer_safe") is False)


def unbooked(story: Story) -> bool:
    # somebody took his booking back while others spoke of him: a person has to say which is right
    return "taken_back" in story.bull


def outlook(story: Story, group: Group | None, status: str, slack: int | None) -> str:
    # the first of these that fits him is shown
    if story.out:
        return "working"
    if person_decides(story):
        return "vet-decides"
    if unbooked(story):
        return "not-booked"
    if not fit_for_heifers(story, group):
        return "wrong-group"
    if group is None:
        return "no-turnout"
    if status == "GO":
        return "ready"
    if slack is None:
        raise AssertionError("no day fits within the farthest that was tried")
    if slack < 0:
        return "too-late"
    return "tight" if slack < story.rules["tight.days"] else "on-track"


def why(story: Story, listed: list[Check], today: int, aim: int) -> set[Reason]:
    """Reasons to hold, true today; ``aim`` is T, today for a bull that is out."""
    # each of these holds him by itself as long as it is true
    reasons: set[Reason] = {("finding", *k) for k, found in story.open.items() if found.holds}
    reasons |= {("block", foot, claw, None) for foot, claw in story.on_block()}
    reasons |= {("wrap", foot, None, None) for foot in story.wraps}
    reasons |= {("body", limb, None, part) for part, limb in story.body}
    free, old_enough = work.quarantine_until(story), grown(story)
    last = last_exam(story)
    plain = {
        "unbooked": unbooked(story),
        "lame": story.run is not None,
        "condition": bool(story.conditions) and not story.conditions[-1][1],
        "vet": last is not None and last["outcome"] != "satisfactory",
        "vet-figures": too_low(story),
        "unfit": bool(story.unfit),
        "quarantine": free is not None and today < free,
        "age": old_enough is not None and aim < old_enough,
    }
    for name in ("lift", "vet-look", "vet-again"):
        plain[name] = any(c.check == name for c in listed)
    for own in work.own_rules(story):
        # failed counts until passed on a later day
        said = story.own.get(own["name"].casefold(), [])
        plain[f"check:{own['name']}"] = any(
            result == "fail" and day == said[-1][0] for day, result, _ in said
        )
    return reasons | {(kind, None, None, None) for kind, stands in plain.items() if stands}


def shown(check: Check, first: int, last: int | None, today: int) -> dict[str, Any]:
    return {
        "id": check.id,
        "check": check.check,
        "foot": check.foot,
        "claw": check.claw,
        "code": check.code,
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


# AMBIGUOUS: rules that can be understood in two ways, and the one taken here, the more cautious.
#
# Groups and days
# - "both" the turnout has passed, or he has no group: T = D; not_after, dues and advised_by from
#   turnout are null; slack still counts from the group's turnout.
# - a bull whose joined group is not said (yet) on his present farm: no group, no role.
# - role: later kept unless said: a role said in any join, leaving ones too, is kept.
# - what if turnout were then: every group's turnout is that day, its season too; a bull without
#   a group still has none.
# - T before born + age.least, of a bull that is out: D takes T's place.
# - heifers: only while he is in that group; role does not matter, nor whether he is out.
#
# Findings
# - two spots, one of severity 2 and one not said: 2 stands; a severity said of one spot is said of
#   the finding, even where another spot, not said, stands (of what holds only when severe).
# - of several spots: those that one entry lists of one foot, claw and code, whatever their `was`;
#   what a spot keeps is judged as the finding was open under that very name.
# - a slight grade, that no other spot borrows: severity 1, one that would not hold, and of DD a
#   stage that does not hold; a moderate or severe one of DD is borrowed whatever its stage. Nothing
#   that says `was`, and no XX, borrows a slight severity; nothing that says `was`, open or not,
#   borrows a stage, one that holds neither; it may borrow a moderate or severe severity, as XX may.
# - XX without a severity where a slight one was known: its severity was once said all the same.
# - the worst spot: one that holds, then the more severe (not said: 2, after a 2 that is said), then
#   the later stage (not said before all), then the first listed.
# - DD that becomes M2 or M4.1: of the worst spot, and from another stage that is known.
# - got a severity higher than before: than it counted as until this entry (not said: 2).
# - by its severity on the clock day: what it counted as when the clock was set; lowered, or said
#   for the first time on a later day, the days stay; renamed, the days are those of the new code.
# - no clock runs back: of what holds when its clock starts anew; what does not hold waits for no
#   day. Said at first on its clock's own day, a severity starts no clock and may bring the day
#   forward as before, but not before a floor. Every such start sets the floor, whatever the days
#   then are, so a slight severity said at first waits for it, too.
# - renamed with its severity not said: it counts as 2, so it is more severe than a slight one.
# - taken at once: only found again under its own name; renamed low for the first time waits for
#   the plausible day; never before a day set by a finding that became one with it, by a name that
#   it had, or by a clock that started anew.
# - once said of it: also in an entry that was a look only, too soon or of another zone; also of a
#   finding renamed into it. Then it is not said at first on the clock's own day either.
# - every zone in which it held: since it began to hold, by whatever name, of two that became one
#   those of both; a zone that is listed low does not leave them as long as another holds. A spot
#   without a zone among several is one zone more, whichever spot it is, until it no longer holds.
# - holding in a zone in which it did not: not where some of it is without a zone, nor by a spot
#   without a zone; of two that become one, in a zone in which neither did. Where only one of the
#   two lay in known zones, those count as its holding zones.
# - spots of several old names in one entry, and zones: those of all of them are zones of each.
# - another zone: one in which it is not known to lie, by any look since it began to hold; of what
#   does not hold, by the last look that named a zone.
# - renamed to what would not hold is the same as listed so low: its zones, too, are all named, or
#   none is.
# - begins anew: first day, looks, clock and where it lies; what was once said, the zones in which
#   it held, the day from which it has held, and its floor go on.
# - a name borne before keeps its first day: the earliest that it had under it, by what became one
#   with it then, too; of a name that does not begin anew, the earlier of that day and the one
#   inherited; of two that become one, the earliest of either's and of that name's.
# - the very item that renames it: where several do, each of them.
# - a rename that is not believed: its items speak of the old name alone where other spots of the
#   new name stand beside them; where none does, what is open under that name is listed by them.
# - renamed to a code that is open there: that code keeps its own severity, stage and looks unless
#   said; whether it "would not hold" is judged by what it then would be; where only the old one
#   held, the day from which that held counts on.
# - what would not hold, its severity not said: a look only, on or after the plausible day as well.
# - reaching the vet column: a renamed finding is a new one here: it asks again on the day of
#   renaming where its severity is in the column; one that another is renamed into is not.
# - while it is open: under that name, holding or not; renamed away counts as no longer open.
# - found open long after it was first found: listed among `findings`, or renamed to what would not
#   hold and not believed; healed too soon is not found open.
# - a thin sole measured on "both" is TS of both claws; one whose TS is renamed in that entry is TS
#   anew.
#
# Lame
# - listed: what holds and is renamed by `was` is the same as listed low, what does not hold is not
#   listed; from the day the run began, whatever the order that day.
# - asked for since the run began: by the run's lame events and by incidents with a limb, by the
#   day of the event or incident.
# - a foot, shoulder or stifle suspected and no limb named: asks for all four, as from its limb.
# - a lame incident with a limb asks twice: as a lame event and from its own day.
# - that run of lameness asked for that foot: its lame events up to the day of the look.
# - the events that ask for a missing foot: those whose own asking is not met yet.
# - which no lame event of that run has asked for: one that asked for all four asked for it; an
#   incident with a limb that is not lame did not. A mild day forgets no foot.
# - masked: by what is told before the walk, so pain relief later that day does not hide it; that
#   of before the run counts as well.
# - taken while a block or wrap is on: by the order within the day, not by the day.
#
# Blocks, wraps and the walk
# - no block known: none known to be on; said twice to be off, it was on again in between, and the
#   later day counts.
# - max(look's day, clear's first day) + ceil(k/4): clear's first day without D.
# - wrap-off due: the wrap's day + wrap.most, not its first day + wrap.most.
# - carries an open holding finding: a finding of that claw; skin findings are of no claw.
# - walk-again of a bull that is out: whenever he is lame now: there is no T to compare with.
# - last coming in: the last `moved` in, whether or not he was out.
# - the last score is sound and counts: the last of all scores: a sound one under a block or wrap
#   makes an earlier good one no good.
# - day of seen clear: of every finding seen clear, by healing, listing low, first saying or
#   renaming.
# - vet-look about the body: one that a body finding asks for, of whatever part.
# - names a known word: by its letters alone, anywhere in the product or in the reason, within a
#   longer word too, but not across both; pain only where no letter stands beside it.
#
# The vet
# - a figure not given: the last examination that gives it counts, whatever its outcome, held
#   against his age on its own day, whatever those after it are, unless a satisfactory one since
#   (or it itself) stands by what is low; only where it lies at most vet.oldest before the last.
# - two examinations of one day, in whatever order: the worse outcome; of two deferred, the later
#   day. Each figure counts that any of that day gives, but for what a later satisfactory one of it
#   stands by. Each by itself still ends unfit and body findings, by its own outcome.
# - standing beside a last examination that is not satisfactory, a low figure is no reason of its
#   own: that examination is.
# - ends a standing unfit: whatever else of the look; of several, where one of them is about foot,
#   lame or the body so; a fit of the unfit's own day ends it later neither. What is wrong with his
#   body, and an illness of a bull at work, end within the day as before, by its order.
# - ill by a vet's look: no hurt, and whatever else the vet found, or did not, that day.
# - an examination satisfactory (ends unfit and body findings): by its outcome, whatever its
#   figures.
# - the very one: foot, part and limb all as named; a joint without its limb is another.
# - vet.required false: an examination is still outstanding where the last was deferred, or is
#   satisfactory with a figure under its minimum that the vet does not stand by.
# - an examination does not answer a look's `again` about the body.
# - vet-look not_after: T: nothing is said to follow it. advised_by: feet: turnout - 56; vet-exam:
#   turnout - 28; kept once past; else null.
#
# Own checks, quarantine, out
# - homebred: also a bull of whom no origin is said.
# - a pass in the window: and no fail on its day, in whatever order, nor after it, even with a later
#   pass outside the window.
# - valid: days from the pass's own, closed; without from, from is ever. A pass that says itself
#   until when it holds does not count for a turnout after that day, nor for one after valid.
# - coming in from hire: whatever his origin.
# - an arrival without origin: gets the farm's own checks of bought and of hired bulls.
# - vet-again of a bull that is out: outstanding as well, for it is a reason.
# - the day he went out: the first `out` since he was last in.
# - until a day on which the check is not: a day on which there is no vet-exam only because a
#   person decides does not clear it, one that counts does; the feet named are those missing today.
