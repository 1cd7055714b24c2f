"""Cover as a page: each group's females against what its bulls carry, drawn and in words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from markupsafe import Markup

from readiness.cover.results import GroupCover
from readiness.cover.whole import Cover
from readiness.report import after_words, page_words
from readiness.report import cover_words as words
from readiness.report.cover_headline import NO_GROUPS, headline
from readiness.report.page import page
from readiness.trade.words import full_day_words

BAR, ROW = 300, 22
"""Length of the longest bar and height of a row, in the drawing's units."""


def cover_page(cover: Cover, *, large: bool = False, turnout: date | None = None) -> Iterator[str]:
    """The page in pieces. ``turnout``: what if it were then."""
    day = full_day_words(cover.on)
    farms = list(dict.fromkeys(group.farm for group in cover.groups))
    yield from page(
        "cover.html",
        title=f"Cover, {page_words.farms(farms)}, {day}",
        heading="Are the bulls enough?",
        day=day,
        large=large,
        notices=page_words.notices("", turnout),
        nothing=NO_GROUPS,
        farms=[_farm(cover, farm, named=len(farms) > 1) for farm in farms],
        after_title=after_words.TITLE,
        after=after_words.facts(cover),
        footer=(words.LASTS, *page_words.CAUTIONS),
    )


def _farm(cover: Cover, farm: str | None, *, named: bool) -> dict[str, object]:
    own = [group for group in cover.groups if group.farm == farm]
    told = [words.move_words(move) for move in cover.moves if move.farm == farm]
    if not told and (no_move := words.no_move(own)):
        told = [no_move]
    return {
        "title": (farm or "No farm named") if named else "",
        "groups": [_group(cover, group) for group in own],
        "moves": told,
        "later_title": words.LATER,
        "later": [words.put_off_words(e, cover.on) for e in cover.put_off if e.before.farm == farm],
        "mends": words.mends([move for move in cover.moves if move.farm == farm]),
    }


def _group(cover: Cover, group: GroupCover) -> dict[str, object]:
    return {
        "title": words.title(group, cover.on),
        "short": group.counts.short,
        "headline": headline(group),
        "bars": _bars(group),
        "facts": words.facts(cover, group),
    }


def _bars(group: GroupCover) -> Markup:
    """Three bars under each other to one scale: the females, what is carried today, by turnout; in
    the season by those who are out, and would be by those who wait."""
    told = words.carried(group)
    if group.females is not None:
        told.insert(0, ("females", group.females))
    most = max((count for _, count in told), default=0) or 1
    drawn = Markup("").join(
        Markup(
            '<text x="0" y="{}">{}</text>'
            '<rect class="{}" x="90" y="{}" width="{}" height="14"/>'
            '<text x="{}" y="{}">{}</text>'
        ).format(
            at * ROW + 15, what, "outline" if what == "females" else "heat", at * ROW + 4,
            round(BAR * count / most), 96 + round(BAR * count / most), at * ROW + 15, count,
        )
        for at, (what, count) in enumerate(told)
    )  # fmt: skip
    return Markup(
        '<svg class="cover" viewBox="0 0 {} {}" role="img" aria-label="{}">{}</svg>'
    ).format(BAR + 140, len(told) * ROW, headline(group), drawn)
