"""Pages as PDF: where lines and sheets end."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from readiness.report.page import page as page_of
from readiness.report.paper import as_pdf
from tests.pages.books import demo_book, page, spaced

NO_BREAK = "\N{NO-BREAK SPACE}"
WINTER = "2026-11-29"
PAGES = {
    "board": ("board",),
    "large": ("board", "--large-print"),
    "sheet": ("sheet",),
    "diary": ("diary",),
    "large diary": ("diary", "--large-print"),
    "bull": ("bull", "362"),
    "long bull": ("bull", "379"),
}


@pytest.fixture(scope="module")
def sources(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Pages of a demo book in winter, when days of two years stand on a page."""
    folder = tmp_path_factory.mktemp("paper")
    book = demo_book(folder, WINTER)
    return {
        name: page(book, folder / f"{name}.html", *command, on=WINTER).read_text(encoding="utf-8")
        for name, command in PAGES.items()
    }


def test_a_day_and_a_number_with_its_unit_stay_on_one_line() -> None:
    said = "by 10 Jan 2027, May 2022; 78 %, 1,120 kg, 36.5 cm, in 5 days, 1 week, 12 bulls; zone 4"
    words: dict[str, object] = {"title": "", "day": "", "large": False, "notices": [], "footer": []}
    made = "".join(page_of("base.html", heading=said, **words))
    for joined in ("10 Jan 2027", "May 2022", "78 %", "1,120 kg", "36.5 cm", "5 days", "1 week"):
        said = said.replace(joined, joined.replace(" ", NO_BREAK))
    assert f"<h1>{said}</h1>" in made


def test_after_what_the_wall_sheet_leaves_out_stands_no_other_sign(
    sources: dict[str, str],
) -> None:
    said = spaced(re.sub("<[^>]*>", "", sources["board"]))
    assert "vet look; … by 19 Dec walk" in said
    assert "…;" not in said


@pytest.mark.long
@pytest.mark.parametrize("name", PAGES)
def test_no_line_ends_before_a_word_that_fits_it(sources: dict[str, str], name: str) -> None:
    """The library that makes the PDF takes the space at the end of a text for a part of its last
    word, and where that alone is too much it breaks after the first."""
    assert list(_stray(sources[name])) == []
    if name == "sheet":  # a small one, so on paper of many widths
        for width in range(150, 210, 4):
            narrow = sources[name].replace("size: A4;", f"size: {width}mm 297mm;")
            assert list(_stray(narrow)) == [], width


def sheets_of(source: str) -> list[list[str]]:
    """The lines of each sheet of its PDF."""
    sheets = PdfReader(BytesIO(as_pdf(source))).pages
    return [spaced(sheet.extract_text()).splitlines() for sheet in sheets]


@pytest.mark.long
def test_a_day_of_the_diary_stays_on_one_sheet_or_stands_again(sources: dict[str, str]) -> None:
    """Else the rows at the top of a sheet are anybody's guess."""
    heads = re.findall(r"<h2[^>]*>(.*?)</h2>", spaced(sources["diary"]))
    normal, large = (sheets_of(sources[name]) for name in ("diary", "large diary"))
    assert [sheet[0] for sheet in (*normal[1:], *large[1:]) if sheet[0] not in heads] == []
    assert all(sum(head in sheet for sheet in normal) == 1 for head in heads)
    assert any(sum(head in sheet for sheet in large) == 2 for head in heads)


@pytest.mark.long
@pytest.mark.parametrize("name", ["bull", "long bull"])
def test_a_bulls_last_sheet_holds_more_of_his_history_than_a_row(
    sources: dict[str, str], name: str
) -> None:
    *_, last = sheets_of(sources[name])
    assert sum(re.match(r"\d+ [A-Z][a-z]{2} ", line) is not None for line in last) >= 8


def _stray(source: str) -> Iterator[tuple[str, str]]:
    """Lines, each with the next one, into which that one's first word would easily have gone."""
    from weasyprint import HTML

    for sheet in HTML(string=source).render().pages:
        for block in sheet._page_box.descendants():
            lines = [b for b in getattr(block, "children", ()) if type(b).__name__ == "LineBox"]
            for line, below in itertools.pairwise(lines):
                above, under = _texts(line), _texts(below)
                if not above or not under or not _is_text(below):
                    continue
                first = under[0]
                word = first.text.strip().split(" ")[0]
                room = block.position_x + block.width - (above[-1].position_x + above[-1].width)
                if 1.3 * (len(word) + 1) * first.width / len(first.text) < room:
                    yield "".join(text.text for text in above), "".join(t.text for t in under)


def _texts(line: Any) -> list[Any]:
    return [box for box in line.descendants() if getattr(box, "text", "").strip()]


def _is_text(line: Any) -> bool:
    """Whether it begins with words, not with a box that stays whole."""
    first = line
    while children := getattr(first, "children", ()):
        if type(first).__name__ == "InlineBlockBox":
            return False
        first = children[0]
    return True
