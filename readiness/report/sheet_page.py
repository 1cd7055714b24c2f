"""The day sheet as a page: what the trimmer leaves on the farm's table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from readiness.herd.day_sheet import Handled, Sheet
from readiness.report import page_words, sheet_words
from readiness.report.drawn_feet import (
    SIGNS,
    DrawnFoot,
    codes_words,
    drawn_feet,
    feet_with_something,
)
from readiness.report.foot_svg import foot_defs
from readiness.report.page import page
from readiness.report.sheet_words import BullWords, bull_words
from readiness.trade.feet import FEET
from readiness.trade.words import day_words, full_day_words
from readiness.visits.plan import VisitPlan


@dataclass(frozen=True, slots=True)
class BullPart:
    """One bull in words, and those of the feet lifted that have something to show."""

    words: BullWords
    feet: Sequence[DrawnFoot]


@dataclass(frozen=True, slots=True)
class FarmPart:
    """One farm's sheet."""

    title: str
    by: str
    bulls: Sequence[BullPart]
    work: Sequence[tuple[str, int, int, str]]
    visits: Sequence[str]
    missed: Sequence[str]
    codes: Sequence[str]


def sheet_page(sheets: Sequence[Sheet], plan: VisitPlan, *, large: bool = False) -> Iterator[str]:
    """The page in pieces, a farm on paper of its own. ``plan``: the return visits from the next day
    on."""
    day = date.fromordinal(sheets[0].on)
    farms = page_words.farms(sheet.farm for sheet in sheets)
    yield from page(
        "sheet.html",
        title=f"{sheet_words.SHEET}, {farms}, {day_words(day, date.min)}",
        heading=sheet_words.SHEET,
        day=full_day_words(day),
        large=large,
        notices=[],
        defs=foot_defs(),
        states=page_words.STATES,
        farms=[_farm(sheet, plan) for sheet in sheets],
        bill=sheet_words.BILL,
        no_visit=sheet_words.NO_VISIT,
        signs=SIGNS,
        footer=page_words.CAUTIONS,
    )


def _farm(sheet: Sheet, plan: VisitPlan) -> FarmPart:
    bulls = [_bull(bull, sheet.on) for bull in sheet.bulls]
    shown = [
        finding
        for bull, part in zip(sheet.bulls, bulls, strict=True)
        for finding in bull.state.feet.open.values()
        if finding.foot in {foot.foot for foot in part.feet}
    ]
    return FarmPart(
        title=sheet.farm or "No farm named",
        by=sheet_words.by_words(sheet),
        bulls=bulls,
        work=[
            (work.what, work.count, work.bulls, sheet_words.unit_words(work)) for work in sheet.work
        ],
        visits=[sheet_words.visit_words(v) for v in sheet_words.visits_of(plan, sheet)],
        missed=sheet_words.unplaced_words(plan, sheet),
        codes=codes_words(shown),
    )


def _bull(bull: Handled, on: int) -> BullPart:
    touched = _touched(bull)
    feet = feet_with_something(bull.state, [foot for foot in FEET if foot in touched])
    return BullPart(bull_words(bull, on), drawn_feet(bull.state, feet, on))


def _touched(bull: Handled) -> set[str]:
    """The feet that were lifted, or had a block fitted or taken off, that day."""
    feet = {foot for entry in bull.entries for foot in entry.body.get("lifted", ())}
    return feet | {e.body["foot"] for e in bull.entries if e.kind in ("block-on", "block-off")}
