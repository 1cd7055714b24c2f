"""One bull as a page: for the vet who is to examine him, or whoever is to buy him."""

from __future__ import annotations

from collections.abc import Iterator

from readiness.engine.results import Check
from readiness.entries.entry import Entry
from readiness.herd.card import Card
from readiness.herd.selection import overdue_first
from readiness.report import page_words, sentences, vet_form
from readiness.report.blame import blamed_but_foot
from readiness.report.bull_text import LEFT, check_below, findings, remarks
from readiness.report.foot_svg import SIGNS, codes_words, drawn_feet, foot_defs
from readiness.report.page import page
from readiness.report.rows import mark
from readiness.shorthand import words
from readiness.trade.feet import FEET
from readiness.trade.words import Day, day_words, full_day_words, number_words, year_day_words

ABOUT = (
    "What people wrote down of this bull, and what the rules make of it. What nobody wrote down is "
    "not here."
)

_OF_THE_VET = ("vet-exam", "vet-look", "body", "treatment", "incident")


def bull_page(card: Card, on: Day, *, known: str = "", large: bool = False) -> Iterator[str]:
    """The page in pieces. ``known``: the day and time, as the book knew him then."""
    bull = card.assessment
    yield from page(
        "bull.html",
        title=f"{bull.name or bull.bull}, {year_day_words(on)}",
        heading=f"{bull.bull} {bull.name or ''}".strip(),
        day=full_day_words(on),
        large=large,
        notices=[*page_words.notices(known), *([LEFT] if card.state.gone else [])],
        about=ABOUT,
        person=sentences.person(card, on),
        standing=sentences.standing_in(card, on),
        caution=page_words.caution(str(card.state.profile.get("temper"))),
        born=_born(card),
        gone=card.state.gone,
        mark=mark(bull),
        state=page_words.STATES[mark(bull)],
        outlook=sentences.standing(card, on),
        reasons=list(remarks(bull.reasons)),
        advice=list(remarks(bull.advice)),
        blamed=blamed_but_foot(card, on),
        checks=[_check(check, card, on) for check in overdue_first(bull.outstanding)],
        chain="" if card.state.gone or bull.status == "GO" else sentences.chain(card, on),
        defs=foot_defs(),
        feet=drawn_feet(card.state, FEET, on),
        signs=SIGNS,
        codes=codes_words(card.state.feet.open.values()),
        findings=list(findings(card, on)),
        walks=list(_walks(card, on)),
        conditions=list(_conditions(card, on)),
        exam=vet_form.examination(card, on),
        tests=vet_form.tests(card, on),
        vet=[_line(entry, on) for entry in card.entries if entry.kind in _OF_THE_VET],
        history=[_line(entry, on) for entry in card.entries],
        footer=page_words.CAUTIONS,
    )


def _check(check: Check, card: Card, on: Day) -> tuple[str, str, str, str, bool]:
    """By when, what, who, why, and whether it is overdue."""
    return (*page_words.todo(check, on)[:3], check_below(check, card, on), check.overdue)


Score = tuple[str, str, str, str]
"""One score of his walk or condition: its day, itself, its scale, and what is to be said of it."""


def _walks(card: Card, on: Day) -> Iterator[Score]:
    """His walk scores, newest first, as they count or do not."""
    for walk in reversed(card.state.walks):
        said = [walk.limb or "", "lame" if walk.lame else "", "" if walk.counts else "on a block"]
        scale = card.rules.mobility[walk.scale].name
        score = number_words(walk.score)
        yield day_words(walk.day, on), score, scale, ", ".join(filter(None, said))


def _conditions(card: Card, on: Day) -> Iterator[Score]:
    for scored in reversed(card.state.conditions):
        scale = card.rules.condition[scored.scale].name
        said = "outside what may go" if scored.outside else ""
        yield day_words(scored.day, on), number_words(scored.score), scale, said


def _born(card: Card) -> str:
    return f"born {card.state.birth.words}" if card.state.birth else ""


def _line(entry: Entry, on: Day) -> tuple[str, str, str]:
    """Its day, its words, and who said so."""
    return day_words(entry.day, on), words(entry.body), str(entry.body.get("by", ""))
