"""The diary as a page: what is overdue, then day by day, for one person or for everybody."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from readiness.cover.ahead import Ahead
from readiness.herd.diary import Diary, Due
from readiness.report import ahead_words, page_words
from readiness.report.diary_lines import FORECAST, NOTHING, called, coming_words, items
from readiness.report.page import Words, page
from readiness.report.page_words import check_sentence
from readiness.trade.words import Day, full_day_words
from readiness.visits.plan import Visit


def diary_page(
    diary: Diary,
    ahead: Ahead,
    who: str | None = None,
    visits: Sequence[Visit] = (),
    *,
    large: bool = False,
) -> Iterator[str]:
    """The page in pieces; ``who``: whose diary it is, None: everybody's."""
    day = full_day_words(diary.on)
    farms = page_words.farms(page_words.farms_of(ahead.board))
    yield from page(
        "diary.html",
        title=f"Diary{f' of the {who}' if who else ''}, {farms}, {day}",
        heading=f"What is to come{f' for the {who}' if who else ''}",
        day=day,
        large=large,
        notices=(),
        nothing=NOTHING,
        sections=_sections(diary, ahead, visits),
        left_title=ahead_words.NO_DAY,
        left=list(ahead_words.left(ahead)),
        proposed=ahead_words.PROPOSED if ahead.vet.days else "",
        footer=(FORECAST, *page_words.CAUTIONS),
    )


def _sections(diary: Diary, ahead: Ahead, visits: Sequence[Visit]) -> list[Words]:
    """A section for each heading, with the rows (who, which bull, what) that stand under it."""
    dated = (due for _, dues in diary.days for due in dues)
    names = called([*diary.overdue, *dated, *diary.undated])
    found: list[Words] = []
    rows: list[tuple[str, str, str]] = []
    notes = ahead_words.notes(ahead)
    for item in items(diary, ahead.board.groups, visits, notes, ahead.last, _heading):
        if isinstance(item, Due):
            check = item.check
            rows.append((check.who, names[item.key].whole, check_sentence(check, diary.on)))
        elif isinstance(item, tuple) and len(item) == 2:
            title, role = item
            rows = []
            found.append({"title": title, "late": role == "overdue", "rows": rows})
        else:
            what, text = coming_words(item)
            rows.append((what, "", text))
    return found


def _heading(day: Day, _: Day) -> str:
    """The day alone: on the wall it is read on other days, too."""
    return full_day_words(day)
