"""The day sheet as a page: what the trimmer leaves on the farm's table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from readiness.herd.day_sheet import Handled, Sheet
from readiness.report import page_words, sheet_text
from readiness.report.foot_svg import (
    SIGNS,
    codes_words,
    drawn_feet,
    feet_with_something,
    foot_defs,
)
from readiness.report.page import Words, page
from readiness.report.sheet_text import bull_words
from readiness.trade.feet import FEET
from readiness.trade.words import full_day_words, year_day_words
from readiness.visits.plan import VisitPlan


def sheet_page(sheets: Sequence[Sheet], plan: VisitPlan, *, large: bool = False) -> Iterator[str]:
    """The page in pieces, a farm on paper of its own. ``plan``: the return visits from the next day
    on."""
    on = sheets[0].on
    farms = page_words.farms(sheet.farm for sheet in sheets)
    yield from page(
        "sheet.html",
        title=f"{sheet_text.SHEET}, {farms}, {year_day_words(on)}",
        heading=sheet_text.SHEET,
        day=full_day_words(on),
        large=large,
        notices=[],
        defs=foot_defs(),
        states=page_words.STATES,
        farms=[_farm(sheet, plan) for sheet in sheets],
        bill=sheet_text.BILL,
        no_visit=sheet_text.NO_VISIT,
        signs=SIGNS,
        footer=page_words.CAUTIONS,
    )


def _farm(sheet: Sheet, plan: VisitPlan) -> Words:
    """One farm's sheet; of a bull's feet those lifted that have something to show."""
    feet = [feet_with_something(bull.state, _touched(bull)) for bull in sheet.bulls]
    shown = [
        finding
        for bull, own in zip(sheet.bulls, feet, strict=True)
        for finding in bull.state.feet.open.values()
        if finding.foot in own
    ]
    return {
        "title": sheet.farm or "No farm named",
        "by": sheet_text.by_words(sheet),
        "bulls": [
            {"words": bull_words(bull, sheet.on), "feet": drawn_feet(bull.state, own, sheet.on)}
            for bull, own in zip(sheet.bulls, feet, strict=True)
        ],
        "work": [
            (work.what, work.count, work.bulls, sheet_text.unit_words(work)) for work in sheet.work
        ],
        "visits": [sheet_text.visit_words(v) for v in sheet_text.visits_of(plan, sheet)],
        "missed": sheet_text.unplaced_words(plan, sheet),
        "codes": codes_words(shown),
    }


def _touched(bull: Handled) -> list[str]:
    """The feet that were lifted, or had a block fitted or taken off, that day."""
    feet = {foot for entry in bull.entries for foot in entry.body.get("lifted", ())}
    feet |= {e.body["foot"] for e in bull.entries if e.kind in ("block-on", "block-off")}
    return [foot for foot in FEET if foot in feet]
