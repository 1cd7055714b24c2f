"""The day sheet in words, which its page says, too, and as text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from readiness.engine.results import Check
from readiness.herd.day_sheet import Handled, Sheet, Work
from readiness.herd.selection import overdue_first
from readiness.report import page_words, sentences
from readiness.report.look import Look, hanging, headed, wrapped
from readiness.report.rows import aloud, mark
from readiness.report.visits_text import load_words
from readiness.shorthand import words
from readiness.system.plain import plain
from readiness.trade.cautions import HANDLING, VET_DECIDES
from readiness.trade.words import full_day_words, list_words, plural
from readiness.visits.plan import Visit, VisitPlan

SHEET = "Day sheet"
NO_VISIT = "No return visit is needed: nothing of the trimmer's is outstanding here."
BILL = "Counted for the bill; a foot counts once for each kind of work."

# Asked for of every bull sooner or later, whatever was found.
_FOR_TURNOUT = ("mobility", "condition", "vet-exam")


@dataclass(frozen=True, slots=True)
class BullWords:
    """One bull of a sheet. ``said``: what was seen and done; ``todo``: (by when, what, who, whether
    overdue) of what comes of the feet and of lameness; ``later``: what turnout asks for besides;
    ``mark`` is empty where he has left."""

    name: str
    tag: str
    caution: str
    mark: str
    state: str
    whys: tuple[str, ...]
    said: tuple[str, ...]
    todo: tuple[tuple[str, str, str, bool], ...]
    later: str


def bull_words(handled: Handled, on: int) -> BullWords:
    """One bull's part of the sheet."""
    tag, name, bull = handled.tag, handled.name, handled.assessment
    checks = overdue_first(bull.outstanding) if bull else []
    absent = "has left" if handled.state.gone else "not booked yet on this day"
    return BullWords(
        name=plain(name or tag),
        tag=plain(tag if name else ""),
        caution=page_words.caution(str(handled.state.profile.get("temper"))),
        mark=mark(bull) if bull else "",
        state=sentences.STATUS[mark(bull)] if bull else absent,
        whys=tuple(plain(said) for said in aloud(bull)) if bull else (),
        said=tuple(words(entry.body) for entry in handled.entries),
        todo=tuple(
            page_words.todo(c, on) for c in checks if c.overdue or c.check not in _FOR_TURNOUT
        ),
        later=_later(checks),
    )


def _later(checks: Iterable[Check]) -> str:
    """What turnout asks for of every bull, in a row: its days stand on the board."""
    texts = [check.text for check in checks if check.check in _FOR_TURNOUT and not check.overdue]
    return f"for turnout also: {plain(list_words(texts))}" if texts else ""


def head(sheet: Sheet) -> str:
    """ "Kestrel Rigg: day sheet"."""
    return f"{plain(sheet.farm)}: {SHEET.lower()}" if sheet.farm else SHEET


def by_words(sheet: Sheet) -> str:
    """Who wrote what is on it; empty where nobody is named."""
    return f"Written down by {list_words(map(plain, sheet.by))}." if sheet.by else ""


def work_words(work: Work) -> str:
    """ "trimmed: 46 feet of 12 bulls"."""
    return f"{work.what}: {work.count} {unit_words(work)} of {plural(work.bulls, 'bull')}"


def unit_words(work: Work) -> str:
    """ "feet", or "foot" where it is one."""
    return work.unit if work.count != 1 else {"feet": "foot", "blocks": "block"}[work.unit]


def visits_of(plan: VisitPlan, sheet: Sheet) -> list[Visit]:
    """The planned visits to the sheet's farm."""
    return [visit for visit in plan.visits if visit.farm == sheet.farm]


def visit_words(visit: Visit) -> str:
    """ "Tue 14 Apr 2026: 8 bulls to pen, about 75 minutes; bring 5 blocks. Gorse …": each bull by
    name, or by tag where he has none."""
    names = list_words(plain(stop.bull.name or stop.bull.bull) for stop in visit.stops)
    said = f"{full_day_words(visit.on)}: {load_words(visit)}"
    return f"{said} {names}." if names else said


def unplaced_words(plan: VisitPlan, sheet: Sheet) -> list[str]:
    """What no planned visit of this farm can do, and why."""
    return [
        plain(f"{each.bull.name or each.bull.bull}: {each.check.text}: {each.why}")
        for each in plan.unplaced
        if (each.bull.farm or "") == sheet.farm
    ]


def nothing(on: int, farm: str | None, last: int | None) -> str:
    """What to say where nothing was seen or done on the day."""
    day = date.fromordinal(on)
    where = f" at {farm}" if farm else ""
    said = f"Nothing was seen or done{where} on {day.isoformat()}, so there is no day sheet."
    if last is None:
        return f"{said} Nothing was before it either: `readiness log` writes what is done."
    before = date.fromordinal(last).isoformat()
    return f"{said} The last day before it with something is {before}: give --on {before}."


def sheet_text(sheets: Sequence[Sheet], plan: VisitPlan, look: Look) -> str:
    """The sheets of a day under one another, ``look.width`` columns wide at most. ``plan``: the
    return visits from the next day on."""
    width = look.width - 2
    lines: list[str] = []
    for sheet in sheets:
        lines += [*([""] if lines else []), *_sheet(sheet, plan, width, look)]
    for text in (VET_DECIDES, HANDLING):
        lines += ["", *wrapped(text, width)]
    return look.plain_marks("\n".join(line.rstrip() for line in lines))


def _sheet(sheet: Sheet, plan: VisitPlan, width: int, look: Look) -> Iterator[str]:
    for line in headed(head(sheet), full_day_words(sheet.on), width):
        yield look.paint("head", line)
    yield from wrapped(by_words(sheet), width)
    for bull in sheet.bulls:
        yield ""
        yield from _bull(bull_words(bull, sheet.on), width, look)
    if sheet.work:
        yield from ("", look.paint("head", "Work done"))
        for work in sheet.work:
            yield from hanging(work_words(work), width)
        yield from hanging(BILL, width)
    yield from ("", look.paint("head", "Return visits"))
    visits = visits_of(plan, sheet)
    for visit in visits:
        yield from hanging(visit_words(visit), width)
    missed = unplaced_words(plan, sheet)
    for text in missed:
        yield from hanging(f"no visit for {text}", width)
    if not visits and not missed:
        yield from hanging(NO_VISIT, width)


def _bull(bull: BullWords, width: int, look: Look) -> Iterator[str]:
    who = " ".join(part for part in (bull.tag, bull.name, bull.caution) if part)
    yield from wrapped(look.plain_marks(who), width, "  ")
    state = f"{look.sign(bull.mark)} {bull.state}" if bull.mark else bull.state
    whys = f": {'; '.join(bull.whys)}" if bull.whys else ""
    painted, *more = hanging(f"{state}{whys}", width)
    yield look.paint(bull.mark, painted) if bull.mark else painted
    yield from more
    for said in bull.said:
        yield from hanging(said, width, 2, 6)
    for by, what, who_does, _ in bull.todo:
        yield from hanging(f"{by}: {what}, {who_does}", width, 4, 8)
    if bull.later:
        yield from hanging(bull.later, width, 4, 8)
