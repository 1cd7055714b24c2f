"""Pages of ours as files, as HTML or (where the library for it is installed) as PDF: never over
anybody else's, and whole or not at all."""

from __future__ import annotations

import hashlib
import logging
import re
from collections.abc import Iterable, Sequence
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from readiness.report.foot_svg import FOOT, shared_shapes
from readiness.report.page import GENERATOR, style
from readiness.system.errors import CannotWrite, DataError
from readiness.system.files import bytes_there, write_whole
from readiness.system.limits import PAGE_MOST

if TYPE_CHECKING:
    from readiness.desk.desk import Desk
    from readiness.herd.team import Team
    from readiness.visits.plan import Visit, VisitPlan

PLAN_SECONDS = 10.0
_HEAD = 1000
"""In so many bytes our mark stands in a page of ours."""
CREATOR = b"/Creator (readiness)"
"""Stands in every PDF of ours: it is what the page's own mark becomes."""

_READABLE = (
    "text { stroke: none !important; } .grid { stroke: #ccc !important; } "
    ".ink { fill-opacity: .45 !important; }"
)


def write_page(path: Path, pieces: Iterable[str], *, pdf: bool = False) -> None:
    """Write the pieces of a page into ``path``, as HTML or as a PDF.

    A page of ours that is there is replaced. Raises DataError for any other file that holds
    something, CannotWrite for one that cannot be written; then what was there is whole.
    """
    before = bytes_there(path, "page", PAGE_MOST)
    if before and not _ours(before):
        raise DataError(
            f"{path} holds something that is no page of readiness. Nothing was written, so that "
            "nothing is lost: name another file, or move this one away."
        )
    if pdf:
        write_whole(path, as_pdf("".join(pieces)))
    else:
        write_whole(path, (piece.encode() for piece in pieces))


def next_visits(desk: Desk) -> VisitPlan:
    """The return visits that a day sheet names: of every farm, for one person's days are shared,
    and from tomorrow on, for today's work is done."""
    from readiness.visits.asked import Wishes

    return desk.visits(Wishes(first=desk.on + timedelta(days=1)), seconds=PLAN_SECONDS)


def write_beside(desk: Desk, *, farm: str | None, group: str | None) -> list[Path]:
    """The board (of one farm or group), and the sheets of the day where something was done, as
    pages beside the book; which files they are."""
    from readiness.report.board_page import board_page

    book = desk.book.path
    board = _beside(book, "board", farm, group)
    now, carried = desk.board_and_cover(farm=farm, group=group)
    write_page(board, board_page(now, desk.rules(), carried))
    sheets, _ = desk.day_sheets(farm=farm)
    if not sheets:
        return [board]
    from readiness.report.sheet_page import sheet_page

    sheet = _beside(book.with_stem(f"{book.stem}-sheet-{desk.on.isoformat()}"), farm)
    write_page(sheet, sheet_page(sheets, next_visits(desk)))
    return [board, sheet]


def write_cover(desk: Desk, *, farm: str | None, group: str | None) -> Path:
    """Whether the bulls (of one farm or group) are enough, as a page beside the book."""
    from readiness.report.cover_page import cover_page

    cover = desk.reading().cover(farm=farm, group=group)
    path = _beside(desk.book.path, "cover", farm, group)
    write_page(path, cover_page(cover))
    return path


def write_diary(
    desk: Desk, *, farm: str | None, who: str | None = None, visits: Sequence[Visit] = ()
) -> list[Path]:
    """What is to come (on one farm, for one person), as a page beside the book, with the ``visits``
    planned, and as a calendar file; which files they are."""
    from readiness.herd.diary import only, planned
    from readiness.report.calendar_file import write_calendar
    from readiness.report.diary_page import diary_page
    from readiness.report.ics_diary import diary_appointments, spoken
    from readiness.report.ics_event import DIARY

    ahead = desk.ahead(farm=farm).for_person(who, None)
    found = planned(ahead.board)
    found = only(found, who) if who else found
    page = _beside(desk.book.path, "diary", farm, who)
    write_page(page, diary_page(found, ahead, who, visits))
    calendar = page.with_suffix(".ics")
    told = spoken(ahead, farm, who)
    write_calendar(calendar, diary_appointments(found, ahead), told, desk.clock.now(), DIARY)
    return [page, calendar]


def write_bull(desk: Desk, key: str) -> Path:
    """One bull's page, beside the book."""
    from readiness.report.bull_page import bull_page

    card = desk.card(key)
    path = _beside(desk.book.path, "bull", card.assessment.bull)
    write_page(path, bull_page(card, desk.on.toordinal()))
    return path


def write_gate(desk: Desk, team: Team) -> Path:
    """The page for the gate of one group's turnout, beside the book."""
    from readiness.report.turnout_page import turnout_page

    day = desk.reading().turnout(team.group or "", team.farm)
    path = _beside(desk.book.path, "turnout", day.cover.farm, day.cover.group)
    write_page(path, turnout_page(day))
    return path


def _beside(book: Path, *names: str | None) -> Path:
    """ "bulls-board-Low-Sandwath.html": without what the name of a file cannot hold."""
    told = [name for name in names if name]
    said = "-".join((book.stem, *told))
    safe = "".join(letter if letter.isalnum() or letter in "-_." else "-" for letter in said)
    apart = ""
    if not all(name.isalnum() for name in told):  # 12/3 and 12-3 would make one file's name
        apart = f"-{hashlib.sha256(repr(told).encode('utf-8', 'replace')).hexdigest()[:6]}"
    # Whole letters of as many bytes as the name of a file holds anywhere, with what is added to it.
    short = safe[:100].encode()[:180].decode(errors="ignore")
    return book.with_name(f"{short.strip('-.')}{apart}.html")


def _ours(data: bytes) -> bool:
    if data.startswith(b"%PDF-"):
        return CREATOR in data
    return GENERATOR.encode() in data[:_HEAD]


# ---- as PDF: the same layout that a browser prints -----------------------------------------------


def as_pdf(page: str) -> bytes:
    """The page printed. Raises CannotWrite where the library, or what it needs, is missing."""
    try:
        from weasyprint import HTML
    except (ImportError, OSError) as problem:  # OSError: the library is there, Pango is not
        raise CannotWrite(
            f"A PDF cannot be made here: {str(problem).splitlines()[0]}. Install it with "
            "`pip install 'readiness[pdf]'` (it needs Pango), or write --html and print that page "
            "from any browser."
        ) from problem
    logging.getLogger("weasyprint").setLevel(logging.ERROR)  # of what only screens know in a style
    printed: bytes = HTML(string=_whole_drawings(page), url_fetcher=_refuse).write_pdf(
        pdf_version="1.4"  # in later ones our mark would be packed away
    )
    return printed


def _whole_drawings(page: str) -> str:
    """The page with all that a drawn foot refers to within each: the library looks no further, and
    knows neither the page's colours by name nor a rim of the paper's colour round a letter."""
    if FOOT not in page:
        return page
    # Of each the first: that of light.
    colours = dict(reversed(re.findall(r"(--\w+): (#\w+)", style("look.css"))))
    rules = re.sub(r"var\((--\w+)\)", lambda name: colours[name[1]], style("feet.css"))
    inside = f"<style>{rules} {_READABLE}</style>{shared_shapes()}"
    return re.sub(rf"({re.escape(FOOT)}[^>]*>)", lambda start: start[1] + inside, page)


def _refuse(url: str) -> NoReturn:
    """A page of ours has all it needs within it."""
    raise ValueError(f"a page asked for {url}")
