"""What is small and asks for much is refused with its limit said, in seconds and little memory."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.hostile.bombs import BOMBS, Bomb, tried_in
from tests.hostile.watch import Box, a_box
from tests.volume import sampled

SHORT = ("a note of lists.jsonl", "a key of many parts.toml")


@pytest.fixture(scope="module")
def box() -> Iterator[Box]:
    with a_box() as made:
        yield made


@sampled(
    "bomb",
    BOMBS,
    of=[bomb for bomb in BOMBS if bomb.name in SHORT],
    mark=pytest.mark.at_length,
    ids=lambda bomb: bomb.name,
)
def test_a_bomb_is_refused_with_its_limit_said(box: Box, bomb: Bomb) -> None:
    row = tried_in(box, bomb)
    assert row.ran.wrong == []
    assert row.peak > 0
