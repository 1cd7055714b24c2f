"""What a roster changes of a booked bull, and may be wrong in: said by row.

There are three tempers, from quiet to dangerous; groups are per farm, and a bull's group is looked
for on his own farm. The book is that of ``tests/cli/small_book.py``.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from readiness.entries.entry import Entry
from tests.cli.conftest import Run
from tests.cli.small_book import DAY
from tests.roster.grids import read, take


def warned(book: list[Entry], *rows: list[str]) -> list[str]:
    return [text for row, text in take(read(list(rows)), book).warnings if row]


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [("dangerous", "quiet", True), ("dangerous", "watch", True), ("watch", "calm", True),
     ("quiet", "watch", False), ("quiet", "dangerous", False), ("watch", "watch", False)],
)  # fmt: skip
def test_a_temper_made_milder_is_said(before: str, after: str, told: bool) -> None:
    book: list[Entry] = []
    head = ["tag", "name", "temper"]
    assert warned(book, head, ["00601", "Wren", before]) == []
    meant = "quiet" if after == "calm" else after
    assert warned(book, head, ["00601", "Wren", after]) == (
        [
            f"00601 Wren is {before.upper()} in the book, and {meant} by this roster: be sure of "
            "it before anybody handles him"
        ]
        if told
        else []
    )


def test_a_bull_moved_to_a_known_farm_leaves_his_group(run: Run, book: Path) -> None:
    path = book.with_name("b.csv")
    path.write_text("tag,farm\n00777,Low\n", encoding="utf-8")
    assert run("import", path, "--on", DAY).code == 0
    path.write_text("tag,farm\n00288,Low\n00501,Low\n", encoding="utf-8")
    ran = run("import", path, "--on", DAY)
    assert ran.err == (
        "warning: b.csv: row 2: 00288 Rowan is moved from Sallow Fell to Low, and so in no group; "
        "he was in Heifers\n"
    )
    assert run("bull", "00288", "--json", "--on", DAY).json()["group"] is None


def test_a_bull_moved_where_there_is_a_group_of_that_name(run: Run, book: Path) -> None:
    made = run("group", "Heifers", "--turnout", "2026-05-01", "--farm", "Low", "--new", "--on", DAY)
    assert made.code == 0
    path = book.with_name("b.csv")
    path.write_text("tag,farm\n00288,Low\n", encoding="utf-8")
    told = run("import", path, "--on", DAY).err
    assert (
        "row 2: 00288 Rowan is moved from Sallow Fell to Low, and so in the group Heifers" in told
    )
    assert run("bull", "00288", "--json", "--on", DAY).json()["group"] == "Heifers"


def test_an_older_day_of_arrival_ends_a_quarantine_without_a_word() -> None:
    book: list[Entry] = []
    head = ["tag", "name", "origin", "arrived"]
    assert warned(book, head, ["00601", "Wren", "bought", "2026-03-20"]) == []
    (text,) = warned(book, head, ["00601", "Wren", "bought", "2025-03-20"])
    assert text.startswith("00601 Wren arrived 20 Mar 2026 in the book, and 20 Mar 2025 by this")
    assert "his quarantine hangs on it" in text


@pytest.mark.parametrize(("before", "after", "told"), [("no", "yes", 1), ("yes", "no", 0)])
def test_one_not_safe_with_heifers_is_called_safe_without_a_word(
    before: str, after: str, told: int
) -> None:
    book: list[Entry] = []
    head = ["tag", "name", "heifer safe"]
    assert warned(book, head, ["00601", "Wren", before]) == []
    texts = warned(book, head, ["00601", "Wren", after])
    assert len(texts) == told
    assert all("is not safe with heifers in the book, and safe by this" in each for each in texts)
