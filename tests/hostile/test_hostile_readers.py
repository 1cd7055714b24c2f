"""Whatever a reader is given, it is taken, or refused in a sentence: never a fault, a hang, a write
elsewhere, or anything that drives a terminal. At length: ``python -m tests.hostile``."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.hostile.every import READERS
from tests.hostile.readers import Reader, tried
from tests.hostile.watch import Box, Hang, Ran, a_box, drives_a_terminal
from tests.volume import WHOLE

CASES = 6 if WHOLE else 2


@pytest.fixture(scope="module")
def box() -> Iterator[Box]:
    with a_box() as made:
        yield made


@pytest.mark.parametrize("reader", READERS, ids=lambda reader: reader.name)
def test_no_input_breaks_its_reader(box: Box, reader: Reader) -> None:
    tally = tried(reader, box, 10**9, examples=CASES, counted=True)
    assert not tally.told, "\n".join(tally.told)
    assert tally.rows == tally.refused + tally.taken > 0


# ---- the judge itself ----------------------------------------------------------------------------


def columns(ran: Ran) -> list[str]:
    return [column for column, _ in ran.wrong]


def test_what_drives_a_terminal_is_seen_by_the_judge(box: Box) -> None:
    assert drives_a_terminal("a\x1b[2Jb\u202e\x9b\r\n\t") == ["\t", "\x1b", "\x9b", "\u202e"]
    assert drives_a_terminal("plain, é 牛 🐂\r\n") == []
    assert columns(box.ask(lambda: "\x1b[2J")) == ["terminal"]


def test_a_fault_a_hang_and_a_file_elsewhere_are_seen_by_the_judge(box: Box) -> None:
    def hang() -> None:
        raise Hang

    assert columns(box.ask(lambda: 1 // 0)) == ["traceback"]
    assert columns(box.ask(hang)) == ["hang"]
    elsewhere = box.outside / "x"
    assert set(columns(box.ask(lambda: elsewhere.write_text("x") and None))) == {"outside"}
    elsewhere.unlink()
    assert columns(box.ask(lambda: next(box.outside.iterdir()).read_text())) == ["outside"]
    beyond = box.root.with_name(f"{box.root.name}-beyond")
    assert columns(box.ask(beyond.mkdir)) == ["outside"]
    beyond.rmdir()


def test_a_refusal_that_writes_or_says_nothing_to_do_is_seen_by_the_judge(box: Box) -> None:
    from readiness.system.errors import DataError

    def refuse(said: str, *, writes: bool = False) -> None:
        if writes:
            with box.book.open("ab") as book:
                book.write(b"x")
        raise DataError(said)

    before = box.book.read_bytes()
    assert columns(box.ask(lambda: refuse("It is wrong. Write it anew."))) == []
    assert columns(box.ask(lambda: refuse("It is wrong."))) == ["words"]
    assert columns(box.ask(lambda: refuse("Write it anew.", writes=True))) == ["wrote"]
    box.book.write_bytes(before)
