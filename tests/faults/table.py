"""The rows of the table of faults, and how many trials of each are made."""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import NamedTuple

from tests.faults import clocks, together, yard
from tests.faults.damage import HARMS, damages_of
from tests.faults.ground import place
from tests.faults.power import MODES
from tests.faults.server import serving
from tests.faults.shim import FAULTS
from tests.faults.trials import CASES, Case, Tally, Trials, points

ON_ONE_GROUND = 250
"""So many trials begin on the same book; then another is made, from the next seed."""


class Often(NamedTuple):
    """How many trials: of `pytest` alone, of what is marked long, of the command at length."""

    short: int
    long: int
    whole: int


@contextmanager
def grounds(thorough: bool) -> Iterator[Callable[[int], Trials]]:
    """Trials on a book made from a seed."""
    with place() as folder:
        (folder / "server").mkdir()
        with serving(folder / "server") as server:
            made: dict[int, Trials] = {}

            def trials(seed: int) -> Trials:
                if seed not in made:
                    mine = folder / str(seed)
                    mine.mkdir()
                    made[seed] = Trials(server, mine, seed, thorough=thorough)
                return made[seed]

            yield trials


Row = Callable[[Callable[[int], Trials], int, Tally], None]


def struck(number: int) -> Row:
    """A fault at each call of each command, or at as many as are wanted."""
    fault = FAULTS[number]

    def row(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
        for seed, share in _shares(count):
            trials, planned = ground(seed), list[tuple[Case, int]]()
            cases = _some(CASES, share, seed)
            for case in cases:
                calls = trials.calls(case, fault)
                planned += [(case, at) for at in points(calls, share // len(cases), seed)]
            chance = random.Random(seed)
            planned += chance.choices(planned, k=max(0, share - len(planned)))
            for case, at in planned:
                trials.strike(case, fault, at, tally)

    return row


def power(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    writing = [case for case in CASES if not case.made and case.name[:5] not in ("verif", "board")]
    for seed, share in _shares(count):
        chance = random.Random(seed)
        for number in range(share):
            case = writing[number % len(writing)]
            at = chance.choice((1000, chance.randint(0, 1000)))
            mode = MODES[number // len(writing) % len(MODES)]
            ground(seed).cut(case, at, mode, number, tally)


def damaged(name: str) -> Row:
    def row(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
        for seed, share in _shares(count):
            damages = damages_of(ground(seed))
            for number in range(share):
                damages.harm(name, number, tally)

    return row


ROWS: dict[str, tuple[Row, Often]] = {
    "kill -9": (struck(0), Often(1, 8, 1000)),
    "kill -9 amid a write": (struck(1), Often(0, 3, 200)),
    "disk full": (struck(2), Often(1, 3, 200)),
    "disk full amid a write": (struck(3), Often(0, 3, 200)),
    "I/O error once": (struck(4), Often(1, 3, 200)),
    "I/O error from then on": (struck(5), Often(0, 3, 200)),
    "power cut": (power, Often(1, 6, 800)),
    "a flipped byte": (damaged("a flipped byte"), Often(0, 4, 1000)),
    **{name: (damaged(name), Often(0, 1, 60)) for name in list(HARMS)[1:]},
    **{name: (row, Often(0, 1, 40)) for name, row in clocks.ROWS.items()},
    **{name: (row, Often(0, 1, 10)) for name, row in together.ROWS.items()},
    "kill -9 at the crush": (yard.killed, Often(0, 1, 60)),
    "disk full at the crush": (yard.full, Often(0, 1, 60)),
}


def _shares(count: int) -> Iterator[tuple[int, int]]:
    """A seed, and how many trials of it."""
    for seed, begun in enumerate(range(0, count, ON_ONE_GROUND)):
        yield seed * 10 + 1, min(ON_ONE_GROUND, count - begun)


def _some(cases: Iterable[Case], count: int, seed: int) -> list[Case]:
    every = list(cases)
    return every if count >= len(every) else random.Random(seed).sample(every, count)


def run(names: Iterable[str], count: Callable[[Often], int], *, thorough: bool) -> Iterator[Tally]:
    """Row by row; each is told when it is done, or stopped by Ctrl-C: then it is the last."""
    with grounds(thorough) as ground:
        for name in names:
            row, often = ROWS[name]
            if not (many := count(often)):
                continue
            tally, begun = Tally(name), time.perf_counter()
            try:
                row(ground, many, tally)
            except KeyboardInterrupt:
                tally.name += " (stopped)"
                names = ()
            tally.seconds = time.perf_counter() - begun
            yield tally
            if not names:
                return


HEAD = f"{'fault':<28}{'trials':>8}{'lost':>6}{'wrong':>7}{'told':>7}{'harmless':>10}{'seconds':>9}"


def line(tally: Tally) -> str:
    return (
        f"{tally.name:<28}{tally.trials:>8}{tally.lost:>6}{tally.wrong:>7}{tally.told:>7}"
        f"{tally.harmless:>10}{tally.seconds:>9.0f}"
    )


def named(words: Iterable[str]) -> list[str]:
    """The rows that are asked for, by their beginnings; all where none is."""
    asked = list(words)
    found = [name for name in ROWS if not asked or any(_meant(name, word) for word in asked)]
    if not found:
        sys.exit(f"There is no such row. There are: {', '.join(ROWS)}.")
    return found


def _meant(name: str, word: str) -> bool:
    return name == word or (word not in ROWS and name.startswith(word))


def leftovers(tallies: Iterable[Tally]) -> dict[str, int]:
    """What was left behind, in all, by the ends of the names."""
    found: dict[str, int] = {}
    for tally in tallies:
        for end, count in tally.left.items():
            found[end] = found.get(end, 0) + count
    return found
