"""The figures in words, the same on paper, on the screen and on a page; and as text: a table for
each way of counting, a bar with its interval on each row. The screen shows the same tables."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from readiness.herd.stats.results import BY, NOT_SAID, SKIN, Figures, Part, Place, StatsRow
from readiness.report.look import Look, wrapped
from readiness.report.spans import Spans, aligned, width_of
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.codes import CODES
from readiness.trade.feet import CLAW_NAMES, FOOT_NAMES, ZONES
from readiness.trade.words import FARM_LESS, day_words, full_day_words, list_words, plural

TITLES = {
    "code": "Findings", "foot": "Feet", "claw": "Claws", "zone": "Zones", "breed": "Breeds",
    "age": "Ages", "year": "Years",
}  # fmt: skip

MEANINGS = {
    "code": "feet lifted on which it was listed, of all feet lifted",
    "foot": "lifts of that foot with any finding",
    "claw": "claws with a finding of the claw, of such claws lifted; skin: feet, of feet lifted",
    "zone": "claws with a finding there, of all claws lifted; skin: feet, of feet lifted",
    "breed": "claws with a finding of the claw, of the claws lifted of that breed",
    "age": "the same, by the bull's age on the day of the lift",
    "year": "feet lifted in that year with any finding",
}

COUNTED = (
    "A foot counts each time it is lifted, with all that was listed on it that day, new or open "
    "still; what was seen healed does not count. A finding of the skin is of the foot and of "
    "neither claw. The interval is Wilson's for 95 %."
)
BARS = "On a bar | is the share, [ and ] are the ends of its interval."
NOT_MEANT = (
    "Feet that were lifted are no random sample: many are lifted because something is wrong, one "
    "with a finding is lifted again and counts again, and the feet of one bull go together, so the "
    "truth may lie further off than the interval says. This finds no cause and is no diagnosis; "
    "the vet decides."
)
ALL_FARMS = "all farms"
_SKIN_ZONE = f"{SKIN} "


def headline(figures: Figures) -> str:
    """How much was lifted, where, over which days, and on how much of it anything was found."""
    where = "" if figures.farm is None else f" at {farm_words(figures.farm)}"
    if figures.found is None:
        start = f" from {full_day_words(figures.since)}" if figures.since else ""
        return f"No foot was lifted{where}{start} up to {full_day_words(figures.on)}."
    first, last = (day_words(day, figures.on) for day in (figures.first, figures.last))
    span = first if first == last else f"{first} to {last}"
    feet = plural(figures.feet, "foot", "feet")
    return (
        f"{feet} lifted{where}, of {plural(figures.bulls, 'bull')}, {span}; "
        f"any finding on {part_words(figures.found)}."
    )


def farm_words(farm: str | None) -> str:
    """Which farm's figures they are."""
    return ALL_FARMS if farm is None else plain(farm) or FARM_LESS


def notes(figures: Figures) -> list[str]:
    """What stands under the figures: what is few, what is counted, and what they do not mean."""
    return [*filter(None, [few_words(figures)]), COUNTED, NOT_MEANT]


def part_words(part: Part) -> str:
    """ "18 of 312 (5.8 %, 3.7 to 8.9 %)"; of few no share: "few: 7 of 12 (32.0 to 80.7 %)"."""
    share = "" if part.few else f"{percent(part.share)} %, "
    return f"{count_words(part)} ({share}{interval_words(part)})"


def count_words(part: Part) -> str:
    """ "18 of 312", "few: 7 of 12"."""
    return f"{'few: ' if part.few else ''}{part.n} of {part.of}"


def interval_words(part: Part) -> str:
    return f"{percent(part.low)} to {percent(part.high)} %"


def percent(share: float) -> str:
    """A share (0 to 1) as per cent, without the sign: "5.8"."""
    return f"{100 * share:.1f}"


def row_name(row: StatsRow) -> str:
    """What a row is about: "SU sole ulcer", "LH left hind", "4 where sole and heel meet"."""
    if row.by == "code":
        return f"{row.value} {CODES[row.value].name}"
    if row.by == "foot":
        return f"{row.value} {FOOT_NAMES[row.value]}"
    if row.by == "claw":
        return CLAW_NAMES[row.value]
    if row.by == "zone":
        return _zone_name(row.value)
    return plain(row.value)


def _zone_name(value: str) -> str:
    skin = _SKIN_ZONE if value.startswith(_SKIN_ZONE) else ""
    zone = value.removeprefix(_SKIN_ZONE)
    return f"{skin}{zone}" if zone == NOT_SAID else f"{skin}{zone} {ZONES[int(zone)]}"


def shown(rows: Sequence[StatsRow]) -> list[StatsRow]:
    """The rows to show: of codes and zones those that were found. Codes the most frequent first,
    unless they rest on few: few are not ranked."""
    kept = [row for row in rows if row.part.n or row.by not in ("code", "zone")]
    if rows and rows[0].by == "code" and not rows[0].part.few:
        kept.sort(key=lambda row: -row.part.n)
    return kept


def absent_words(rows: Sequence[StatsRow]) -> str:
    """Which codes or zones were never found, and how many that still allows; empty for none."""
    missing = [row for row in rows if row.by in ("code", "zone") and not row.part.n]
    said = []
    for unit in dict.fromkeys(row.unit for row in missing):
        alike = [row for row in missing if row.unit == unit]
        names = list_words((row.value for row in alike), "or")
        part = alike[0].part
        said.append(f"{names}, {count_words(part)}, {interval_words(part)}")
    return f"Never found: {'; '.join(said)}." if said else ""


def few_words(figures: Figures) -> str:
    """What "few" means; empty where nothing is."""
    parts = [row.part for row in figures.rows] + [cell.part for cell in figures.cells]
    if not any(part.few for part in parts):
        return ""
    limit = plural(figures.few, "foot", "feet")
    return f"few: fewer than {limit} lifted, and chance alone makes such a figure: trust it little."


def heat(cell: Place, figures: Figures) -> float:
    """How strongly a place is coloured, 0 to 1: its share against the largest that does not rest
    on few; few are not coloured."""
    solid = [each.part.share for each in figures.cells if not each.part.few]
    return 0.0 if cell.part.few else cell.part.share / max(solid)


def cell_words(cell: Place) -> str:
    """A place on a foot and its figures: "outer 4, where sole and heel meet: 5 of 80 (…)"."""
    zone = "place not said" if cell.zone is None else f"{cell.zone}, {ZONES[cell.zone]}"
    return f"{cell.claw} {zone}: {part_words(cell.part)}"


def lifts_words(lifts: int, few: int) -> str:
    """How often a foot was lifted: "80 lifts", "few: 12 lifts"."""
    said = plural(lifts, "lift")
    return f"few: {said}" if lifts < few else said


def scale_top(rows: Iterable[StatsRow]) -> float:
    """The share at which a table's bars end: round, and enough for what does not rest on few."""
    parts = [row.part for row in rows]
    solid = [part.high for part in parts if not part.few] or [part.high for part in parts]
    return next(top for top in (0.05, 0.1, 0.2, 0.5, 1.0) if top >= max(solid, default=0))


def bar(part: Part, top: float, width: int) -> str:
    """A share and its interval as ``width`` characters, from 0 to ``top``.

    ``=`` up to the share, ``|`` the share, ``[`` and ``]`` the ends of the interval. Of few only
    the interval; one that reaches beyond ``top`` has no end.
    """

    def place(share: float) -> int:
        return min(int(share / top * width), width - 1)

    low, share, high = map(place, (part.low, part.share, part.high))
    drawn = list(f"{'':{low}}{'-' * (high + 1 - low)}".ljust(width))
    if not part.few:
        drawn[:share] = "=" * share
    drawn[low] = "["
    if part.high <= top:
        drawn[high] = "]"
    if not part.few:
        drawn[share] = "|"
    return "".join(drawn)


# ---- as text -------------------------------------------------------------------------------------

_WIDEST_NAME, _LEAST_NAME, _LEAST_BAR, _WIDEST_BAR = 36, 14, 10, 40


def stats_text(figures: Figures, look: Look) -> str:
    """The figures, ``look.width`` columns wide at most."""
    lines = [look.paint("head", line) for line in wrapped(headline(figures), look.width)]
    for by in BY:
        if rows := figures.by(by):
            lines += ["", *_table(rows, look)]
    lines.append("")
    for note in (*([BARS] if figures.feet else []), *notes(figures)):
        lines += wrapped(note, look.width - 2)
    return look.plain_marks("\n".join(lines))


def _table(rows: Sequence[StatsRow], look: Look) -> list[str]:
    """One table: its title and what it counts, the rows, and what was never found."""
    title = f"{TITLES[rows[0].by]}: {MEANINGS[rows[0].by]}"
    lines = [look.paint("head", line) for line in wrapped(title, look.width - 2)]
    laid = laid_out(shown(rows), look.width - 2, look.fit)
    lines += [f"  {look.painted(line)}" for line in laid]
    return [*lines, *(f"  {line}" for line in wrapped(absent_words(rows), look.width - 4))]


def laid_out(rows: Sequence[StatsRow], width: int, fit: Callable[[str, int], str]) -> list[Spans]:
    """The rows of one table, ``width`` columns wide in all: what each is about, its bar where there
    is room, count, share and interval; under them the scale of the bars. ``fit`` gives a text in
    exactly so many columns. The bar up to the share stands out; nothing of few does."""
    if not rows:
        return []
    top = scale_top(rows)
    tails = aligned([_tail(row) for row in rows], ("", "  ", "  "), range(3), (0, 0, 0))
    room = width - width_of(tails[0])
    widest = max(cells(row_name(row)) for row in rows)
    name = max(_LEAST_NAME, min(widest, _WIDEST_NAME, room - _LEAST_BAR - 2))
    length = min(room - name - 2, _WIDEST_BAR)
    drawn = length >= _LEAST_BAR
    lines = []
    for row, tail in zip(rows, tails, strict=True):
        role = "quiet" if row.part.few else ""
        said = bar(row.part, top, length) if drawn else ""
        share = said.find("|") + 1
        about = (fit(row_name(row), name), role)
        bars = [(f" {said[:share]}", f"strong {role}".strip()), (f"{said[share:]} ", "quiet")]
        figures = "".join(text for text, _ in tail)
        lines.append([about, *(bars if drawn else [(" ", "")]), (figures, role)])
    end = f"{100 * top:.0f} %"
    return [*lines, *([[(f"{'':<{name}} 0{end:>{length - 1}}", "quiet")]] if drawn else [])]


def _tail(row: StatsRow) -> Spans:
    """Count, share and interval; of few no share."""
    part = row.part
    share = "" if part.few else f"{percent(part.share)} %"
    return [(text, "") for text in (count_words(part), share, interval_words(part))]
