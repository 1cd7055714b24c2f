"""A line of the Diary, opened: his bull, its group, the bulls of the vet's day."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeVar

from readiness.herd.team import Team
from readiness.report.diary_lines import Note
from readiness.system.grouped import grouped
from readiness.trade.words import full_day_words
from readiness.tui.diary.rows import DiaryRow, Page
from readiness.tui.shared.dialogs import Choice
from readiness.tui.shared.look import LOOKS, ask_look

if TYPE_CHECKING:
    from readiness.tui.shared.live import LiveScreen

What = TypeVar("What")


def open_line(
    screen: LiveScreen[What], row: DiaryRow, rows: Sequence[DiaryRow], page: Page
) -> None:
    """Open what it stands for; nothing where that is a visit or a week. ``rows``: the whole list,
    for the bulls that come before and after."""
    if row.due is not None:
        keys = dict.fromkeys(each.due.key for each in rows if each.due is not None)
        screen.tui.open("bull", row.due.key, list(keys))
    elif row.turnout is not None:
        screen.tui.open("turnout", Team(row.turnout.farm or "", row.turnout.group))
    elif row.note is not None and row.note.group is not None:
        screen.tui.open("cover", Team(row.note.farm or "", row.note.group))
    elif row.note is not None:
        _ask_bull(screen, row.note, page)


def look_at(screen: LiveScreen[What], row: DiaryRow | None) -> None:
    """Enter a look at what the line is of."""
    due = row.due if row is not None else None
    if due is not None and due.check.check in LOOKS:
        ask_look(screen, due.key, due.check)
    else:
        screen.tui.tell("On this line nothing is looked at: l is for a look at a finding.")


def _ask_bull(screen: LiveScreen[What], note: Note, page: Page) -> None:
    """The bulls of a day proposed for the vet, each with what is to be done: one to open."""
    of_bull = grouped(note.dues, lambda due: due.key)
    choices = [
        Choice(page.names[key].whole, key, "; ".join(due.check.text for due in own))
        for key, own in of_bull.items()
    ]
    screen.choose(
        f"Proposed for the vet, {full_day_words(note.on)}:",
        choices,
        lambda key: screen.tui.open("bull", key, list(of_bull)),
    )
