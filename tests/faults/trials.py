"""One trial: a command on fresh ground, struck by a fault at one call; then what became of it.

An entry is acknowledged where the command ended with 0. Afterwards the book is looked at, the same
command is said again, and the book is looked at once more.
"""

from __future__ import annotations

import random
import re
import shutil
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from signal import SIGKILL
from typing import Any, NamedTuple

from tests.faults.ground import BOOK, LOOKS, ON, Contents, Found, clone, files, prepare
from tests.faults.power import Disk, events
from tests.faults.server import Ran, Server
from tests.faults.shim import Fault, How

TOLD = (65, 66, 73, 75)
NOT_WRITTEN = (
    "nothing was written",
    "nothing was changed",
    "not be written",
    "nothing was restored",
)
OF_JOURNAL = re.compile(r"The journal \S+ cannot be written: [^.]*\.")
THERE = ("is in the book", "are in the book", "was written", "were written", "is not known")


def _no_backups(folder: Path) -> None:
    for path in folder.glob(f"{BOOK}.backups/*"):
        path.unlink()


def _no_book(folder: Path) -> None:
    _no_backups(folder)
    for path in folder.glob(f"{BOOK}*"):
        if path.is_file():
            path.unlink()
    for path in folder.glob(f"{BOOK}.journal/*"):
        path.unlink()


@dataclass(frozen=True)
class Case:
    """A command. ``made``: what it makes beside the book: a folder, a page, or another book;
    ``once``: that is not written over, so to say it again is refused. ``named``: what it writes has
    ids of its own, so that to say it again writes nothing twice."""

    name: str
    words: tuple[str, ...]
    before: Callable[[Path], None] = lambda folder: None
    made: str = ""
    once: bool = False
    named: bool = False

    @property
    def makes_book(self) -> bool:
        return self.made.endswith(".duckdb")


LOG = ("log", "417", "walk 1; cond 3", *ON)
CASES = (
    Case("log", LOG),
    Case("log, first of the day", LOG, _no_backups),
    Case("import", ("import", "more.jsonl"), named=True),
    Case("import into a new book", ("import", "farm.jsonl"), _no_book, named=True),
    Case("undo", ("undo",)),
    Case("export", ("export", "out"), made="out"),
    Case("export over an earlier one", ("export", "earlier-export"), made="earlier-export"),
    Case("backup", ("backup", "copy.duckdb"), made="copy.duckdb", once=True),
    Case(
        "restore",
        ("--book", "new.duckdb", "restore", "by-hand.duckdb"),
        made="new.duckdb",
        once=True,
    ),
    Case("board --html", ("board", "--html", "page.html", *ON), made="page.html"),
    Case("merge", ("merge", "other.duckdb"), named=True),
    Case("salvage", ("--book", "new.duckdb", "salvage", BOOK), made="new.duckdb", once=True),
    Case("verify", ("verify",)),
    Case("board --json", ("board", "--json", *ON)),
)


NOT_ASKED = Ran(None, "", "")


class Verdict(NamedTuple):
    """``what``: lost, wrong, told or harmless; ``why``: in words, where it is of the first two."""

    what: str
    why: str = ""


@dataclass
class Tally:
    """A row of the table, and what failed in it."""

    name: str
    trials: int = 0
    lost: int = 0
    wrong: int = 0
    told: int = 0
    harmless: int = 0
    seconds: float = 0.0
    failed: list[str] = field(default_factory=list)
    left: Counter[str] = field(default_factory=Counter)

    def add(self, verdict: Verdict, where: str) -> None:
        self.trials += 1
        setattr(self, verdict.what, getattr(self, verdict.what) + 1)
        if verdict.what in ("lost", "wrong"):
            self.failed.append(f"{where}: {verdict.what}: {verdict.why}")


class Expected(NamedTuple):
    """What holds without a fault: before the command, after it, and what it makes."""

    before: Found
    after: Found
    made: Any
    said: str
    names: frozenset[str]
    old: Any


class Trials:
    """Trials of commands on one ground."""

    def __init__(self, server: Server, folder: Path, seed: int, *, thorough: bool) -> None:
        """``thorough``: every book that is told to be damaged is salvaged. That takes up to two
        minutes where DuckDB hangs on it."""
        self.server = server
        self.thorough = thorough
        self.ground, self.place = folder / "ground", folder / "trial"
        self.ground.mkdir()
        prepare(server, self.ground, seed)
        self._expected: dict[str, Expected] = {}

    def fresh(self, case: Case) -> None:
        clone(self.ground, self.place)
        case.before(self.place)

    def expected(self, case: Case) -> Expected:
        if case.name not in self._expected:
            self.fresh(case)
            before = Found(*self.server.run(*LOOKS, folder=self.place))
            old = self.made(case)
            (done,) = self.server.run(case.words, folder=self.place)
            assert done.code == 0, done
            after = Found(*self.server.run(*LOOKS, folder=self.place))
            made, names = self.made(case), frozenset(_names(self.place))
            self._expected[case.name] = Expected(before, after, made, done.out, names, old)
        return self._expected[case.name]

    def made(self, case: Case) -> Any:
        """What the command made, None where it is not there."""
        path = self.place / case.made
        if not case.made or not path.exists():
            return None
        if case.makes_book:
            (found,) = self.server.run((*LOOKS[0][:1], case.made), folder=self.place)
            return Counter(found.json()) if found.code == 0 else found.out
        return files(path) if path.is_dir() else path.read_bytes()

    def calls(self, case: Case, fault: Fault) -> int:
        """How many calls the fault could strike."""
        self.fresh(case)
        counting = fault._replace(how=How.COUNT)
        (done,) = self.server.run(case.words, folder=self.place, fault=counting)
        assert done.code == 0, done
        return done.calls

    def cut(self, case: Case, at: int, mode: str, seed: int, tally: Tally) -> None:
        """A power cut at this share (of 1,000) of what the command did to the disk."""
        begun = time.perf_counter()
        expected = self.expected(case)
        self.fresh(case)
        log = self.place.with_name("log")
        disk = Disk(self.place)
        (ran,) = self.server.run(case.words, folder=self.place, log=log)
        assert ran.code == 0, ran
        done = events(log)
        upto = round(len(done) * at / 1000)
        for event in done[:upto]:
            disk.do(event)
        shutil.rmtree(self.place)
        self.place.mkdir()
        disk.cut(mode, random.Random(seed), self.place)
        acknowledged = any(event.what == "A" for event in done[:upto])
        ran = ran._replace(code=0 if acknowledged else -SIGKILL)
        where = f"{case.name}, power cut at {upto} of {len(done)}, {mode}, seed {seed}"
        self._judge(replace(case, made=""), expected, ran, tally, where)
        tally.seconds += time.perf_counter() - begun

    def strike(self, case: Case, fault: Fault, at: int, tally: Tally) -> None:
        """One trial, into the tally."""
        begun = time.perf_counter()
        expected = self.expected(case)
        self.fresh(case)
        (ran,) = self.server.run(case.words, folder=self.place, fault=fault, at=at)
        self._judge(case, expected, ran, tally, f"{case.name}, {fault.name} at call {at}")
        tally.seconds += time.perf_counter() - begun

    def _judge(self, case: Case, expected: Expected, ran: Ran, tally: Tally, where: str) -> None:
        looks = self.server.run(*LOOKS[:2], folder=self.place)
        now, made = Found(looks[0], looks[1], NOT_ASKED), self.made(case)
        if now.entries.code == 65:
            verdict = self._salvaged(expected, ran, now)
        else:
            verdict = judged(case, expected, ran, now, made)
            if verdict.what in ("told", "harmless"):
                again, *looks = self.server.run(case.words, *LOOKS, folder=self.place)
                wrong = self._again(case, expected, ran, now, again, Found(*looks))
                verdict = Verdict("wrong", f"said again, {wrong}") if wrong else verdict
        tally.left.update(_kinds(set(_names(self.place)) - expected.names))
        tally.add(verdict, where)

    def _salvaged(self, expected: Expected, ran: Ran, now: Found) -> Verdict:
        """A book that is told to be damaged: nothing is lost that can be made anew of it."""
        kept, said = salvaged(self.server, self.place)
        wanted = expected.after if ran.code == 0 else expected.before
        if lost := (wanted.contents or Counter()) - kept:
            return Verdict("lost", f"not even salvaged: {sum(lost.values())}; {said}")
        (verify,) = self.server.run(LOOKS[2], folder=self.place)
        if now.board.code != 65 or verify.code != 65:
            return Verdict("wrong", f"not told: {now.board} {verify}")
        return Verdict("told")

    def _again(
        self, case: Case, expected: Expected, ran: Ran, now: Found, again: Ran, after: Found
    ) -> str:
        """What is wrong after the same command was said again; "" for nothing."""
        if case.once and self.made(case) == expected.made and again.code == 73:
            return ""
        if again.code != 0:
            return f"it ended with {again.code}: {again.err[-300:]}"
        if case.made and self.made(case) != expected.made:
            return f"what it made is not whole ({case.made})"
        contents, wanted = after.contents, expected.after.contents
        written_twice = now.contents == wanted != expected.before.contents and not case.named
        if written_twice and (ran.code in (0, -SIGKILL) or says_there(ran)):
            return ""  # he was not told that nothing was written, or that it was, and said it twice
        if contents != wanted:
            return f"the book holds something else: {difference(wanted, contents)}"
        return unlike(after, expected.after)


def salvaged(server: Server, folder: Path) -> tuple[Contents, str]:
    """What salvage brings back of the damaged book in ``folder``, and what it said."""
    done, entries = server.run(
        ("--book", "salvaged.duckdb", "salvage", BOOK),
        (LOOKS[0][0], "salvaged.duckdb"),
        folder=folder,
    )
    said = f"salvage ended with {done.code}: {done.err[-300:]} {entries.err[-300:]}"
    return Counter(entries.json()) if entries.code == 0 else Counter(), said


def judged(case: Case, expected: Expected, ran: Ran, now: Found, made: Any) -> Verdict:
    """What became of it."""
    if wrong := misbehaved(ran):
        return Verdict("wrong", wrong)
    before, after = expected.before.contents, expected.after.contents
    contents = now.contents
    if now.entries.code not in (0, 66):
        return Verdict("wrong", f"reading it ended so: {now.entries}")
    acknowledged = ran.code == 0
    there = contents if contents is not None else Counter[str]()
    if acknowledged and contents != after:
        return Verdict("lost", f"acknowledged, and not there: {difference(after, contents)}")
    if (before or Counter()) - there:
        return Verdict("lost", f"of before: {difference(before, contents)}")
    if there and there not in (before, after):
        return Verdict("wrong", f"half of a batch: {difference(after, contents)}")
    if there and (wrong := unlike(now, expected.after if there == after else expected.before)):
        return Verdict("wrong", wrong)
    if (ran.code or 0) > 0 and there == after != before and not says_there(ran):
        return Verdict("wrong", f"it is in the book, and was told: {ran.err[-300:]}")
    if wrong := product(case, expected, ran, made):
        return Verdict("wrong", wrong)
    if acknowledged and case.name in ("verify", "board --json") and ran.out != expected.said:
        return Verdict("wrong", f"another answer with 0: {ran.out[:300]}")
    return Verdict("told" if (ran.code or 0) > 0 else "harmless")


def product(case: Case, expected: Expected, ran: Ran, made: Any) -> str:
    """What is wrong with what it made."""
    if not case.made:
        return ""
    if ran.code == 0 and made != expected.made:
        return f"ended with 0, and {case.made} is not whole"
    if made not in (None, expected.old, expected.made):
        return f"{case.made} is neither as before nor whole"
    if made is None and expected.old is not None:
        return f"{case.made} is gone"
    return ""


def misbehaved(ran: Ran) -> str:
    """What a command never does, whatever happens: "" where it did none of it."""
    if "Traceback" in ran.err:
        return f"a traceback: {ran.err[-300:]}"
    if ran.code not in (0, -SIGKILL, *TOLD):
        return f"ended with {ran.code}: {ran.err[-300:]}"
    said = [line for line in ran.err.splitlines() if not line.startswith(("warning: ", "note: "))]
    if ran.code in TOLD and not (said and said[-1].startswith("readiness: ")):
        return f"ended with {ran.code}, and no sentence: {ran.err[-300:]}"
    return ""


def says_there(ran: Ran) -> bool:
    """Whether it was told that it is in the book, or that this is not known. That its journal took
    nothing says nothing of the book."""
    text = OF_JOURNAL.sub("", ran.err).lower()
    return any(words in text for words in THERE) and not any(words in text for words in NOT_WRITTEN)


def unlike(found: Found, wanted: Found) -> str:
    """How a look differs from the one wanted, the contents being the same."""
    if found.board.code != 0 or found.board.json() != wanted.board.json():
        return f"the board differs ({found.board.code}): {found.board.err[-200:]}"
    if found.verify.code not in (0, None):
        return f"verify: {found.verify.code} {found.verify.err[-300:]}"
    return ""


def difference(wanted: Contents | None, found: Contents | None) -> str:
    one, other = wanted or Counter(), found or Counter()
    missing, more = sum((one - other).values()), sum((other - one).values())
    return f"{missing} missing, {more} too many, of {sum(one.values())}"


def _names(folder: Path) -> Iterator[str]:
    return (str(path.relative_to(folder)) for path in folder.rglob("*"))


def _kinds(names: Iterable[str]) -> Iterator[str]:
    """What was left behind, by the ends of the names."""
    for name in names:
        if "/" not in name or name.startswith(f"{BOOK}."):
            yield "." + name.rpartition(".")[2]


def points(calls: int, most: int, seed: int) -> list[int]:
    """Which calls are struck: every one, or as many as are allowed, drawn by the seed."""
    every = range(1, calls + 1)
    return list(every) if calls <= most else sorted(random.Random(seed).sample(every, most))
