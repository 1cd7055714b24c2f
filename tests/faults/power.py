"""Power cuts: what a command did to the disk, as the shim logged it, done again up to some point;
then of what was not synced by then some is dropped, comes in another order, or is torn."""

from __future__ import annotations

import os
import random
import struct
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

_HEAD = struct.Struct("<ciiqII")
_EXCHANGE = 2
MODES = ("dropped", "names alone", "reordered", "torn at 512", "torn at 4096")


class Event(NamedTuple):
    """A record of the shim's log: what, the descriptor, its flag, offset and parts (`shim.c`)."""

    what: str
    fd: int
    flag: int
    offset: int
    one: bytes
    two: bytes

    @property
    def path(self) -> str:
        return os.path.normpath(os.fsdecode(self.one))

    @property
    def target(self) -> str:
        return os.path.normpath(os.fsdecode(self.two))


def events(log: Path) -> list[Event]:
    data, at, found = log.read_bytes(), 0, list[Event]()
    while at < len(data):
        what, fd, flag, offset, n, m = _HEAD.unpack_from(data, at)
        at += _HEAD.size
        found.append(
            Event(what.decode(), fd, flag, offset, data[at : at + n], data[at + n : at + n + m])
        )
        at += n + m
    return found


Change = tuple[int, bytes | None]
"""Bytes at an offset; None: the file is cut, or grown, to that size."""


@dataclass
class File:
    durable: bytes = b""
    pending: list[Change] = field(default_factory=list)


@dataclass
class Folder:
    """A folder, as a thing that has a name."""


Names = dict[str, File | Folder]


class Step(NamedTuple):
    """A change of names not yet on the disk: these go, these come. ``folders``: whose sync brings
    it there."""

    gone: tuple[str, ...]
    come: tuple[tuple[str, File | Folder], ...]
    folders: frozenset[str]


class Disk:
    """A folder and what becomes of it, event by event."""

    def __init__(self, folder: Path) -> None:
        self.names: Names = {}
        for path in folder.rglob("*"):
            made = Folder() if path.is_dir() else File(path.read_bytes())
            self.names[str(path)] = made
        self.durable: Names = dict(self.names)
        self.pending: list[Step] = []
        self._open: dict[int, File | str] = {}

    def do(self, event: Event) -> None:
        what = event.what
        if what == "O":
            self._opened(event)
        elif what == "C":
            self._open.pop(event.fd, None)
        elif what == "S":
            self._synced(event.fd)
        elif what in "WTF":
            self._changed(event)
        elif what in "UD":
            self._step((event.path,), ())
        elif what == "M":
            self._step((), ((event.path, Folder()),))
        elif what == "L":
            self._step((), ((event.target, self.names[event.path]),))
        elif what == "R":
            self._renamed(event)

    def _opened(self, event: Event) -> None:
        there = self.names.get(event.path)
        if there is None and event.flag & os.O_CREAT:
            there = File()
            self._step((), ((event.path, there),))
        if isinstance(there, File):
            if event.flag & os.O_TRUNC:
                there.pending.append((0, None))
            self._open[event.fd] = there
        else:
            self._open[event.fd] = event.path

    def _synced(self, fd: int) -> None:
        synced = self._open.get(fd)
        if isinstance(synced, File):
            synced.durable = applied(synced.durable, synced.pending)
            synced.pending = []
        elif synced is not None:
            left = []
            for step in self.pending:
                if synced in step.folders:
                    _take(self.durable, step)
                else:
                    left.append(step)
            self.pending = left

    def _changed(self, event: Event) -> None:
        file = self._open.get(event.fd)
        if not isinstance(file, File):
            return
        if event.what == "W":
            file.pending.append((event.offset, event.one))
        elif event.what == "T":
            file.pending.append((event.offset, None))
        elif event.flag:  # a hole
            (length,) = struct.unpack("<q", event.one)
            file.pending.append((event.offset, bytes(length)))

    def _renamed(self, event: Event) -> None:
        one, other = self._beneath(event.path), self._beneath(event.target)
        come = [(_moved(name, event.path, event.target), self.names[name]) for name in one]
        if event.flag & _EXCHANGE:
            come += [(_moved(name, event.target, event.path), self.names[name]) for name in other]
        self._step((*one, *other), tuple(come))

    def _beneath(self, path: str) -> list[str]:
        return [name for name in self.names if name == path or name.startswith(f"{path}/")]

    def _step(self, gone: tuple[str, ...], come: tuple[tuple[str, File | Folder], ...]) -> None:
        touched = [*gone, *(name for name, _ in come)]
        step = Step(gone, come, frozenset(os.path.dirname(name) for name in touched))
        _take(self.names, step)
        self.pending.append(step)

    def cut(self, mode: str, chance: random.Random, folder: Path) -> None:
        """The power goes: what is found afterwards, into the empty ``folder``'s place."""
        names = dict(self.durable)
        reached = len(self.pending)
        if mode == "dropped":
            reached = 0
        elif mode != "names alone":
            reached = chance.randint(0, reached)
        for step in self.pending[:reached]:
            _take(names, step)
        for name, found in names.items():
            path = Path(name)
            if isinstance(found, Folder):
                path.mkdir(parents=True, exist_ok=True)
        kept: dict[int, bytes] = {}
        for name, found in names.items():
            if isinstance(found, File):
                if id(found) not in kept:
                    pending = list(_reached(found.pending, mode, chance))
                    kept[id(found)] = applied(found.durable, pending)
                Path(name).parent.mkdir(parents=True, exist_ok=True)
                Path(name).write_bytes(kept[id(found)])


def _take(names: Names, step: Step) -> None:
    for name in step.gone:
        names.pop(name, None)
    names.update(step.come)


def _moved(name: str, source: str, target: str) -> str:
    return target + name[len(source) :]


def applied(data: bytes, changes: list[Change]) -> bytes:
    made = bytearray(data)
    for offset, piece in changes:
        end = offset + len(piece or b"")
        if len(made) < end:
            made.extend(bytes(end - len(made)))
        if piece is None:
            del made[offset:]
        else:
            made[offset:end] = piece
    return bytes(made)


def _reached(pending: list[Change], mode: str, chance: random.Random) -> Iterator[Change]:
    """What of the writings not synced is on the disk all the same."""
    if mode in ("dropped", "names alone"):
        return
    mine = [change for change in pending if chance.random() < 0.5 or change[1] is None]
    if mode == "reordered":
        yield from chance.sample(mine, len(mine))
        return
    size = int(mode.rpartition(" ")[2])
    for offset, piece in mine:
        if piece is None:
            yield offset, None
            continue
        for at in range(0, len(piece), size):
            if chance.random() < 0.5:
                yield offset + at, piece[at : at + size]
