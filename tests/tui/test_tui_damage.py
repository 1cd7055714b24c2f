"""Screens over a damaged book: what they show is what the whole book shows, or what is wrong."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest

from tests.faults import damage
from tests.faults.ground import BOOK
from tests.tui.driver import make_app, press, screen_text, settled
from tests.tui.estate import desk_at, estate

SCREENS = ((), ("d",), ("4",), ("escape", "v"), ("escape", "enter"), ("escape", "c"))
"""Board, Diary by day and by visit, Cover, the first bull, the crush: the keys from one to the
next."""
SAYS = ("damaged", "couldnotberead", "isnotabook", "isnobook", "isanemptyfile", "lacks")
HARMS = (damage.flipped, damage.cut_short, damage.swapped)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("whole")
    desk_at(folder / BOOK, estate())
    return folder


async def shown(book: Path) -> list[str]:
    """What each screen shows, without blanks and frames."""
    app, texts = make_app(desk_at(book, None)), []
    async with app.run_test(size=(120, 40)) as pilot:
        await settled(pilot)
        for keys in SCREENS:
            await press(pilot, *keys)
            await settled(pilot)
            texts.append("".join(screen_text(app).split()).replace("│", ""))
    return texts


AT_LENGTH = [pytest.param(seed, marks=pytest.mark.at_length) for seed in range(2, 60)]


@pytest.mark.parametrize("seed", [0, 1, *AT_LENGTH])
async def test_no_screen_over_a_damaged_book_gives_another_answer_in_silence(
    whole: Path, tmp_path: Path, seed: int
) -> None:
    before = await shown(whole / BOOK)
    folder = tmp_path / "harmed"
    shutil.copytree(whole, folder)
    chance = random.Random(seed)
    chance.choice(HARMS)(folder, chance)
    for was, now in zip(before, await shown(folder / BOOK), strict=True):
        assert now == was or any(words in now for words in SAYS), now
