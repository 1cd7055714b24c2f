"""What the Figures screen shows: the map of the feet, and the tables."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from readiness.herd.stats.figures import SKIN_ZONES
from readiness.herd.stats.results import SKIN, Figures, Place, StatsRow
from readiness.report import stats_words as words
from readiness.trade.feet import AS_HE_STANDS, FEET, FOOT_NAMES
from readiness.trade.words import day_words, full_day_words
from readiness.tui.shared.feet import Foot, Label, four_feet
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT, YELLOW, Glyphs, at_both_ends, painted

VIEWS: dict[str, tuple[str, ...]] = {
    "map": (),
    "findings": ("code",),
    "feet": ("foot", "claw"),
    "zones": ("zone",),
    "breeds": ("breed",),
    "ages": ("age",),
    "years": ("year",),
}
"""View → the tables that stand in it."""

CAREFUL = "No random sample, and no diagnosis: the vet decides."
MAP_WORDS = (
    f"{AS_HE_STANDS}; a number: so many lifts of that foot listed a finding there, the brighter "
    "the larger the share; ( ) place not said"
)
# On the drawing the cleft has no place for a claw's zones, nor a claw for these.
_OFF_CLAW = (0, 10)


def top_line(figures: Figures, width: int, glyphs: Glyphs) -> Content:
    """Whose figures on the left, since when and up to which day on the right."""
    since = figures.since
    start = f"{day_words(since, figures.on)} to" if since else "up to"
    right = f"{start} {full_day_words(figures.on)}"
    left = glyphs.fit(f" Figures, {glyphs.text(words.farm_words(figures.farm))}",
                      width - len(right) - 2)  # fmt: skip
    return at_both_ends([(left, "head")], right, width)


def tabs_line(view: str) -> Content:
    """The views by their digits; the one shown reversed."""
    parts: list[tuple[str, str]] = []
    for number, name in enumerate(VIEWS, start=1):
        parts.append((f" {number} {name}", f"bold reverse {TEXT}" if name == view else QUIET))
    return Content.assemble(*parts)


def body(figures: Figures, view: str, width: int, glyphs: Glyphs) -> Content:
    """The view, then what is few, what is counted and what is not meant."""
    parts = [Content.styled(glyphs.text(words.headline(figures)), f"bold {TEXT}")]
    if figures.feet:
        if view == "map":
            parts.append(_map(figures, width, glyphs))
        else:
            parts += [_table(figures.by(by), width, glyphs) for by in VIEWS[view]]
            parts.append(Content.styled(words.BARS, QUIET))
    parts += [Content.styled(glyphs.text(note), QUIET) for note in words.notes(figures)]
    return Content("\n\n").join(parts)


# ---- the map -----------------------------------------------------------------------------------


def _map(figures: Figures, width: int, glyphs: Glyphs) -> Content:
    """The four feet with their counts, and each place in words."""
    drawn = four_feet({foot: _foot(foot, figures) for foot in FEET}, width, glyphs)
    places = [
        Content.styled(glyphs.text(f"{cell.foot} {words.cell_words(cell)}"), _style(cell, figures))
        for cell in figures.cells
    ]
    key = Content.styled(MAP_WORDS, QUIET)
    return Content("\n").join([drawn, key, Content(""), *places])


def _foot(foot: str, figures: Figures) -> Foot:
    lifted = words.lifts_words(figures.lifts_of(foot), figures.few)
    labels = tuple(
        Label(cell.claw, cell.zone, str(cell.part.n), False, 0, _style(cell, figures))
        for cell in figures.cells
        if cell.foot == foot and _has_place(cell)
    )
    return Foot(foot, f"{foot} {FOOT_NAMES[foot]}, {lifted}", labels, {})


def _has_place(cell: Place) -> bool:
    if cell.claw == SKIN:
        return cell.zone is None or cell.zone in SKIN_ZONES
    return cell.zone not in _OFF_CLAW


def _style(cell: Place, figures: Figures) -> str:
    """The larger the share of its foot's lifts, the brighter; few are quiet."""
    if cell.part.few:
        return QUIET
    heat = words.heat(cell, figures)
    if heat > 2 / 3:
        return f"bold {ORANGE}"
    return YELLOW if heat > 1 / 3 else TEXT


# ---- tables ------------------------------------------------------------------------------------


def _table(rows: Sequence[StatsRow], width: int, glyphs: Glyphs) -> Content:
    """A table's title, its rows and what was never found."""
    by = rows[0].by
    lines = [
        painted((words.TITLES[by], "head"), (f": {words.MEANINGS[by]}", "quiet")),
        *(painted(*line) for line in words.laid_out(words.shown(rows), width, glyphs.padded)),
    ]
    if absent := words.absent_words(rows):
        lines.append(painted((absent, "quiet")))
    return Content("\n").join(lines)
