"""The plan of return visits as text: when to drive where, which bulls in which order, what to
bring, and what has no day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from readiness.engine.results import Assessment, Check
from readiness.herd.changes import Change
from readiness.report.changes_text import changes_lines
from readiness.report.look import Look, hanging, wrapped
from readiness.report.rows import short_tags
from readiness.system.plain import plain
from readiness.trade.cautions import HANDLING
from readiness.trade.feet import FEET
from readiness.trade.temper import CAUTION as TEMPER
from readiness.trade.words import (
    FARM_LESS,
    Day,
    column_day,
    days_words,
    full_day_words,
    full_when_words,
    list_words,
    plural,
)
from readiness.visits.bring import Bring
from readiness.visits.plan import Stop, Unplaced, Visit, VisitPlan

NOTHING = "No visit is needed: nothing of the trimmer's is outstanding."
ORDER = (
    "Bulls stand in the order to take them (project choice): the lame first, then pen by pen, a "
    "dangerous one after the others, and last those with DD, ID or IP, which may spread on a "
    "knife: clean the tools."
)
BROUGHT = (
    "What to bring is counted from what is open today; what is used is decided at the foot. Days "
    "to come hold only if every check before them passes; the vet decides on all that is the vet's."
)


def visits_text(plan: VisitPlan, look: Look) -> str:
    """The plan, ``look.width`` columns wide at most."""
    names = short_tags(bull.bull for bull in plan.board.bulls)
    lines = wrapped(headline(plan), look.width - 1)
    for visit in plan.visits:
        lines += ["", *visit_lines(visit, names, plan, look)]
    if plan.unplaced:
        lines += ["", look.paint("alert", f"{look.sign('alert')} Without a day")]
    for each in plan.unplaced:
        lines += hanging(unplaced_words(each, names), look.width)
    lines.append("")
    for text in (ORDER, BROUGHT, HANDLING) if plan.visits else (HANDLING,):
        lines += wrapped(text, look.width - 2)
    return "\n".join(lines)


def headline(plan: VisitPlan) -> str:
    """How many visits there are, over which days, and whether fewer could do."""
    span = f"{full_day_words(plan.asked.first)} to {full_day_words(plan.asked.last)}"
    if not plan.visits and not plan.unplaced:
        return f"{NOTHING} ({span})"
    if not plan.visits:
        return f"No visit can be planned, {span}."
    count = plural(len(plan.visits), "visit")
    return f"{count}, {span}: {proof_words(plan)}."


def proof_words(plan: VisitPlan) -> str:
    """Whether fewer visits could do, in words."""
    promised = sum(visit.promised for visit in plan.visits)
    kept = f", {promised} of them promised" if promised else ""
    stops = (stop for visit in plan.visits for stop in visit.stops)
    overdue = any(check.overdue for stop in stops for check in stop.checks)
    first = " with what is overdue done first" if overdue else ""
    if plan.exact:
        return f"no fewer can do{first}{kept}"
    if len(plan.unplaced) > plan.least_unplaced:
        return (
            f"the best found in the time there was{kept}; {len(plan.unplaced)} checks have no day, "
            f"at least {plan.least_unplaced} have none in any plan"
        )
    if plan.bound >= len(plan.visits):
        return f"no fewer can do{first}, their days may not be the best{kept}"
    return (
        f"the best found in the time there was{kept}; {plan.bound} at least, so at most "
        f"{len(plan.visits) - plan.bound} too many"
    )


def visit_lines(visit: Visit, names: dict[str, str], plan: VisitPlan, look: Look) -> list[str]:
    """One visit: when and where, what to bring, which bulls."""
    promised = ", promised" if visit.promised else ""
    when = full_when_words(visit.on, plan.board.on)
    head = f"{when}{promised}: {plain(visit.farm) or FARM_LESS}"
    lines = [look.paint("head", line) for line in hanging(head, look.width, 0, 4)]
    lines += hanging(load_words(visit), look.width, 2, 2)
    for stop in visit.stops:
        lines += hanging(stop_words(stop, names), look.width, 4, 10)
    return [look.plain_marks(line) for line in lines]


def load_words(visit: Visit) -> str:
    """ "8 bulls to pen, about 75 minutes; bring 5 blocks and 2 dressings"."""
    if not visit.stops:
        return "nothing is due that day."
    bulls = f"{plural(len(visit.stops), 'bull')} to pen, about {plural(visit.minutes, 'minute')}"
    return f"{bulls}; bring {bring_words(visit.bring)}."


def bring_words(bring: Bring) -> str:
    counts = (
        (bring.blocks, "block"), (bring.wraps, "wrap"), (bring.dressings, "dressing"),
    )  # fmt: skip
    return list_words(plural(n, what) for n, what in counts if n) or "nothing beyond the tools"


def stop_words(stop: Stop, names: dict[str, str]) -> str:
    """One bull of a visit, what is done on him, and a warning of him."""
    tag = names[stop.bull.bull]
    who = f"{tag} {stop.bull.name}" if stop.bull.name else tag
    asides = (f"pen {stop.pen}" if stop.pen else "", TEMPER.get(stop.bull.temper or ""))
    said = ", ".join(filter(None, asides))
    done = "; ".join(_done(check, stop) for check in stop.checks)
    return plain(f"{who}{f' ({said})' if said else ''}: {done}")


def _done(check: Check, stop: Stop) -> str:
    late = stop.late.get(check.id)
    words = check_words_long(check)
    return f"{words}, {days_words(late)} late" if late else words


def check_words_long(check: Check) -> str:
    """What is done, in a few words, with the finding's name where there is one."""
    if check.check in ("feet", "lift"):
        feet = "all four" if check.feet == FEET else " ".join(check.feet)
        return f"lift {feet}" if check.check == "lift" else f"lift and trim {feet}"
    return check.text


def unplaced_words(unplaced: Unplaced, names: dict[str, str]) -> str:
    """A check that has no day, and why."""
    bull = unplaced.bull
    who = f"{names[bull.bull]} {bull.name or ''}".strip()
    rule = f" ({unplaced.rule})" if unplaced.rule else ""
    return plain(f"{who}: {check_words_long(unplaced.check)}: {unplaced.why}{rule}")


def missed_lines(plan: VisitPlan, before: VisitPlan) -> list[str]:
    """What is late or has no day on ``plan`` and was better off ``before``, a line each."""
    names = short_tags(bull.bull for bull in plan.board.bulls)
    was = {(bull.key, check.id): days for _, bull, check, days in _late(before)}
    worse = []
    for on, bull, check, days in _late(plan):
        if days > was.get((bull.key, check.id), 0):
            who = f"{names[bull.bull]} {bull.name or ''}".strip()
            words = f"{who}: {check_words_long(check)}, {days_words(days)} late"
            worse.append(plain(f"{words} on {column_day(on, plan.board.on)}"))
    had = {(each.bull.key, each.check.id) for each in before.unplaced}
    worse += [
        unplaced_words(each, names)
        for each in plan.unplaced
        if (each.bull.key, each.check.id) not in had
    ]
    return worse


def _late(plan: VisitPlan) -> Iterator[tuple[Day, Assessment, Check, int]]:
    """What is done late: the day, the bull, the check, and by how many days."""
    for visit in plan.visits:
        for stop in visit.stops:
            for check in stop.checks:
                if check.id in stop.late:
                    yield visit.on, stop.bull, check, stop.late[check.id]


def what_if_text(
    what: str, missed: Sequence[str], changed: Iterable[Change], on: int, look: Look
) -> str:
    """What would be missed and who would change, under a heading."""
    lines = [look.paint("head", line) for line in wrapped(what, look.width)]
    said = [*missed] or ["nothing is missed"]
    for each in said:
        lines += hanging(each, look.width)
    lines += ["", *changes_lines(changed, on, look)]
    return look.plain_marks("\n".join(lines))
