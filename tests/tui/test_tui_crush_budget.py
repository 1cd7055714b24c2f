"""How many keys a bull costs on the real screen, and how long that takes by the keystroke-level
model (Card, Moran & Newell 1980, Communications of the ACM 23:396; 1983): K for each key, M for
each time one has to think.

K is 0.5 s for cold hands and M 1.35 s, as the project's own order sets them (M is the model's own
value; that of K lies between its slow typists). Where an M stands is from memory of the model's
rules: one before each decision (which answer), none before a key that only ends one already made.
The budgets are the project's own choice. Print the table with ``pytest -s``.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from tests.tui.crush_driver import bodies, crush_app, ids, to_crush
from tests.tui.driver import press
from tests.tui.estate import desk_at, estate

K, M = 0.5, 1.35


class Job(NamedTuple):
    """What is entered: the decisions, each by its keys; ``most`` keys in all."""

    name: str
    most: int
    decisions: tuple[str, ...]
    kinds: tuple[str, ...]

    @property
    def keys(self) -> list[str]:
        return " ".join(self.decisions).split()

    @property
    def seconds(self) -> float:
        return K * len(self.keys) + M * len(self.decisions)


SCORES = ("w 0", "c 3 2", "enter")
SOUND = ("feet", "mobility", "condition")
FOUND = ("1 o", "s u", "4", "2", "p d")
BLOCK = (*SOUND[:1], "block-on", *SOUND[1:])
JOBS = (
    Job("sound, next in the race", 9, ("s", *SCORES), SOUND),
    Job("sound, picked by tag", 11, ("slash 4 1 7", "s", *SCORES), SOUND),
    Job("sound and trimmed, picked by tag", 11, ("slash 4 1 7", "t", *SCORES), SOUND),
    Job("one finding, pared and dressed", 16, (*FOUND, "s", *SCORES), SOUND),
    Job(
        "two findings and a block, lame", 25,
        (*FOUND, "b", "4 o", "w l f", "2", "2", "p", "s", "w 2 1", "c 3 2", "enter"), BLOCK,
    ),
)  # fmt: skip
# The same said by the longer ways, which work still: what it was before each improvement.
BEFORE = (
    Job("sound, picked by tag and Enter", 12, ("slash 4 1 7 enter", "s", *SCORES), SOUND),
    Job("one finding: Enter, then the others", 17, (*FOUND, "enter s", *SCORES), SOUND),
    Job(
        "two findings: the block by foot and claw", 29,
        (
            *FOUND, "enter b 1 i", "4 o", "w l f", "2", "2", "p", "enter s", "w 2 1", "c 3 2",
            "enter",
        ),
        BLOCK,
    ),
)  # fmt: skip


@pytest.mark.parametrize("job", [*JOBS, *BEFORE], ids=lambda job: job.name)
async def test_a_bull_is_written_within_his_budget_of_keys(tmp_path: Path, job: Job) -> None:
    desk = desk_at(tmp_path / "bulls.duckdb", estate())
    before = ids(desk)
    app = crush_app(desk)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await to_crush(pilot)
        if "slash" in job.keys:
            await press(pilot, "n")
        await press(pilot, *job.keys)
        kinds = tuple(body["kind"] for body in bodies(desk, before))
        assert kinds == job.kinds
        assert set(screen.session.handled) == {"00417"}
    assert len(job.keys) <= job.most


def test_the_table_of_keys_and_seconds(capsys: pytest.CaptureFixture[str]) -> None:
    """Printed for whoever asks; each improvement took keys away, none took time."""
    with capsys.disabled():
        print(f"\n{'':44}keys  budget  thoughts  seconds")
        for job in (*JOBS, *BEFORE):
            print(
                f"{job.name:<44}{len(job.keys):>4}{job.most:>8}{len(job.decisions):>10}"
                f"{job.seconds:>9.1f}"
            )
    assert JOBS[1].seconds < BEFORE[0].seconds
    assert JOBS[3].seconds < BEFORE[1].seconds
    assert JOBS[4].seconds < BEFORE[2].seconds
