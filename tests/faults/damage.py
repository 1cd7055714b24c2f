"""Damage to a book that nobody tells the program of: flipped bytes, files cut short, blocks of
another place or time, logs that are none. It is named by `verify` or shown to be harmless, and no
answer is ever another one in silence; what was written can be made anew, its journal being whole.
"""

from __future__ import annotations

import random
import shutil
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from tests.cli.small_book import write
from tests.faults.ground import BOOK, LOOKS, OLDER, Contents, clone, lines
from tests.faults.server import Server
from tests.faults.trials import TOLD, Tally, Trials, Verdict, misbehaved, salvaged

FIRST, BLOCK = 3 * 4096, 1 << 18
LOG = f"{BOOK}.wal"

Harm = Callable[[Path, random.Random], None]


def flipped(folder: Path, chance: random.Random) -> None:
    """One byte, of the three head pages in a quarter of the trials."""
    book = folder / BOOK
    data = bytearray(book.read_bytes())
    at = chance.randrange(FIRST if chance.random() < 0.25 else len(data))
    data[at] ^= chance.randint(1, 255)
    book.write_bytes(data)


def cut_short(folder: Path, chance: random.Random) -> None:
    book = folder / BOOK
    data = book.read_bytes()
    step = chance.choice((1, 512, 4096, BLOCK))
    book.write_bytes(data[: chance.randrange(len(data)) // step * step])


def swapped(folder: Path, chance: random.Random) -> None:
    """Two blocks, each in the other's place; their checksums stay right."""
    book = folder / BOOK
    data = bytearray(book.read_bytes())
    one, other = (_block(n) for n in chance.sample(range(_blocks(data)), 2))
    data[one], data[other] = data[other], data[one]
    book.write_bytes(data)


def stale(folder: Path, chance: random.Random) -> None:
    """A block, or a head page, as it was in an older state of the book."""
    book = folder / BOOK
    data, old = bytearray(book.read_bytes()), (folder / OLDER).read_bytes()
    if chance.random() < 0.3:
        page = slice(4096 * (n := chance.randint(0, 2)), 4096 * (n + 1))
        data[page] = old[page]
    else:
        block = _block(chance.randrange(min(_blocks(data), _blocks(old))))
        data[block] = old[block]
    book.write_bytes(data)


def torn(folder: Path, chance: random.Random) -> None:
    """A block of which only the first sectors were written: the rest is old, or nothing."""
    book = folder / BOOK
    data = bytearray(book.read_bytes())
    block = _block(chance.randrange(_blocks(data)))
    at = block.start + 512 * chance.randrange(0, BLOCK // 512)
    old = chance.choice(((folder / OLDER).read_bytes(), b""))
    data[at : block.stop] = old[at : block.stop].ljust(block.stop - at, b"\0")[: block.stop - at]
    book.write_bytes(data)


def older(folder: Path, _: random.Random) -> None:
    """An older file in the book's place, as a program that syncs folders brings it back."""
    shutil.copyfile(folder / OLDER, folder / BOOK)


def log_torn(folder: Path, chance: random.Random) -> None:
    """A log that breaks off in its first bytes, or is none."""
    whole = (folder / "foreign.wal").read_bytes()
    kinds = (
        b"\0",
        whole[: chance.randint(1, 40)],
        bytes(4096),
        chance.randbytes(chance.randint(1, 9000)),
        b"",
    )
    (folder / LOG).write_bytes(chance.choice(kinds))


def log_foreign(folder: Path, chance: random.Random) -> None:
    """The log of another book, whole or torn."""
    whole = (folder / "foreign.wal").read_bytes()
    (folder / LOG).write_bytes(whole[: chance.choice((len(whole), chance.randrange(len(whole))))])


def log_stale(folder: Path, chance: random.Random) -> None:
    """The log of an older state of this book."""
    whole = (folder / "stale.wal").read_bytes()
    (folder / LOG).write_bytes(whole[: chance.choice((len(whole), chance.randrange(len(whole))))])


def journal(folder: Path, chance: random.Random) -> None:
    """The journal flipped, cut or gone: the book is whole, and says the same."""
    (file,) = (folder / f"{BOOK}.journal").iterdir()
    data = bytearray(file.read_bytes())
    kind = chance.randint(0, 2)
    if kind == 0:
        data[chance.randrange(len(data))] ^= chance.randint(1, 255)
        file.write_bytes(data)
    elif kind == 1:
        file.write_bytes(data[: chance.randrange(len(data))])
    else:
        shutil.rmtree(file.parent)


HARMS: dict[str, Harm] = {
    "a flipped byte": flipped,
    "cut short": cut_short,
    "two blocks swapped": swapped,
    "a stale block": stale,
    "a torn block": torn,
    "an older file": older,
    "a torn log": log_torn,
    "a foreign log": log_foreign,
    "a stale log": log_stale,
    "a damaged journal": journal,
}


def _blocks(data: bytes | bytearray) -> int:
    return (len(data) - FIRST) // BLOCK


def _block(number: int) -> slice:
    return slice(FIRST + number * BLOCK, FIRST + (number + 1) * BLOCK)


_MADE: dict[Path, Damages] = {}


def damages_of(trials: Trials) -> Damages:
    """Those of these trials, made once."""
    if trials.ground not in _MADE:
        _MADE[trials.ground] = Damages(trials)
    return _MADE[trials.ground]


class Damages:
    """Damage done to the ground of the trials, over and over."""

    def __init__(self, trials: Trials) -> None:
        self.server: Server = trials.server
        self.trials, self.place = trials, trials.place
        _logs(trials.ground)
        write(trials.ground / "many.jsonl", lines(99, 2000))
        self.fresh()
        self.asked = (*LOOKS, ("export", "whole"))
        entries, self.board, verify, done = self.server.run(*self.asked, folder=self.place)
        assert (self.board.code, verify.code, done.code) == (0, 0, 0), (self.board, verify, done)
        self.contents: Contents = Counter(entries.json())
        self.exported = _exported(self.place)

    def fresh(self) -> None:
        clone(self.trials.ground, self.place)

    def harm(self, name: str, seed: int, tally: Tally) -> None:
        """One damage, drawn by the seed, into the tally."""
        begun = time.perf_counter()
        self.fresh()
        HARMS[name](self.place, random.Random(seed))
        tally.add(self._judged(name), f"{name}, seed {seed}")
        tally.seconds += time.perf_counter() - begun

    def _judged(self, name: str) -> Verdict:
        looks = [self.server.run(ask, folder=self.place)[0] for ask in self.asked]
        for words, ran in zip(self.asked[1:], looks[1:], strict=True):
            if wrong := misbehaved(ran):
                return Verdict("wrong", f"{words[0]}: {wrong}")
        entries, board, verify, export = looks
        if board.code == 0 and board.json() != self.board.json():
            return Verdict("wrong", "the board gives another answer, with 0")
        if export.code == 0 and _exported(self.place) != self.exported:
            return Verdict("wrong", "the export gives another answer, with 0")
        if verify.code == 0 and (board.code, export.code) != (0, 0):
            return Verdict("wrong", f"verify names nothing: {board.err}{export.err}")
        if verify.code == 0 or name == "a damaged journal":
            return self._harmless(name)
        if entries.code == 0 and Counter(entries.json()) == self.contents and "log" in name:
            return Verdict("told")
        if "log" in name or not self.trials.thorough:
            return Verdict("told")
        kept, said = salvaged(self.server, self.place)
        if lost := self.contents - kept:
            return Verdict("lost", f"not even salvaged: {sum(lost.values())}; {said}")
        return Verdict("told")

    def _harmless(self, name: str) -> Verdict:
        """Whether what is written into such a book next stays, and nothing else is lost."""
        file = "many.jsonl" if "log" in name else "more.jsonl"
        done, entries, verify = self.server.run(
            ("import", file), LOOKS[0], LOOKS[2], folder=self.place
        )
        if done.code in TOLD and not misbehaved(done):
            return Verdict("told")
        if done.code != 0:
            return Verdict("wrong", f"written into, it ended with {done.code}: {done.err}")
        if entries.code != 0 or self.contents - Counter(entries.json()):
            return Verdict("lost", f"written into, entries went: {entries.out[:300]}")
        if len(entries.json()) != self.contents.total() + _count(self.place / file):
            return Verdict("lost", "what was acknowledged is not there")
        if verify.code != 0:
            return Verdict("wrong", f"written into, it is damaged: {verify.err}")
        return Verdict("harmless")


def _count(file: Path) -> int:
    return len(file.read_text("utf-8").splitlines())


def _exported(folder: Path) -> Counter[str]:
    return Counter((folder / "whole" / "entries.jsonl").read_text("utf-8").splitlines())


def _logs(ground: Path) -> None:
    """Logs of DuckDB: of another book, and of this one as it was before what was written last."""
    import duckdb

    for name, source in (("foreign.wal", "other.duckdb"), ("stale.wal", OLDER)):
        copy = ground / "copy.duckdb"
        shutil.copyfile(ground / source, copy)
        con = duckdb.connect(str(copy))
        con.execute("SET checkpoint_threshold = '1TB'")
        con.execute("INSERT INTO meta VALUES ('note', 'x')")
        shutil.copyfile(f"{copy}.wal", ground / name)
        con.close()
        copy.unlink()
