"""The crush, driven by its keys in a process that is killed, or whose disk is full from some call
of the file system on: bulls that were shown as saved are in the book, each once; after a kill the
one half entered comes back."""

from __future__ import annotations

import asyncio
import random
import shutil
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from signal import SIGKILL
from typing import TYPE_CHECKING

from readiness.book import Book
from readiness.book.drafts import Drafts
from readiness.desk.desk import Desk
from tests.faults.ground import BOOK
from tests.faults.server import Ran
from tests.faults.shim import FAULTS, Fault, How
from tests.faults.trials import Tally, Verdict
from tests.tui.estate import CLOCK, DAY, desk_at, estate

if TYPE_CHECKING:
    from tests.faults.trials import Trials

KILLED, FULL = FAULTS[0], FAULTS[2]
DAYS_WORK = (("s", "w", "0", "enter"), ("w", "1", "enter"), ("s", "enter"), ("w", "0"))
"""A bull after the other; the last is left half entered."""


def at_work(book: str) -> int:
    """Inside the process that is killed: a day at the crush; what is kept and saved is said."""
    import textual.app
    import textual.constants
    import textual.pilot

    from tests.tui.crush_driver import crush_app, line_of, to_crush
    from tests.tui.driver import nothing_to_run, press, screen_text

    for module in (textual.app, textual.pilot):
        setattr(module, "wait_for_idle", nothing_to_run)  # noqa: B010
    setattr(textual.constants, "TEXTUAL_ANIMATIONS", "none")  # noqa: B010

    async def day() -> None:
        app = crush_app(Desk(Book(Path(book), CLOCK), None, CLOCK, who="sam"))
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await to_crush(pilot)
            for keys in DAYS_WORK:
                bull = screen.session.key
                for key in keys:
                    await press(pilot, key)
                    if key != "enter":
                        print(f"typed {bull} {line_of(screen)}", flush=True)
                    elif screen.session.key != bull:
                        print(f"saved {bull}", flush=True)
                    elif "no room" in " ".join(screen_text(app).split()).lower():
                        print(f"told of {bull}", flush=True)

    asyncio.run(day())
    return 0


def killed(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    """Killed with ``kill -9`` at a call drawn by chance."""
    _struck(KILLED, ground, count, tally)


def full(ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    """No room on the disk from a call on that is drawn by chance."""
    _struck(FULL, ground, count, tally)


def _struck(fault: Fault, ground: Callable[[int], Trials], count: int, tally: Tally) -> None:
    trials = ground(1)
    server, place = trials.server, trials.place
    made = place.with_name("estate")
    made.mkdir(exist_ok=True)
    if not (made / BOOK).exists():
        desk_at(made / BOOK, estate())
    before = _ids(made / BOOK)
    words = ("tests.faults.yard.at_work", BOOK)
    counting = fault._replace(how=How.COUNT)
    (whole,) = server.run(words, folder=_again(made, place), fault=counting)
    assert whole.code == 0, whole
    chance = random.Random(count)
    for at in (chance.randint(1, whole.calls) for _ in range(count)):
        (ran,) = server.run(words, folder=_again(made, place), fault=fault, at=at)
        where = f"{fault.name} at call {at} of {whole.calls}"
        tally.add(_judged(ran, place / BOOK, before, killed=fault is KILLED), where)


def _again(made: Path, place: Path) -> Path:
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(made, place)
    return place


def _ids(book: Path) -> set[str]:
    return {entry.id for entry in Book(book, CLOCK, "the test").snapshot().entries}


def _judged(ran: Ran, path: Path, before: set[str], *, killed: bool) -> Verdict:
    if ran.code != 0 and not (killed and ran.code == -SIGKILL):
        return Verdict("wrong", f"it ended with {ran.code}: {ran.err[-500:]}")
    new = [e for e in Book(path, CLOCK, "the test").snapshot().entries if e.id not in before]
    today = [entry for entry in new if entry.day == DAY.toordinal()]
    walked = Counter((entry.bull, entry.kind) for entry in today)
    if any(many > 1 for many in walked.values()):
        return Verdict("wrong", f"a bull is there twice: {walked}")
    saved = [line.split()[1] for line in ran.out.splitlines() if line.startswith("saved")]
    there = {entry.bull for entry in today}
    if missing := set(saved) - there:
        return Verdict("lost", f"shown as saved: {missing}")
    if not killed:  # that nothing more could be kept stood on the screen
        return Verdict("told" if "told of" in ran.out else "harmless")
    drafts, ids = Drafts(path), {entry.id for entry in new}
    half = {draft.key: draft.line for draft in drafts.open() if not ids & set(draft.ids)}
    drafts.close()
    return _half_entered(ran, there, half)


def _half_entered(ran: Ran, there: set[str], half: dict[str, str]) -> Verdict:
    """The bull typed last, and not in the book, is half entered, at least as far as was shown."""
    typed = [line.split(" ", 2)[1:] for line in ran.out.splitlines() if line.startswith("typed")]
    for bull, line in typed[-1:]:
        if bull not in there and not half.get(bull, "").startswith(line):
            return Verdict("lost", f"half entered {bull} {line!r}: {half}")
        if bull in there and bull in half:
            return Verdict("wrong", f"{bull} is in the book, and half entered")
    return Verdict("harmless")
