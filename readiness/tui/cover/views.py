"""What the Cover screen shows: each group's females against what its bulls carry, and one group in
full."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from readiness.cover.groups import GroupCover, by_day
from readiness.cover.whole import Cover
from readiness.report import cover_words as words
from readiness.report.look import wrapped
from readiness.system.width import cells
from readiness.trade.words import Day, day_words, full_day_words
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, Glyphs, at_both_ends, painted

LABEL, COUNT = 12, 5
LEAST_BAR = 8


def top_line(cover: Cover, width: int, glyphs: Glyphs) -> Content:
    """Whose bulls on the left, the day on the right."""
    farms = ", ".join(dict.fromkeys(group.farm for group in cover.groups if group.farm))
    right = full_day_words(cover.on)
    left = glyphs.fit(glyphs.text(f" Cover {farms}".rstrip()), width - cells(right) - 2)
    return at_both_ends([(left, "head")], right, width)


def overview(
    groups: Sequence[GroupCover], on: Day, chosen: int, width: int, glyphs: Glyphs, *,
    few_lines: bool,
) -> Content:  # fmt: skip
    """Every group with its bars; ``chosen``: the place of the one shown in full below.
    ``few_lines``: of the others only their females and what is carried by turnout."""
    if not groups:
        return Content(words.NO_GROUPS)
    most = max(max(g.females or 0, g.capacity_go, g.capacity_forecast) for g in groups)
    parts = [
        _bars(group, on, most, width, glyphs, chosen=at == chosen, few_lines=few_lines)
        for at, group in enumerate(groups)
    ]
    return Content("\n").join(parts)


def _bars(
    group: GroupCover,
    on: Day,
    most: int,
    width: int,
    glyphs: Glyphs,
    *,
    chosen: bool,
    few_lines: bool,
) -> Content:
    """A group's head, its females, what is carried today and by turnout, to one scale."""
    head = glyphs.text(f"{'>' if chosen else ' '} {words.title(group, on)}")
    short = f"short by {group.short}" if group.short else ""
    style = f"bold reverse {TEXT}" if chosen else f"bold {TEXT}"
    lines = [Content.styled(glyphs.padded(head, width - len(short) - 2), style)]
    if short:
        lines[0] += Content.styled(f" {short}", f"bold {ORANGE}")
    rows = [("GO today", group.capacity_go, glyphs.fill, SKY)]
    if few_lines and not chosen:
        rows.clear()
    if group.turnout >= on or not rows:
        rows.append(("by turnout", group.capacity_forecast, glyphs.fill, SKY))
    if group.females is not None:
        rows.insert(0, (group.category, group.females, glyphs.rule, TEXT))
    room = max(width - LABEL - COUNT - 4, LEAST_BAR)
    for label, count, fill, hue in rows:
        bar = fill * (round(room * count / most) if most else 0)
        lines.append(Content.assemble(f"  {label:<{LABEL}}{count:>{COUNT}} ", (bar, hue)))
    return Content("\n").join(lines)


def in_full(cover: Cover, group: GroupCover, width: int, glyphs: Glyphs) -> Content:
    """One group: what is known of it, and what mends its shortage."""
    lines = [Content("")]
    for label, said in words.facts(cover, group):
        first, *rest = wrapped(glyphs.text(said), max(width - LABEL - 6, 20)) or [""]
        lines.append(Content.assemble((f"  {label:<{LABEL + 3}}", QUIET), first))
        lines += [Content(" " * (LABEL + 5) + line) for line in rest]
    lines += [
        Content(""),
        Content.styled(
            "  Carried day by day, if every check passes (level: females; upright: turnout)",
            QUIET,
        ),
    ]
    lines += [Content(f"  {line}") for line in _days(cover.on, group, width - 4, glyphs)]
    if group.short:
        mine = [move for move in cover.moves if move.farm == group.farm]
        lines += [
            Content(""),
            Content.styled(f"  {words.mends(mine)} (m writes it)", f"bold {TEXT}"),
        ]
        told = [words.move_words(move) for move in mine] or [words.NO_MOVE]
        for each in told:
            lines += [Content(f"  {line}") for line in wrapped(glyphs.text(each), width - 4, "  ")]
    return Content("\n").join(lines)


def _days(on: Day, group: GroupCover, width: int, glyphs: Glyphs) -> Sequence[str]:
    steps = (f"{day_words(day, on)} {carried}" for day, carried in by_day(on, group.workers))
    return wrapped(glyphs.text("; ".join(steps)), width, "  ")


def what_if(
    before: GroupCover | None, after: GroupCover | None, on: Day, glyphs: Glyphs
) -> Content:
    """What was asked, and what it changes: as it is, then what if."""
    if before is None or after is None:
        return Content("")
    asked = []
    if after.females != before.females:
        asked.append(f"{after.females} {after.category}")
    if after.turnout != before.turnout:
        asked.append(f"turnout {day_words(after.turnout, on)}")
    told = [f"What if {' and '.join(asked)}:"]
    pairs = [
        ("carried by turnout", str(before.capacity_forecast), str(after.capacity_forecast)),
        ("short", str(before.short), str(after.short)),
        ("it lasts", _chance(before), _chance(after)),
        ("first calf", day_words(before.first_calf, on), day_words(after.first_calf, on)),
    ]
    told += [f"{what} {was} {glyphs.arrow} {now}" for what, was, now in pairs if was != now]
    told += [] if len(told) > 1 else ["nothing changes"]
    return painted((glyphs.text(f" {told[0]} {', '.join(told[1:])}"), "strong"))


def _chance(group: GroupCover) -> str:
    return "not known" if group.chance is None else words.chance_words(group.chance)
