"""What the Cover screen shows: each group's females against what its bulls carry, and one group in
full."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content

from readiness.cover.groups import by_day
from readiness.cover.put_off import PutOff
from readiness.cover.results import GroupCover, Strength
from readiness.cover.whole import Cover
from readiness.report import after_words
from readiness.report import cover_words as words
from readiness.report.after_words import STILL_OUT
from readiness.report.cover_headline import NO_GROUPS
from readiness.report.look import wrapped
from readiness.system.width import cells
from readiness.trade.words import Day, day_words, full_day_words
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, Glyphs, at_both_ends, painted

LABEL, COUNT, IN_A_LINE = 12, 5, 12
IN_SEASON = "In the season nobody is moved: t shows who waits, and lets him out."
LEAST_BAR = 12
"""No shorter than " short by 12"."""


def top_line(cover: Cover, width: int, glyphs: Glyphs) -> Content:
    """Whose bulls on the left, the day on the right."""
    farms = ", ".join(dict.fromkeys(group.farm for group in cover.groups if group.farm))
    right = full_day_words(cover.on)
    left = glyphs.fit(glyphs.text(f" Cover {farms}".rstrip()), width - cells(right) - 2)
    return at_both_ends([(left, "head")], right, width)


def overview(
    cover: Cover, groups: Sequence[GroupCover], chosen: int, width: int, glyphs: Glyphs, *,
    few_lines: bool,
) -> Content:  # fmt: skip
    """Every group with its bars; ``chosen``: the place of the one shown in full below.
    ``few_lines``: the others have a line each. First the bulls that should be in,
    last the way to those whose season is over."""
    first, last = _still_out(cover, width, glyphs), _after_line(cover, chosen, width, glyphs)
    if not groups:
        said = map(Content, wrapped(NO_GROUPS, width - 1))
        return Content("\n").join([*first, *said, *last])
    farms, names = {group.farm for group in groups}, [group.group for group in groups]
    most = max(max(g.females or 0, *(count for _, count in words.carried(g))) for g in groups)
    in_a_line = [few_lines and at != chosen for at in range(len(groups))]
    heads = [
        _head(group, cover.on, glyphs, chosen=at == chosen, short=short,
              farm=names.count(group.group) > 1 or (not short and len(farms) > 1))
        for (at, group), short in zip(enumerate(groups), in_a_line, strict=True)
    ]  # fmt: skip
    widest = max((cells(h) for h, short in zip(heads, in_a_line, strict=True) if short), default=0)
    parts = [
        _in_a_line(group, head, widest, most, width, glyphs)
        if short
        else _bars(group, head, most, width, glyphs, chosen=at == chosen)
        for (at, group), head, short in zip(enumerate(groups), heads, in_a_line, strict=True)
    ]
    return Content("\n").join([*first, *parts, *last])


def _still_out(cover: Cover, width: int, glyphs: Glyphs) -> list[Content]:
    """The bulls that are out though no season of their group is under way."""
    said = dict(after_words.facts(cover)).get(STILL_OUT)
    if said is None:
        return []
    told = wrapped(glyphs.text(f"{glyphs.late} {STILL_OUT}: {said}"), width - 2, "  ")
    return [Content.styled(f" {line}", f"bold {ORANGE}") for line in told]


def _after_line(cover: Cover, chosen: int, width: int, glyphs: Glyphs) -> list[Content]:
    """The line that leads to those whose season is over: behind the last group."""
    if not (told := told_after(cover)):
        return []
    head = f"{'>' if chosen == len(cover.groups) else ' '} {after_words.TITLE}"
    style = f"bold reverse {TEXT}" if head[0] == ">" else TEXT
    what = ", ".join(label for label, _ in told if label)
    return [Content.styled(glyphs.padded(f"{head}: {what}", width - 2), style)]


def after_in_full(cover: Cover, width: int, glyphs: Glyphs) -> Content:
    """Those whose season is over, and what they are due."""
    return Content("\n").join(_facts(told_after(cover), width, glyphs))


def told_after(cover: Cover) -> list[tuple[str, str]]:
    """(of what, whose and why) of those whose season is over, but for who is out still: that stands
    above all; none of nobody."""
    told = [(label, said) for label, said in after_words.facts(cover) if label != STILL_OUT]
    return told if any(label for label, _ in told) else []


def _facts(told: Iterable[tuple[str, str]], width: int, glyphs: Glyphs) -> list[Content]:
    """(of what, what is known of it), each in a line or the few that it takes."""
    lines = []
    for label, said in told:
        first, *rest = wrapped(glyphs.text(said), max(width - LABEL - 6, 20)) or [""]
        lines.append(Content.assemble((f"  {label:<{LABEL + 3}}", QUIET), first))
        lines += [Content(" " * (LABEL + 5) + line) for line in rest]
    return lines


def _head(
    group: GroupCover, on: Day, glyphs: Glyphs, *, chosen: bool, short: bool, farm: bool
) -> str:
    """The group, where it is, and its turnout, in few words where it must be ``short``."""
    where = f" at {group.farm}" if farm and group.farm else ""
    title = words.title(group, on, where)
    if short:
        since = ""
        if group.turnout < on:
            since = "out since " if any(worker.out for worker in group.workers) else "due since "
        title = f"{group.group}{where}, {since}{day_words(group.turnout, on)}"
    return glyphs.text(f"{'>' if chosen else ' '} {title}")


def _bars(
    group: GroupCover, head: str, most: int, width: int, glyphs: Glyphs, *, chosen: bool
) -> Content:
    """A group's head, its females, what is carried, to one scale."""
    short = f"short by {group.counts.short}" if group.counts.short else ""
    style = f"bold reverse {TEXT}" if chosen else f"bold {TEXT}"
    lines = [Content.styled(glyphs.padded(head, width - len(short) - 2), style)]
    if short:
        lines[0] += Content.styled(f" {short}", f"bold {ORANGE}")
    rows = [(label, count, glyphs.fill, SKY) for label, count in words.carried(group)]
    if group.females is not None:
        rows.insert(0, (group.category, group.females, glyphs.rule, TEXT))
    room = max(width - LABEL - COUNT - 4, LEAST_BAR)
    for label, count, fill, hue in rows:
        bar = fill * (round(room * count / most) if most else 0)
        lines.append(Content.assemble(f"  {label:<{LABEL}}{count:>{COUNT}} ", (bar, hue)))
    return Content("\n").join(lines)


def _in_a_line(
    group: GroupCover, head: str, widest: int, most: int, width: int, glyphs: Glyphs
) -> Content:
    """A group's head, what is carried by whom counts today, of how many females; and a bar of it,
    with an upright where the females end."""
    of = "" if group.females is None else f" of {group.females}"
    said = f" {group.counts.carried}{of}"
    head = glyphs.padded(head, min(widest, width - IN_A_LINE - LEAST_BAR - 2))
    room = width - cells(head) - IN_A_LINE - 2
    short = f" short by {group.counts.short}" if group.counts.short else ""
    bar = (glyphs.fill * round(room * group.counts.carried / most) if most else "").ljust(room)
    if group.females is not None:
        at = min(round(room * group.females / most), room - 1) if most else 0
        bar = bar[:at] + glyphs.side + bar[at + 1 :]
    tail = (short, f"bold {ORANGE}") if short else (f" {bar.rstrip()}", SKY)
    return Content.assemble((head, TEXT), (f"{said:<{IN_A_LINE}}", TEXT), tail)


def in_full(cover: Cover, group: GroupCover, width: int, glyphs: Glyphs) -> Content:
    """One group: what mends its shortage, and what is known of it."""
    lines = _mends(cover, group, width, glyphs)
    lines += _facts(words.facts(cover, group), width, glyphs)
    level = f"if every check passes{'' if group.at_work is None else ' and he is let out then'}"
    heading = f"Carried day by day, {level} (level: females; upright: turnout)"
    lines += [Content("")]
    lines += [Content.styled(f"  {line}", QUIET) for line in wrapped(heading, width - 4)]
    lines += [Content(f"  {line}") for line in _days(cover.on, group, width - 4, glyphs)]
    return Content("\n").join(lines)


def _mends(cover: Cover, group: GroupCover, width: int, glyphs: Glyphs) -> list[Content]:
    """What mends the group's shortage by turnout, the moves of its farm, then a later turnout;
    nothing where it is not short."""
    if not group.short:
        return []
    moves = [words.move_words(move) for move in cover.moves if move.farm == group.farm]
    mends = words.mends([move for move in cover.moves if move.farm == group.farm])
    later = put_off_of(cover, group)
    no_move = words.no_move([group])
    parts = [(f"{mends} (m writes it)", moves)] if moves else [(no_move, [])] if no_move else []
    if later is not None:
        parts.append(
            (f"{words.LATER} (l shows it, w writes it)", [words.put_off_words(later, cover.on)])
        )
    lines = []
    for heading, told in parts:
        lines.append(Content.styled(f"  {heading}", f"bold {TEXT}"))
        for each in told:
            lines += [Content(f"  {line}") for line in wrapped(glyphs.text(each), width - 4, "  ")]
    return [*lines, Content("")] if lines else []


def unmended(group: GroupCover) -> str:
    """Why there are no moves to write."""
    if not group.counts.short:
        return "Nothing is short here."
    return words.NO_MOVE if group.at_work is None else IN_SEASON


def put_off_of(cover: Cover, group: GroupCover) -> PutOff | None:
    """The later turnout that would do for the group, where one is proposed."""
    team = (group.farm, group.group)
    return next((e for e in cover.put_off if (e.before.farm, e.before.group) == team), None)


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
    was, now = before.counts, after.counts
    pairs = [
        ("carried" if before.at_work else "carried by turnout", str(was.carried), str(now.carried)),
        ("short", str(was.short), str(now.short)),
        ("it lasts", _chance(was), _chance(now)),
        ("first calf", day_words(before.first_calf, on), day_words(after.first_calf, on)),
    ]
    told += [
        f"{what} {first} {glyphs.arrow} {then}" for what, first, then in pairs if first != then
    ]
    told += [] if len(told) > 1 else ["nothing changes"]
    return painted((glyphs.text(f" {told[0]} {', '.join(told[1:])}"), "strong"))


def _chance(strength: Strength) -> str:
    return "not known" if strength.chance is None else words.chance_words(strength.chance)
