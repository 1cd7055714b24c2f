"""The figures as a page: where on the foot, drawn, and a table for each way of counting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from readiness.herd.stats.results import BY, Figures, Part, StatsRow
from readiness.report import stats_words as words
from readiness.report.foot_svg import foot_defs, heat_svg
from readiness.report.page import Words, page
from readiness.report.page_words import notices
from readiness.trade.feet import AS_HE_STANDS, FEET, FOOT_NAMES
from readiness.trade.words import full_day_words, plural

MAP_WORDS = (
    f"{AS_HE_STANDS}. A number stands where so many lifts of that foot listed a "
    "finding; the stronger the ink, the larger the share of its lifts. No ink rests on few."
)
WHISKERS = (
    "A bar is the share; the thin line over it runs from one end of its interval to the other: the "
    "longer the line, the less is known. A row without a bar rests on few."
)
STRONGEST, BAR, BAR_HIGH = 0.75, 120, 14


def stats_page(figures: Figures, *, known: str = "", large: bool = False) -> Iterator[str]:
    """The page in pieces. ``known``: the day and time, as the book knew it then."""
    day = full_day_words(figures.on)
    heading = words.farm_words(figures.farm)
    tables = [_table(figures.by(by)) for by in BY if figures.by(by)]
    yield from page(
        "stats.html",
        title=f"Figures, {heading}, {day}",
        heading=f"Figures, {heading}",
        day=day,
        large=large,
        notices=notices(known),
        defs=foot_defs(),
        headline=words.headline(figures),
        map_words=MAP_WORDS,
        feet=[_foot(foot, figures) for foot in FEET] if figures.feet else [],
        tables=tables,
        footer=[WHISKERS, *words.notes(figures)],
    )


def _foot(foot: str, figures: Figures) -> Words:
    name = f"{foot} {FOOT_NAMES[foot]}"
    cells = [cell for cell in figures.cells if cell.foot == foot]
    places = [words.cell_words(cell) for cell in cells]
    # The drawing in words, for who cannot see it.
    said = f"{name}: {'; '.join(places) or 'nothing was found'}"
    heat = {
        (cell.claw, cell.zone): (STRONGEST * words.heat(cell, figures), str(cell.part.n))
        for cell in cells
        if cell.zone is not None
    }
    return {
        "name": name,
        "drawing": heat_svg(foot, heat, said),
        "lifted": words.lifts_words(figures.lifts_of(foot), figures.few),
        "places": places,
    }


def _table(rows: Sequence[StatsRow]) -> Words:
    """One way of counting. ``scale``: where its bars end; ``absent``: what was never found."""
    by, kept = rows[0].by, words.shown(rows)
    top = words.scale_top(kept)
    return {
        "title": words.TITLES[by],
        "meaning": words.MEANINGS[by],
        "head": by,
        "scale": f"0 to {100 * top:.0f} %",
        "rows": [_line(row, top) for row in kept],
        "absent": words.absent_words(rows),
    }


def _line(row: StatsRow, top: float) -> tuple[str, Markup, str, list[str]]:
    """A row's name, its bar, how many, and what else is to be said of its share."""
    part = row.part
    said = [] if part.few else [f"{words.percent(part.share)} %"]
    said.append(words.interval_words(part))
    if part.n:
        said.append(f"on {plural(part.bulls, 'bull')}")
    return words.row_name(row), _bar(part, top), words.count_words(part), said


def _bar(part: Part, top: float) -> Markup:
    """The share as a bar and its interval as a line with ends; of few the line alone."""
    share, low, high = (
        round(BAR * min(each / top, 1), 1) for each in (part.share, part.low, part.high)
    )
    filled = Markup('<rect class="heat" fill-opacity="{}" y="3" width="{}" height="8"/>').format(
        STRONGEST, share
    )
    ends = f"M{low} 7H{high}M{low} 3V11" + ("" if part.high > top else f"M{high} 3V11")
    return Markup(
        '<svg class="bar" width="{}" height="{}" viewBox="-1 0 {} {}" aria-hidden="true">'
        '{}<path class="line" d="{}"/></svg>'
    ).format(BAR, BAR_HIGH, BAR + 2, BAR_HIGH, "" if part.few else filled, ends)
