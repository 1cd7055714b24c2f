"""Half-entered bulls: what was being typed when the window was closed, or the terminal killed.

Beside the book ``bulls.duckdb`` stands the folder ``bulls.duckdb.unsaved``; each window owns one
file in it, JSON Lines that only grow while it lives, and holds a lock on it. A file whose lock can
be taken is one whose owner is gone: the next window takes over what is in it. The book's own file
is never opened here, since to open and close it would drop the database's lock on it.

Nothing here raises for the disk's sake: that something is not kept is said by what is returned.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from readiness.book.drafts.journal import At, Draft, Journal, Lineup, as_line, parsed
from readiness.book.drafts.owned import SUFFIX, File


class Drafts:
    """One window's half-entered bulls. Any thread may call it."""

    def __init__(self, book: Path) -> None:
        self.folder = unsaved_beside(book.absolute())
        self._journal = Journal()
        self._file: File | None = None
        # Whether something was said that is not in the file.
        self._behind = False
        # Whether one was kept under another key: a line could speak of either of two bulls then.
        self._followed = False
        self._lock = threading.Lock()

    def open(self) -> list[Draft]:
        """Take over what windows that are gone have left; oldest first, so that of two drafts of
        one bull the last is the newest. Both are kept: ``drop`` takes one away at a time."""
        with self._lock:
            found = [file for path in self._others() if (file := File.taken(path)) is not None]
            read = []
            for file in found:
                data = file.read()
                read.append(data is not None)
                self._journal.join(parsed(data or b""))
            kept = not self._journal or self._renew()
            for file, whole in zip(found, read, strict=True):
                file.close(remove=kept and whole)
            return [at.draft for at in self._journal.drafts]

    def put(self, draft: Draft) -> bool:
        """Keep the draft in the place of the last one of the same bull; whether it is kept."""
        with self._lock:
            at = At(time.time(), draft)
            self._journal.put(at)
            return self._say({"put": draft._asdict(), "at": at.moment})

    def drop(self, key: str) -> Draft | None:
        """The bull's last draft is saved or given up; with it, an older one of his if there is one.

        Where that cannot be written down the draft comes back with the next window, which knows by
        its ids whether it was saved.
        """
        with self._lock:
            if self._journal.of(key) is not None:
                self._journal.drop(key)
                self._say({"drop": key})
            return self._journal.of(key)

    def follow(self, key_since: Callable[[str, float], str]) -> list[Draft]:
        """The same as ``open``, each of the bull by the key that he has now. ``key_since``: gives
        it for one that he had at a moment (seconds). In the file it stays as it was kept."""
        with self._lock:
            self._journal.follow(key_since)
            self._followed = self._journal.followed
            return [at.draft for at in self._journal.drafts]

    def race(self) -> Lineup | None:
        """The order of bulls last kept, of whichever day."""
        with self._lock:
            return self._journal.race[1] if self._journal.race else None

    def keep_race(self, day: str, keys: Sequence[str], dropped: Sequence[str]) -> bool:
        """Keep the order of a day's bulls in the place of the last one; whether it is kept."""
        with self._lock:
            now = time.time()
            race = Lineup(day, tuple(keys), tuple(dropped))
            self._journal.race = (now, race)
            return self._say({"race": race._asdict(), "at": now})

    def close(self) -> None:
        """Let the file go, for the next window to take over; it goes if nothing is left in it."""
        with self._lock:
            if self._journal and (self._behind or not (self._file and self._file.stands())):
                self._renew()
            if self._file is not None:
                self._file.close(remove=not self._journal)
                self._file = None
            self._journal, self._behind = Journal(), False
            with suppress(OSError):  # not empty: another window's, or ours is left in it
                self.folder.rmdir()

    def _others(self) -> list[Path]:
        mine = self._file.path if self._file is not None else None
        if self.folder.is_symlink():  # somebody else's place
            return []
        try:
            return sorted(path for path in self.folder.glob(f"*{SUFFIX}") if path != mine)
        except OSError:
            return []

    def _say(self, record: dict[str, Any]) -> bool:
        """Write one more line; all of it anew where the file is gone or a line failed before."""
        if self._file is None or self._behind or self._followed or not self._file.stands():
            self._behind = not self._renew()
            return not self._behind
        if self._file.write(as_line(record)):
            return True
        # The line may be there in part. This file is left as it is, to be read up to there, until
        # a new one holds everything.
        self._behind = True
        return False

    def _renew(self) -> bool:
        """A new file with all that is left, then away with the one before it."""
        file = File.made(self.folder)
        if file is None:
            return False
        if not file.write(b"".join(map(as_line, self._journal.records()))) or not file.settle():
            file.close(remove=True)
            return False
        if self._file is not None:
            self._file.close(remove=True)
        self._file, self._followed = file, self._journal.followed
        return True


def unsaved_beside(book: Path) -> Path:
    """The folder of a book's half-entered bulls."""
    return book.parent / f"{book.name}.unsaved"
