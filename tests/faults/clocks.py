"""Clocks that are wrong, and days that are odd: what was acknowledged is there, once."""

from __future__ import annotations

import random
import time
from collections import Counter
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from tests.faults.ground import BOOK, LOOKS, ON, clone
from tests.faults.server import Ran
from tests.faults.trials import TOLD, Tally, Verdict, misbehaved

if TYPE_CHECKING:
    from tests.faults.trials import Trials

YEAR = 365 * 86_400
KEPT = 12
"""So many backups stay, whatever the clock says."""


def _seconds_to(moment: datetime) -> int:
    return round(moment.timestamp() - time.time())


def _round_a_day(*days: tuple[int, int, int, int, int]) -> list[int]:
    """Clocks half an hour before and after each of these moments."""
    half = timedelta(minutes=30)
    moments = [datetime(*day, tzinfo=UTC) for day in days]
    return [_seconds_to(m + by) for m in moments for by in (-half, half)]


def wrong_clock(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    """Years, days and seconds back and ahead, in any order."""
    steps = (-3 * YEAR, -86_400, -3600, -2, 0, 2, 3600, 86_400, 3 * YEAR)
    for number in range(count):
        chance = random.Random(number)
        clocks = [chance.choice(steps) for _ in range(4)]
        _days(ground(1), clocks, ["UTC"], tally, f"clocks {clocks}")


def odd_days(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    """Round the hours of summer time, the end of a year and 29 February, in zones of the world."""
    zones = ["Europe/London", "America/New_York", "Pacific/Kiritimati", "Pacific/Pago_Pago"]
    clocks = _round_a_day(
        (2027, 3, 28, 1, 0), (2027, 10, 31, 1, 0), (2028, 2, 29, 0, 0), (2028, 3, 1, 0, 0),
        (2028, 1, 1, 0, 0),
    )  # fmt: skip
    for number in range(count):
        chance = random.Random(number)
        mine = chance.choice((chance.sample(clocks, 4), sorted(chance.sample(clocks, 4))))
        _days(ground(1), mine, chance.sample(zones, 2), tally, f"clocks {mine}")


ROWS = {"a wrong clock": wrong_clock, "odd days and zones": odd_days}


def _days(trials: Trials, clocks: list[int], zones: list[str], tally: Tally, where: str) -> None:
    """A line at each of these clocks, then all of them taken back again."""
    clone(trials.ground, trials.place)
    backups = trials.place / f"{BOOK}.backups"
    first = next(iter(backups.glob("*.duckdb")))
    for ago in range(1, 20):
        day = date.today() - timedelta(days=ago)
        (backups / f"{day}.duckdb").write_bytes(first.read_bytes())
    tally.add(_lived(trials, clocks, zones, backups), where)


def _lived(trials: Trials, clocks: list[int], zones: list[str], backups: Path) -> Verdict:
    run, folder = trials.server.run, trials.place
    (before,) = run(LOOKS[0], folder=folder)
    wanted, told = Counter[str](before.json()), False
    for number, ahead in enumerate(clocks):
        zone = zones[number % len(zones)]
        words = ("log", "501", f"kg {900 + number}", *ON)
        done, entries, verify = run(
            words, LOOKS[0], LOOKS[2], folder=folder, ahead=ahead, zone=zone
        )
        if wrong := misbehaved(done) or misbehaved(verify):
            return Verdict("wrong", wrong)
        now = Counter[str](entries.json()) if entries.code == 0 else Counter[str]()
        told |= done.code in TOLD
        if wanted - now or (now - wanted).total() != (done.code == 0) or verify.code != 0:
            return Verdict("lost", f"after {words}: {verify.err}")
        wanted = now
    if (left := len(list(backups.glob("*.duckdb")))) < KEPT:
        return Verdict("wrong", f"{left} backups are left")
    return _taken_back(run(("undo",), LOOKS[0], folder=folder), wanted, told)


def _taken_back(done: list[Ran], wanted: Counter[str], told: bool) -> Verdict:
    undo, entries = done
    if wrong := misbehaved(undo):
        return Verdict("wrong", f"undo: {wrong}")
    now = Counter[str](entries.json())
    if wanted - now or (now - wanted).total() != (undo.code == 0):
        return Verdict("lost", "undo added another number of strikes than one")
    return Verdict("told" if told else "harmless")
