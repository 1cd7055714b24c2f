"""One bull as a page: for the vet who is to examine him, or whoever is to buy him."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from readiness.engine.results import Check, Remark
from readiness.entries.entry import Entry
from readiness.herd.card import Card
from readiness.report import page_words, sentences
from readiness.report.blame import blamed_but_foot
from readiness.report.bull_text import LEFT, findings, sourced
from readiness.report.check_days import overdue_first
from readiness.report.drawn_feet import SIGNS, codes_words, drawn_feet
from readiness.report.foot_svg import foot_defs
from readiness.report.page import page
from readiness.report.rows import mark
from readiness.shorthand import words
from readiness.trade.feet import FEET
from readiness.trade.words import day_words, full_day_words, number_words

ABOUT = (
    "What people wrote down of this bull, and what the rules make of it. What nobody wrote down is "
    "not here."
)

_OF_THE_VET = ("vet-exam", "vet-look", "body", "treatment", "incident")


@dataclass(frozen=True, slots=True)
class Line:
    """A line, and under it what it rests on."""

    text: str
    source: str


@dataclass(frozen=True, slots=True)
class CheckLine:
    by: str
    what: str
    who: str
    why: str
    overdue: bool


@dataclass(frozen=True, slots=True)
class Score:
    """One score of his walk or condition, in the scale it was scored in."""

    day: str
    score: str
    scale: str
    said: str


@dataclass(frozen=True, slots=True)
class HistoryLine:
    day: str
    words: str
    by: str


def bull_page(card: Card, on: int, *, known: str = "", large: bool = False) -> Iterator[str]:
    """The page in pieces. ``known``: the day and time, as the book knew him then."""
    bull, today = card.assessment, date.fromordinal(on)
    yield from page(
        "bull.html",
        title=f"{bull.name or bull.bull}, {day_words(today, date.min)}",
        heading=f"{bull.bull} {bull.name or ''}".strip(),
        day=full_day_words(today),
        large=large,
        notices=[*page_words.notices(known), *([LEFT] if card.state.gone else [])],
        about=ABOUT,
        person=sentences.person(card, on),
        standing=sentences.standing_in(card, on),
        caution=page_words.caution(str(card.state.profile.get("temper"))),
        born=_born(card, on),
        gone=card.state.gone,
        mark=mark(bull),
        state=page_words.STATES[mark(bull)],
        outlook=[sentences.outlook(bull, on), *sentences.withdrawal_lines(bull)],
        reasons=_remarks(bull.reasons),
        advice=_remarks(bull.advice),
        blamed=blamed_but_foot(card, on),
        checks=[_check(check, card, on) for check in overdue_first(bull.outstanding)],
        chain="" if card.state.gone or bull.status == "GO" else sentences.chain(card, on),
        defs=foot_defs(),
        feet=drawn_feet(card.state, FEET, on),
        signs=SIGNS,
        codes=codes_words(card.state.feet.open.values()),
        findings=[Line(line, under) for line, under in findings(card, on)],
        walks=list(_walks(card, on)),
        conditions=list(_conditions(card, on)),
        vet=[_line(entry, on) for entry in card.entries if entry.kind in _OF_THE_VET],
        history=[_line(entry, on) for entry in card.entries],
        footer=page_words.CAUTIONS,
    )


def _remarks(remarks: Iterable[Remark]) -> list[Line]:
    return [Line(said.text, sourced(said.rule, said.standing, said.source)) for said in remarks]


def _check(check: Check, card: Card, on: int) -> CheckLine:
    why = sentences.check_why(check, card.assessment, on)
    source = sourced(check.rule, check.standing, check.source)
    return CheckLine(
        by=page_words.by_words(check, on),
        what=page_words.check_sentence(check, on),
        who=check.who,
        why=f"{why}. {source}" if why else source,
        overdue=check.overdue,
    )


def _walks(card: Card, on: int) -> Iterator[Score]:
    """His walk scores, newest first, as they count or do not."""
    for walk in reversed(card.state.walks):
        said = [walk.limb or "", "lame" if walk.lame else "", "" if walk.counts else "on a block"]
        scale = card.rules.mobility[walk.scale].name
        day = sentences.words_of_day(walk.day, on)
        yield Score(day, number_words(walk.score), scale, ", ".join(filter(None, said)))


def _conditions(card: Card, on: int) -> Iterator[Score]:
    for scored in reversed(card.state.conditions):
        scale = card.rules.condition[scored.scale].name
        said = "outside what may go" if scored.outside else ""
        day = sentences.words_of_day(scored.day, on)
        yield Score(day, number_words(scored.score), scale, said)


def _born(card: Card, on: int) -> str:
    born = card.state.profile.get("born")
    return f"born {day_words(date.fromisoformat(str(born)), date.min)}" if born else ""


def _line(entry: Entry, on: int) -> HistoryLine:
    by = str(entry.body.get("by", ""))
    return HistoryLine(sentences.words_of_day(entry.day, on), words(entry.body), by)
