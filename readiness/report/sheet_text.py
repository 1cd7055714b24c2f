"""The day sheet as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from readiness.herd.day_sheet import Sheet
from readiness.report import sheet_words
from readiness.report.look import Look, hanging, wrapped
from readiness.report.sheet_words import BullWords, bull_words
from readiness.trade.cautions import HANDLING, VET_DECIDES
from readiness.trade.words import full_day_words
from readiness.visits.plan import VisitPlan


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
    day = full_day_words(sheet.on)
    title = look.fit(sheet_words.head(sheet), width - len(day) - 1)
    yield look.paint("head", f"{title} {day}")
    yield from wrapped(sheet_words.by_words(sheet), width)
    for bull in sheet.bulls:
        yield ""
        yield from _bull(bull_words(bull, sheet.on), width, look)
    if sheet.work:
        yield from ("", look.paint("head", "Work done"))
        for work in sheet.work:
            yield from hanging(sheet_words.work_words(work), width)
        yield from hanging(sheet_words.BILL, width)
    yield from ("", look.paint("head", "Return visits"))
    visits = sheet_words.visits_of(plan, sheet)
    for visit in visits:
        yield from hanging(sheet_words.visit_words(visit), width)
    missed = sheet_words.unplaced_words(plan, sheet)
    for text in missed:
        yield from hanging(f"no visit for {text}", width)
    if not visits and not missed:
        yield from hanging(sheet_words.NO_VISIT, width)


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
