"""Every page, looked at in a real browser: on a phone, in the dark, on A4."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest

from tests.pages.books import HOSTILE, LONG, demo_book, hostile_book, page
from tests.pages.looker import A4_INSIDE, PHONE, Looker, browser
from tests.volume import WHOLE

LEAST_CONTRAST = 4.5
"""WCAG 2.2, success criterion 1.4.3 (level AA), for text of any size."""

PAGES = {
    "board": ("board",),
    "large": ("board", "--large-print"),
    "one farm": ("board", "--farm", "Low Sandwath", "--group", "Shore cows"),
    "what if": (
        "board",
        "--farm",
        "Low Sandwath",
        "--turnout",
        "2026-04-20",
        "--known",
        "2026-05-01",
    ),
    "sheet": ("sheet",),
    "sheet of two farms": ("sheet", "--on", "2026-04-01"),
    "bull": ("bull", "362"),
    "figures": ("stats",),
    "cover": ("cover",),
    "gate": ("turnout", "Heifers"),
    "diary": ("diary",),
}
ATTACKED = {
    "board": ("board",),
    "sheet": ("sheet",),
    "bull": ("bull", "3"),
    "figures": ("stats",),
    "diary": ("diary",),
}


pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def looker() -> Iterator[Looker]:
    if browser() is None:
        (pytest.fail if WHOLE else pytest.skip)("no browser here: `apt-get install chromium`")
    looker = Looker()
    yield looker
    looker.close()


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    book = demo_book(folder)
    return {name: page(book, folder / f"{name}.html", *command) for name, command in PAGES.items()}


@pytest.fixture(scope="module")
def attacked(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("attacked")
    book = hostile_book(folder)
    return {n: page(book, folder / f"{n}.html", *command) for n, command in ATTACKED.items()}


def luminance(colour: tuple[float, ...]) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, definition)."""
    parts = [c / 255 for c in colour]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_measured_as_the_standard_says() -> None:
    """WCAG 2.2: black on white is 21:1, a colour on itself 1:1; #777 on white, the well-known grey
    that just fails, is 4.48:1."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((9, 9, 9), (9, 9, 9)) == 1
    assert contrast((119, 119, 119), (255, 255, 255)) == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_pages_fit_a_phone_and_can_be_read_there(
    looker: Looker, pages: dict[str, Path], *, dark: bool
) -> None:
    grounds = set()
    for name, path in pages.items():
        seen = looker.look(path, width=PHONE, dark=dark)
        assert seen.wide == [], name
        assert len(seen.colours) > 1, name
        weak = [(c, g, t) for c, g, t in seen.colours if contrast(c, g) < LEAST_CONTRAST]
        assert weak == [], name
        grounds |= {ground for _, ground, _ in seen.colours}
    page_ground = (20, 20, 20) if dark else (255, 255, 255)
    assert page_ground in grounds, "the page keeps to the light that the reader has"


def test_pages_fit_a4_and_read_on_it_in_black_and_white(
    looker: Looker, pages: dict[str, Path]
) -> None:
    for name, path in pages.items():
        seen = looker.look(path, width=A4_INSIDE, dark=True, paper=True)
        assert seen.wide == [], name
        for colour, ground, text in seen.colours:
            assert ground == (255, 255, 255), f"{name}: {text} needs a coloured ground"
            assert contrast(colour, ground) >= LEAST_CONTRAST, f"{name}: {text}"


def test_no_page_asks_for_anything_or_holds_a_script(
    looker: Looker, pages: dict[str, Path]
) -> None:
    for name, path in pages.items():
        seen = looker.look(path)
        assert seen.asked_for == [], name
        assert not seen.elements & {"script", "img", "link", "iframe", "a", "base"}, name
        assert seen.handlers == [], name


def test_the_board_says_all_that_is_asked_of_it(looker: Looker, pages: dict[str, Path]) -> None:
    text = looker.look(pages["board"]).text
    for words in (
        "Kestrel Rigg: Heifers", "Turnout Thu 9 Apr 2026; 136 females",
        "To do by 10 Apr at Kestrel Rigg", "Gorse: block off LH",
        "Quern (DANGEROUS), Roan: vet look",
        "■ HOLD", "□ HOLD", "● GO", "block on LH inner since 31 Jan",
        "! was due 14 Mar", "block off LH inner (20 days overdue)", "lift LF",
        "Could go 10 Apr, if all is done: 1 day too late for turnout",
        "●! GO", "for 9 Apr, but: was ill", "breeding examination by the vet (last 8 May)",
        "withdrawal until 17 Apr",
        "!! DANGEROUS", "! watch him",
        "The vet decides on all that is the vet's", "Waiting clears no bull",
        "Never work a bull alone",
    ):  # fmt: skip
        assert words in text, words
    assert "today" not in text, "on the wall a day is read on other days"
    assert "Kestrel Rigg" not in looker.look(pages["one farm"]).text
    asked = looker.look(pages["what if"]).text
    assert "What if turnout were Mon 20 Apr 2026: this is not the plan." in asked
    assert "As the book knew it on Fri 1 May 2026, 23:59" in asked
    assert "his condition score is recent enough" in asked and "First calving moves from" in asked


def test_one_farms_bulls_stand_on_one_sheet_before_all_that_is_said_of_them(
    looker: Looker, pages: dict[str, Path]
) -> None:
    """What hangs on the wall: each bull with state, why and what comes next, the most urgent group
    first, before the first of them is told of at length."""
    first, *others = looker.print(pages["one farm"]).sheets
    for words in ("■ HOLD", "Jasper", "vet: unsatisfactory", "Inver", "by 26 Apr",
                  "look RF outer", "Esker", "□ HOLD", "Never work a bull alone",
                  "The vet decides on all that is the vet's"):  # fmt: skip
        assert words in " ".join(first.split()), words
    assert "Bull by bull" not in first
    assert "Bull by bull" in others[0]
    text = looker.look(pages["board"]).text
    turnouts = [text.index(f"turnout {day}") for day in ("9 Apr", "23 Apr", "8 May", "4 Jun")]
    assert turnouts == sorted(turnouts)


def test_the_sheet_draws_each_foot_with_a_finding(looker: Looker, pages: dict[str, Path]) -> None:
    seen = looker.look(pages["sheet"])
    for words in (
        "Holm", "sole haemorrhage, zone 4; pared", "SH", "seen from above", "LH left hind",
        "Work done", "lifted\t1\tfoot\t1", "Return visits", "Mon 20 Apr 2026",
    ):  # fmt: skip
        assert words in seen.text, words
    assert "svg" in seen.elements


def _packed(text: str) -> str:
    """The text without its white space (a printed line breaks where the paper ends), and letter by
    letter where a font has one sign for two."""
    return "".join(unicodedata.normalize("NFKC", text).split())


@pytest.mark.parametrize("name", ["board", "large"])
def test_on_paper_heads_are_repeated_and_no_bull_is_broken(
    looker: Looker, pages: dict[str, Path], name: str
) -> None:
    rows = looker.look(pages[name], width=A4_INSIDE, paper=True).rows
    printed = looker.print(pages[name])
    sheets = [_packed(sheet) for sheet in printed.sheets]
    assert printed.size == (210, 297)
    assert len(rows) == 36
    assert len(sheets) > 1
    for head, row in rows:
        (sheet,) = (sheet for sheet in sheets if _packed(row) in sheet)
        assert _packed(head) in sheet, f"{head} is not over {row}"
    for number, sheet in enumerate(sheets, start=1):
        assert f"page{number}of{len(sheets)}" in sheet


HEADS = re.compile(
    r'<(h[23]|caption|thead)\b[^>]*>(.*?)</\1>|<p class="heads">(.*?)</p>', re.DOTALL
)
FOOTER = re.compile(r"<footer>(.*?)</footer>", re.DOTALL)


def _words(source: str) -> str:
    return _packed(unescape(re.sub("<[^>]*>", " ", source)))


@pytest.mark.parametrize("name", PAGES)
def test_on_paper_the_last_sheet_holds_the_footer_whole_and_more_than_that(
    looker: Looker, pages: dict[str, Path], name: str
) -> None:
    (footer,) = FOOTER.findall(pages[name].read_text(encoding="utf-8"))
    *_, last = looker.print(pages[name]).sheets
    before, words, _ = _packed(last).partition(_words(footer))
    assert words and before


@pytest.mark.parametrize("name", PAGES)
def test_on_paper_no_heading_is_the_last_on_its_sheet(
    looker: Looker, pages: dict[str, Path], name: str
) -> None:
    """Neither with what stands under it, nor the head of a table without a row."""
    source = pages[name].read_text(encoding="utf-8")
    heads = {_words(head or below) for _, head, below in HEADS.findall(source)}
    sheets = looker.print(pages[name]).sheets
    for number, sheet in enumerate(sheets, start=1):
        text = _packed(sheet).removesuffix(f"page{number}of{len(sheets)}")
        assert heads, name
        assert not text.endswith(tuple(heads)), sheet


def test_the_wall_sheet_of_36_bulls_takes_two_sheets_and_says_what_decides(
    looker: Looker, pages: dict[str, Path]
) -> None:
    *wall, third = looker.print(pages["board"]).sheets[:3]
    text = _packed("".join(wall))
    assert "Bull by bull" in third
    for words in ("Otter", "Nook", "interdigital phlegmon (foul) RH", "by 23 Apr healed? RH"):
        assert _packed(words) in text, words


def test_large_print_is_at_least_sixteen_points(pages: dict[str, Path]) -> None:
    """16 points and more is what is called large print in Britain (from memory)."""
    source = pages["large"].read_text(encoding="utf-8")
    assert '<html lang="en-GB" class="large">' in source
    assert re.search(r"@media print \{.*html\.large \{ font-size: 16pt; \}", source, re.DOTALL)


def test_names_that_are_markup_are_shown_as_they_are_written(
    looker: Looker, attacked: dict[str, Path]
) -> None:
    for name, path in attacked.items():
        seen = looker.look(path)
        assert seen.alerts == [], name
        assert seen.asked_for == [], name
        assert seen.handlers == [], name
        assert not seen.elements & {"script", "img", "iframe", "a", "base", "b"}, name
        assert seen.wide == [], name
        assert "<iframe src=//example.invalid>" in seen.text or name == "figures"
        assert "the vet decides" in seen.text, name
    text = looker.look(attacked["board"]).text
    for tag, written in HOSTILE.items():
        shown = "gnorw شارف" if tag == "11" else written
        assert shown in text, written
    assert "alert('svg')" in looker.look(attacked["bull"]).title


def test_a_very_long_name_breaks_and_pushes_nothing_off_the_paper(
    looker: Looker, attacked: dict[str, Path]
) -> None:
    sheets = looker.print(attacked["board"]).sheets
    assert _packed(LONG) in _packed("".join(sheets))
    assert looker.look(attacked["board"], width=A4_INSIDE, paper=True).wide == []
