"""Whether the bulls are enough for the females, in words: on the board, in the text, on pages."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from readiness.cover.moves import Move, key_of
from readiness.cover.put_off import PutOff
from readiness.cover.results import GroupCover, Strength, Worker
from readiness.cover.season import CALVES, LOOK, Event
from readiness.cover.whole import Cover
from readiness.engine.care import cares
from readiness.report.cover_headline import carry_words, short_words, today_words
from readiness.report.season_words import URGENT, event_words, season_facts, stand_ins_words
from readiness.trade.words import Day, day_words, days_words, list_words, plural, weekday_words

LASTS = (
    "The chance takes each bull to fail on his own. Bulls that run together never share the "
    "females evenly: it says how sure the team is, and nothing of one bull. What a bull carries, "
    "and how many fail, are rules: `readiness rules` has their sources."
)
NO_MOVE = "No move of a bull of this farm would mend it."
LATER = "What a later turnout would do"
NEARLY, HARDLY = 0.95, 0.05
FEW_NAMES = 3
DAYS_TOLD = 3


def carried(group: GroupCover) -> list[tuple[str, int]]:
    """(by whom, how many females) of the bars: today and by turnout; in the season by those who are
    out, and by those who wait."""
    if group.at_work is None:
        return [("GO today", group.capacity_go), ("by turnout", group.capacity_forecast)]
    return [("out", group.at_work.carried), ("waiting, GO", group.would_carry)]


def chance_words(chance: Fraction) -> str:
    """A chance in words with its number: "9 times in 10 (91.9 %)"."""
    percent = f"{float(chance) * 100:.1f}".removesuffix(".0")
    if chance in (0, 1):
        return f"{'always' if chance else 'no chance'} ({percent} %)"
    if chance >= NEARLY:
        words = "nearly always"
    elif chance < HARDLY:
        words = "hardly ever"
    else:
        tenths = round(float(chance) * 10)
        words = f"{plural(tenths, 'time')} in 10"
    return f"{words} ({'over 99.9' if percent == '100' else percent} %)"


def facts(cover: Cover, group: GroupCover) -> list[tuple[str, str]]:
    """(of what, what is known of it), in the order in which they are read."""
    on, season, before = cover.on, cover.season_of(group), group.at_work is None
    looks = [event for event in cover.events_of(group) if event.what == LOOK]
    of_season = season_facts(season, on, looks) if season is not None else []
    told = [("today", _enough_today(group)), *(fact for fact in of_season if fact[0] in URGENT)]
    if before:
        told.append(("by turnout", _by_turnout(group, on)))
    elif group.waiting:
        told.append(("waiting", _waiting(group, on)))
    if group.females is not None:
        told.append(("if one fails", _if_one_fails(group.counts)))
        if season is None or not season.bring_in:  # else it is told where he is
            told.append(("in his place", stand_ins_words(cover.stand_ins[key_of(group)], on)))
        if why_not := cover.not_offered[key_of(group)]:
            told.append(("not offered", "; ".join(f"{count} {why}" for why, count in why_not)))
        told.append(("it lasts", _lasts(group.counts)))
    told.append(
        ("calves due", f"{day_words(group.first_calf, on)} to {day_words(group.last_calf, on)}")
    )
    if ask := [f"{_name(w)}: {care.text}" for w in group.forecast for care in cares(w.bull)]:
        told.append(("ask first", "; ".join(ask)))
    told.append(("bulls in", f"{day_words(group.last_day, on)}, the season's last day"))
    told.append(("bulls" if before else "out", _bulls(group)))
    told += [fact for fact in of_season if fact[0] not in URGENT]
    told.append(("days to keep", "; ".join(event_words(e, on) for e in _coming(cover, group))))
    if group.reserves:
        told.append(("reserve", list_words(bull.name or bull.bull for bull in group.reserves)))
    return told


def _coming(cover: Cover, group: GroupCover) -> list[Event]:
    """The next days of the group, but for the calves and the looks at the bulls, which have lines
    of their own."""
    own = [event for event in cover.events_of(group) if event.what not in (CALVES, LOOK)]
    return own[:DAYS_TOLD]


def _enough_today(group: GroupCover) -> str:
    said = today_words(group)
    if group.females is None:
        return said
    left = group.females - (group.capacity_go if group.at_work is None else group.at_work.carried)
    return f"{said}: " + (f"{plural(left, 'female')} without a bull" if left > 0 else "enough")


def _waiting(group: GroupCover, on: Day) -> str:
    """In the season: each who is in, what he would carry and from when; and whether that would be
    enough with those who are out."""
    said = ", ".join(_waiter(worker, on) for worker in group.waiting)
    if not (group.would_carry and group.counts.short):
        return said
    left = group.counts.short - group.would_carry
    return f"{said}; let out, {f'still short by {left}' if left > 0 else 'they would be enough'}"


def _waiter(worker: Worker, on: Day) -> str:
    bull = worker.bull
    if bull.status == "GO":
        when = "GO"
    elif bull.earliest_ready is not None:
        first = bull.earliest_ready
        when = "today" if first <= on else f"from {day_words(first, on)}"
        when += ", if every check passes"
    else:
        when = bull.reasons[0].text if bull.reasons else "on hold"
    return f"{_name(worker)} {worker.carrier.females} ({when})"


def _by_turnout(group: GroupCover, on: Day) -> str:
    count = len(group.forecast)
    said = f"{plural(count, 'bull')} {carry_words(count)} {group.capacity_forecast}"
    if not count:
        said = "none of its bulls can be ready" if group.workers else "no bull goes out with it"
    if group.females is None:
        return said
    each = f", {-(-group.females // count)} females for each" if count else ""
    if group.short:
        later = f"; enough from {day_words(group.covered_from, on)}" if group.covered_from else ""
        return f"{said}{each}: short by {group.short}{later}"
    since = group.covered_from
    return f"{said}{each}: enough" + (
        f" from {day_words(since, on)}" if since and since > on else ""
    )


def _if_one_fails(strength: Strength) -> str:
    best = max((worker.carrier.females for worker in strength.bulls), default=0)
    if not best:
        return "there is none to fail"
    ablest = [_name(w) for w in strength.bulls if w.carrier.females == best]
    who = list_words(ablest, "or") if len(ablest) <= FEW_NAMES else "one of the ablest"
    even = "" if strength.short_if_one_fails else "even "
    return f"{short_words(strength.short_if_one_fails)}, {even}if it is {who} ({best})"


def _lasts(strength: Strength) -> str:
    assert strength.chance is not None
    said = chance_words(strength.chance)
    for wanted, spare in ((90, strength.spare_for_90), (95, strength.spare_for_95)):
        if spare is None:
            return f"{said}; no number of spare bulls makes {wanted} %"
        if spare:
            said += f"; {plural(spare, 'more bull')} for {wanted} %"
    return said


def _bulls(group: GroupCover) -> str:
    """Each with what he carries: before the season those who count by turnout first, in it those
    who are out."""
    here = [w for w in group.workers if group.at_work is None or w.out is not None]
    counts = {worker.bull.key for worker in group.counts.bulls}
    ordered = sorted(here, key=lambda w: (w.bull.key not in counts, -w.carrier.females))
    late = "by turnout" if group.at_work is None else "now"
    return (
        ", ".join(_bull(w, "" if w.bull.key in counts else f"not {late}") for w in ordered)
        or "none"
    )


def _bull(worker: Worker, late: str) -> str:
    bull = worker.bull
    aside = ["age not said"] if worker.months is None else []
    if late:
        why = f": {bull.reasons[0].text}" if bull.reasons and bull.earliest_ready is None else ""
        aside.append(f"{late}{why}")
    return f"{_name(worker)} {worker.carrier.females}" + (f" ({', '.join(aside)})" if aside else "")


def _name(worker: Worker) -> str:
    return worker.bull.name or worker.bull.bull


def move_words(move: Move) -> str:
    """One move and what it does: from where, how short before and after, the chance likewise."""
    name = move.bull.name or move.bull.bull
    frm = f"out of {move.frm}" if move.frm else "in no group"
    if move.frm == move.group:
        frm = "reserve there"
    elif move.role_before == "reserve":
        frm = f"reserve of {move.frm}"
    ask_first = "".join(f"; but: {care.text}" for care in cares(move.bull))
    return (
        f"{name} ({frm}) works in {move.group}: short {move.short_before} before, "
        f"{move.short_after} after; it lasts {chance_words(move.chance_before)} before, "
        f"{chance_words(move.chance_after)} after{ask_first}"
    )


def put_off_words(found: PutOff, on: Day) -> str:
    """ "Hill: turnout put off to 12 Jun (11 days): enough, if every check passes; first calf 21 Mar
    2027 instead of 10 Mar 2027; it lasts 7 times in 10 (72.9 %)"."""
    before, after = found.before, found.after
    how = {None: "", True: "with these moves made, ", False: "without these moves, "}
    first = how[found.with_moves]
    calves = [day_words(group.first_calf, on) for group in (after, before)]
    lasts = "" if after.chance is None else f"; it lasts {chance_words(after.chance)}"
    return (
        f"{after.group}: {first}turnout put off to {day_words(after.turnout, on)} "
        f"({days_words(found.days)}): enough, if every check passes; first calf "
        f"{' instead of '.join(calves)}{lasts}"
    )


def no_move(groups: Sequence[GroupCover]) -> str:
    """What is said of these groups where none is moved: nothing where all that are short are at
    work, for who waits and could stand in is told with them."""
    return NO_MOVE if any(group.short and group.at_work is None for group in groups) else ""


def mends(moves: Sequence[Move]) -> str:
    """The heading over the moves of a farm: whether they mend all, or help only."""
    last = {move.group: move.short_after for move in moves}
    return "What helps, and is not enough" if any(last.values()) else "What mends it"


def title(group: GroupCover, on: Day, where: str = "") -> str:
    """The group, ``where`` it is, and its turnout."""
    gone = group.turnout < on
    return (
        f"{group.group}{where}, turnout {'was ' if gone else ''}{weekday_words(group.turnout, on)}"
    )
