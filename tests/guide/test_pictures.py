"""The README's pictures show the program as it is: `python -m tests.guide.pictures` makes them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from struct import unpack

import pytest

from tests.guide import pictures
from tests.guide.pictures import DIGESTS, FOLDER, HIGH, PAGES, SCREENS, WIDE
from tests.test_readme import README
from tests.volume import sampled

ANEW = "make the pictures anew: python -m tests.guide.pictures"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    yield pictures.demo(tmp_path_factory.mktemp("demo"))


@sampled("name", SCREENS)
async def test_a_picture_shows_the_screen_as_it_is_today(book: Path, name: str) -> None:
    drawn = await pictures.screen(book, name)
    assert drawn == (FOLDER / f"{name}.svg").read_text(encoding="utf-8"), ANEW


@sampled("name", PAGES)
def test_a_picture_was_taken_of_the_page_of_today(book: Path, name: str) -> None:
    drawn_of = json.loads(DIGESTS.read_text(encoding="utf-8"))
    assert pictures.digest(pictures.page(book, name)) == drawn_of[name], ANEW
    head = (FOLDER / f"{name}.png").read_bytes()[:24]
    assert head.startswith(b"\x89PNG") and unpack(">II", head[16:]) == (WIDE, HIGH)


def test_the_readme_shows_every_picture_and_says_what_it_is_of() -> None:
    shown = re.findall(r"!\[([^]]{12,})\]\(readiness/guide/pictures/([\w.]+)\)", README)
    stored = {path.name for path in FOLDER.iterdir()} - {DIGESTS.name}
    assert {name for _, name in shown} == stored
    assert stored == {f"{name}.svg" for name in SCREENS} | {f"{name}.png" for name in PAGES}


def test_a_picture_asks_the_network_for_nothing() -> None:
    for name in SCREENS:
        drawn = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
        assert "url(http" not in drawn and "href" not in drawn and "@font-face" not in drawn
