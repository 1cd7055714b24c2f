"""`board --json` of a big book: bull by bull, in as many processes as there are processors, and
never all of it in memory. What comes out is byte for byte what a small book's board is."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from functools import partial
from heapq import merge
from tempfile import TemporaryFile
from typing import IO, NamedTuple

from readiness.book import Counts
from readiness.cli.output import Output
from readiness.desk.desk import Desk
from readiness.engine.results import Board
from readiness.herd.board import Tally, assess_each, board_order, groups_on
from readiness.history.groups import Group
from readiness.report.as_json import FORMAT, as_json, as_line, board_json
from readiness.system.forked import forked

MOST_PROCESSES = 4
_BYTES = 1 << 20

Order = tuple[int, int, str]


class Part(NamedTuple):
    """Of some bulls: where each stands in the file, in the order of the board; how many there are
    of what; the groups of the book, and how much it holds."""

    places: list[tuple[Order, int, int]]
    tally: Tally
    held: bool
    groups: list[Group]
    counts: Counts


def print_big_board(desk: Desk, output: Output) -> bool:
    """Print it; whether a bull is on hold. Raises what reading the book raises; then nothing is
    printed."""
    with ExitStack() as files:
        count = min(processors(), MOST_PROCESSES)
        spools = [files.enter_context(TemporaryFile()) for _ in range(count)]
        parts = _in_processes(desk, spools) if count > 1 else None
        if parts is None or len({part.counts for part in parts}) > 1:  # somebody wrote meanwhile
            spools = [files.enter_context(TemporaryFile())]
            parts = [_part(desk, 0, spools)]
        tally = Tally()
        for part in parts:
            tally.and_of(part.tally)
        rules = desk.rules().common
        lines = tally.lines(parts[0].groups)
        board = Board(desk.on.toordinal(), rules.name, rules.digest, lines, ())
        output.pieces(_text(board, spools, parts))
    return any(part.held for part in parts)


def processors() -> int:
    """How many this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1


def _part(desk: Desk, number: int, spools: Sequence[IO[bytes]]) -> Part:
    """Assess this part of the bulls, each written into its file."""
    tally, file, rules, on = Tally(), spools[number], desk.rules(), desk.on.toordinal()
    index: list[tuple[Order, int, int]] = []
    at, held = 0, False
    with desk.book.streamed(number, len(spools)) as stream:
        for bull in assess_each(stream.bulls, stream.groups, rules, on, tally):
            text = as_line(as_json(bull)).encode("ascii")
            file.write(text)
            index.append((board_order(bull), at, len(text)))
            at += len(text)
            held = held or bull.status == "HOLD"
        groups = list(groups_on(stream.groups, rules, on).values())
        index.sort()
        file.flush()
        return Part(index, tally, held, groups, stream.counts)


def _text(board: Board, spools: Sequence[IO[bytes]], parts: list[Part]) -> Iterator[bytes]:
    """The whole text, in pieces of about a megabyte."""
    head = as_line({"format": FORMAT, **board_json(board)}).encode("ascii")
    piece = bytearray(head.removesuffix(b"]}"))
    orders = ([(*row, number) for row in part.places] for number, part in enumerate(parts))
    for place, (_, at, length, number) in enumerate(merge(*orders)):
        piece += b", " if place else b""
        piece += os.pread(spools[number].fileno(), length, at)
        if len(piece) > _BYTES:
            yield bytes(piece)
            piece.clear()
    yield bytes(piece + b"]}\n")


# ---- processes -----------------------------------------------------------------------------------


def _in_processes(desk: Desk, spools: Sequence[IO[bytes]]) -> list[Part] | None:
    """Each part in a process of its own; None where one of them could not do it: to be done here
    then, where what is wrong is said."""
    begun = [forked(partial(_part, desk, number, spools)) for number in range(len(spools))]
    found = [taken() if taken is not None else None for taken in begun]
    parts = [part for part in found if part is not None]
    return parts if len(parts) == len(found) else None
