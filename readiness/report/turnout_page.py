"""The day of turnout as a page for the gate: boxes to tick, and why the others stay."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.cover.turnout import TurnoutDay
from readiness.engine.results import Assessment
from readiness.report import page_words
from readiness.report import turnout_words as words
from readiness.report.page import page
from readiness.trade.words import full_day_words

MARKS = "●! GO, but ask first. A name with !: be careful of him; with !!: he is dangerous."


def turnout_page(day: TurnoutDay, *, large: bool = False) -> Iterator[str]:
    """The page in pieces."""
    yield from page(
        "turnout.html",
        title=f"{words.title(day)}, {full_day_words(day.on)}",
        heading=words.title(day),
        day=full_day_words(day.on),
        large=large,
        notices=[],
        states=page_words.STATES,
        enough=words.enough(day),
        nobody=words.nobody(day),
        walk_again=words.WALK_AGAIN,
        parts=[(heading, _rows(told)) for heading, told in words.parts(day) if told],
        goes=bool(day.goes),
        to_tick=words.GOES,
        footer=(MARKS, *page_words.CAUTIONS),
    )


def _rows(told: list[tuple[Assessment, str]]) -> list[tuple[str, str, str]]:
    return [(words.state(bull), words.name(bull), said) for bull, said in told]
