"""The figures as a page: the feet drawn, few without ink, people's text only as text."""

from __future__ import annotations

import re
from html.parser import HTMLParser

from readiness.herd.stats.results import Figures
from readiness.report.stats_page import stats_page
from readiness.report.stats_words import COUNTED, NOT_MEANT
from readiness.trade.feet import FEET
from tests.build import booked, found
from tests.herd.lifted import feet, figures_of
from tests.pages.books import spaced
from tests.report.test_stats_text import many


class Read(HTMLParser):
    """The tags of a page and its text; that every tag is closed."""

    VOID = ("meta", "br")

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.open: list[str] = []
        self.text = ""
        self.feed(text)
        self.close()
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data


def made(figures: Figures, known: str = "") -> str:
    return spaced("".join(stats_page(figures, known=known)))


def inks(page: str) -> list[float]:
    """How strongly each place of the drawn feet is inked."""
    drawings = "".join(re.findall(r'<svg class="foot".*?</svg>', page, re.S))
    return [float(ink) for ink in re.findall(r'fill-opacity="([\d.]+)"', drawings)]


def test_every_foot_is_drawn_and_every_place_stands_in_words_beside_it() -> None:
    page = made(figures_of(*many(40), feet("2026-03-01", found("RF", "skin", "XX"))))
    read = Read(page)
    assert page.count('<svg class="foot"') == len(FEET)
    assert "outer 4, where sole and heel meet: 1 of 41 (2.4 %, 0.4 to 12.6 %)" in read.text
    assert "skin place not said: 1 of 41" in read.text
    assert inks(page) == [0.75]
    for words in (COUNTED, NOT_MEANT, "Never found", "2 of 164"):
        assert words in read.text


def test_few_have_a_number_and_no_ink() -> None:
    page = made(figures_of(*many(1)))
    assert inks(page) == [0.0]
    assert "few: 1 lift" in page and "few: 1 of 4" in Read(page).text
    assert 'class="heat"' not in "".join(re.findall(r'<svg class="bar".*?</svg>', page, re.S))


def test_peoples_text_is_text_and_nothing_is_fetched() -> None:
    evil = '"><script>alert(1)</script><img src=x onerror=y>\u202e'
    page = made(figures_of(*[booked(breed=evil, farm=evil), feet("2026-03-01")], farm=evil))
    read = Read(page)
    assert not {"script", "img", "link", "iframe"} & set(read.tags)
    assert "<script>alert(1)</script>" in read.text and "\u202e" not in page
    assert not re.search(r"(?:src|href)=\"(?!#)", page) and "://" not in page


def test_nothing_lifted_is_a_page_without_feet_or_tables() -> None:
    read = Read(made(figures_of(booked())))
    assert "No foot was lifted up to Fri 3 Apr 2026." in read.text
    assert "table" not in read.tags and "figure" not in read.tags


def test_looking_back_is_said_first() -> None:
    assert "As the book knew it on 1 Apr 2026" in made(figures_of(booked()), known="1 Apr 2026")
