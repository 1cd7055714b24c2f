"""How many keys a bull costs on the pad, each answer a key, and how long that takes.

The budgets (9, 16 and 25 keys) are a project choice, of the project's own order: no published
figure says how many keys a bull may cost. Seconds are by the keystroke-level model (Card, Moran &
Newell 1980, Communications of the ACM 23:396; and their book of 1983): K 0.5 s for each key, which
the project sets for cold hands, and M 1.35 s for each time one has to think, which is the model's
own value.

Where the Ms stand (the model's rules for placing them, from memory): one M before each key that
chooses something (which foot, which code, which score), and none

- before a key that only carries on what the M before it chose: the second letter of a code, the
  claw of a foot, the second half of a score, work after work ("p d" is one thought: what was done);
- before Enter, where it only ends what was said (their rule 4), but one before the Enter that
  saves: there the trimmer looks whether all is said.

So a row below is a list of thoughts, each with its keys. The screen's Enter that saves is counted
as one key and one thought. Print the table with ``pytest -n0 -s``.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from readiness.crush.before import Before
from tests.crush.pads import found, said, stands

K, M = 0.5, 1.35
SAVES = 1
"""The Enter that saves is the screen's, not the pad's: one key more, after one thought."""


class Job(NamedTuple):
    """``thoughts``: what is decided, each with the keys that say it. ``line``: what it says."""

    name: str
    most: int
    thoughts: tuple[str, ...]
    line: str
    before: Before

    @property
    def keys(self) -> int:
        return sum(len(thought.split()) for thought in self.thoughts) + SAVES

    @property
    def seconds(self) -> float:
        return K * self.keys + M * (len(self.thoughts) + SAVES)


NEW = stands()
KNOWN = stands(found("LH", "inner", "SU"), blocks=(("LH", "outer"),))
ULCER = ("1 o", "s u", "4", "2", "p d")
FOUL = ("4 ,", "i p", "0", "3", "d")
FISSURE = ("4 o", "w l f", "2", "2", "p")
SCORED = ("w 0", "c 3 2")
JOBS = (
    Job("sound, lifted, walked, scored", 9, ("s", *SCORED), "all ok; walk 0; cond 3.25", NEW),
    Job(
        "one finding, pared and dressed", 16, (*ULCER, "s", *SCORED),
        "lf o su@4/2 pare dress; rf lh rh ok; walk 0; cond 3.25", NEW,
    ),
    Job(
        "two findings and a block, lame", 25, (*ULCER, "b", *FOUL, "s", "w 2 1", "c 3 2"),
        "lf o su@4/2 pare dress; rh s ip@0/3 dress; rf lh ok; block lf i; walk 2 lf; cond 3.25",
        NEW,
    ),
    Job(
        "two findings graded and a block, lame", 25,
        (*ULCER, "b", *FISSURE, "s", "w 2 1", "c 3 2"),
        "lf o su@4/2 pare dress; rh o wlf@2/2 pare; rf lh ok; block lf i; walk 2 lf; cond 3.25",
        NEW,
    ),
    Job(
        "an ulcer healed, its block taken off", 12, ("b", "-", "s", "h", *SCORED),
        "block lh o off; lf rf ok; lh i su healed; rh ok; walk 0; cond 3.25", KNOWN,
    ),
)  # fmt: skip


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.name)
def test_the_keys_say_it_all_and_stay_within_the_budget(job: Job) -> None:
    assert said(" ".join(job.thoughts), job.before) == job.line
    assert job.keys <= job.most


def test_the_longest_way_takes_less_than_a_minute(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Project choice: keys and thoughts of the longest job here take less than a minute, so that
    the keys are not what a crush waits for. Prints the table."""
    with capsys.disabled():
        print(f"\n{'':40}keys  budget  thoughts  seconds")
        for job in JOBS:
            print(
                f"{job.name:<40}{job.keys:>4}{job.most:>8}{len(job.thoughts) + SAVES:>10}"
                f"{job.seconds:>9.1f}"
            )
    assert max(job.seconds for job in JOBS) < 60
    assert JOBS[0].seconds == pytest.approx(7 * 0.5 + 4 * 1.35)
