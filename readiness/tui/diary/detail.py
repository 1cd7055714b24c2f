"""What stands under the Diary's list: the line under the cursor in full."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from textual.content import Content

from readiness.cover.what_if import WhatIf
from readiness.herd.changes import Change
from readiness.herd.diary import Due
from readiness.report.changes_text import IN_ALL, NOBODY, changes_words, sum_words
from readiness.report.check_days import from_by_words
from readiness.report.look import hanging
from readiness.report.rows import short_tags
from readiness.report.visits_text import (
    load_words,
    missed_lines,
    stop_words,
    unplaced_words,
)
from readiness.trade.words import column_day, full_day_words, plural
from readiness.tui.diary.rows import DiaryRow, Page
from readiness.tui.shared.looks import ORANGE, QUIET, TEXT, Glyphs, at_both_ends
from readiness.visits.plan import Visit, VisitPlan, what_changes

PROMISED = (
    "Promised while this screen is open, and the others planned anew; `visits --keep` plans round "
    "it, too."
)
ARROWS = "←→"
KEYS = {
    "due": (("1-4", "views"), ("w", "whose"), ("Enter", "open"), ("l", "look")),
    "week": (("1-4", "views"), ("w", "whose"), (ARROWS, "week"), ("l", "look")),
    "season": (("1-4", "views"), ("Enter", "week")),
    "visits": ((ARROWS, "move"), ("x", "drop"), ("y", "promise"), ("0", "as planned")),
}
EVERY_KEY = (("t", "turnout?"), ("Esc", "back"), ("o", "paper"), ("?", "help"), ("q", "quit"))


def keys_of(view: str, glyphs: Glyphs) -> list[tuple[str, str]]:
    """The keys that mean something in a view, and their words."""
    shown = "arrows" if glyphs.ascii_only else ARROWS
    keys = [*KEYS[view], *EVERY_KEY]
    return [(shown if key == ARROWS else key, words) for key, words in keys]


def top_line(page: Page) -> Content:
    """How many bulls on the left, the day on the right."""
    left = f" Diary, {plural(len(page.names), 'bull')}"
    return at_both_ends([(left, "head")], full_day_words(page.on), page.width)


def tabs_line(
    views: Sequence[str], view: str, whom: str | None, plan: VisitPlan | None, page: Page
) -> Content:
    """Which view, whose checks, and how many visits."""
    parts = []
    for number, name in enumerate(views, start=1):
        style = f"bold reverse {TEXT}" if name == view else QUIET
        parts += [(f" {number} {name} ", style), (" ", "")]
    whose = "" if whom is None else f"only the {whom}'s   "
    said = f"{whose}{plan_words(plan) if plan else 'planning'}"
    room = page.width - sum(len(words) for words, _ in parts) - 2
    return Content.assemble(*parts, (page.glyphs.fit(said, room), QUIET))


def due_detail(due: Due, plan: VisitPlan | None, page: Page) -> Content:
    """One check in full: where, what, from when to when, when it is planned, which rule asks."""
    check = due.check
    name = page.names[due.key].whole
    place = (each for each in (due.farm, due.group) if each and each not in name)
    who = f" {', '.join((name, *place))}"
    ends = [from_by_words(check, page.on)]
    if check.not_after is not None and check.not_after != check.last_day:
        ends.append(f"for turnout by {column_day(check.not_after, page.on)}")
    planned = plan.placed.get((due.key, check.id)) if plan else None
    if planned is not None:
        ends.append(f"planned {column_day(planned, page.on)}")
    what = f" {check.text}: {', '.join(ends)}. {check.rule}: {check.standing}."
    return Content.assemble(*shown([(who, f"bold {TEXT}"), (what, QUIET)], page))


def note_detail(row: DiaryRow, page: Page) -> Content:
    """What a day of the season or of the vet's says, and what Enter shows: the vet's bulls, too,
    where they are many."""
    said, more = row.content.plain.strip(), "its cover: is it enough, who replaces whom"
    if row.turnout is not None:
        more = "who of it goes out, who stays"
    elif row.note is not None and row.note.dues:
        more = "his bulls; the vet says when he comes"
    if row.note is not None:
        text = page.glyphs.text(row.note.text)
        said = page.glyphs.fit(text, page.width - 2) if row.note.dues else text
    parts = [(f" {said}", f"bold {TEXT}"), (f" Enter shows {more}.", QUIET)]
    return Content.assemble(*shown(parts, page))


def week_detail(row: DiaryRow, page: Page) -> Content:
    """All that a week holds, and what Enter shows."""
    parts = [(f" {row.whole} Enter shows it day by day.", QUIET)]
    return Content.assemble(*shown(parts, page))


def visit_detail(visit: Visit, plan: VisitPlan, page: Page) -> Content:
    """One visit in full: what to bring, and the bulls in the order to take them."""
    names = short_tags(bull.bull for bull in plan.board.bulls)
    parts = [(f" {load_words(visit)}\n", f"bold {TEXT}")]
    parts += [(f" {stop_words(stop, names)}\n", TEXT) for stop in visit.stops]
    return Content.assemble(*shown([*parts, *unplaced_parts(plan)], page))


def moved_detail(plan: VisitPlan, after: VisitPlan, page: Page) -> Content:
    """What would be missed, and which bulls change, if the visits were as they are now."""
    missed = missed_lines(after, plan)
    parts = [(" Nothing is missed.\n", f"bold {TEXT}")] if not missed else [
        (" Missed:\n", f"bold {ORANGE}"), *((f"  {words}\n", TEXT) for words in missed),
    ]  # fmt: skip
    parts += changed_parts(what_changes(plan, after), page)
    return Content.assemble(*shown(parts, page))


def changed_parts(found: Iterable[Change], page: Page) -> list[tuple[str, str]]:
    """Which bulls change, a line each."""
    large, minor = changes_words(found, page.on)
    parts = [(f"  {words}\n", TEXT) for words in large]
    if large:
        parts.insert(0, (f" {plural(len(large), 'bull')} would change:\n", f"bold {TEXT}"))
    parts += [(f" {words}\n", QUIET) for words in minor]
    return parts or [(f" {NOBODY}\n", QUIET)]


def what_if_parts(found: WhatIf, page: Page) -> list[tuple[str, str]]:
    """Which bulls change if turnout were another day, and what it comes to in all."""
    parts = changed_parts(found.changes, page)
    if said := sum_words(found, page.on):
        parts += [(f" {IN_ALL}\n", f"bold {TEXT}"), *((f"  {words}\n", TEXT) for words in said)]
    return parts


def no_visit(view: str, done: str) -> str:
    """Why a key for a visit did nothing."""
    if view == "visits":
        return "No visit is planned, or not yet."
    return f"4 shows the visits: there they are {done}."


def plan_words(plan: VisitPlan) -> str:
    """The plan in one line."""
    if not plan.visits:
        return "no visit is planned"
    fewest = plan.exact or plan.bound >= len(plan.visits)
    proof = "no fewer can do" if fewest else "the best found in the time there was"
    words = f"{plural(len(plan.visits), 'visit')}, {proof}"
    if plan.unplaced:
        words += f"; {plural(len(plan.unplaced), 'check')} without a day"
    return words


def unplaced_parts(plan: VisitPlan) -> list[tuple[str, str]]:
    """What has no day, and why."""
    names = short_tags(bull.bull for bull in plan.board.bulls)
    said = [(f"  {unplaced_words(each, names)}\n", TEXT) for each in plan.unplaced]
    return [(" Without a day:\n", f"bold {ORANGE}"), *said] if said else []


def shown(parts: Iterable[tuple[str, str]], page: Page, width: int = 0) -> list[tuple[str, str]]:
    """Lines made safe for the terminal and folded to ``width`` (the page's where it is 0), what
    does not fit standing further in."""
    width = width or page.width - 1
    found = []
    for words, style in parts:
        indent = len(words) - len(words.lstrip(" "))
        folded = hanging(page.glyphs.text(words.strip()), width, indent, indent + 4)
        found.append(("\n".join(folded) + "\n", style))
    return found
