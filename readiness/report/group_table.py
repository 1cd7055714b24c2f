"""How each group stands, a line each: on the text board and on the screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import NamedTuple

from readiness.engine.results import Board, GroupLine
from readiness.report.look import Look, wrapped
from readiness.report.spans import Spans, aligned, width_of
from readiness.system.plain import plain
from readiness.system.width import cells
from readiness.trade.words import Day, day_words, plural, when_words

_COUNTS = {"reason": "hold_reason", "checks": "hold_checks", "go": "go"}


class Form(NamedTuple):
    """What a group's line spells out beside its name and turnout."""

    turnout: bool = True
    ahead: bool = True
    bulls: bool = True
    late: str = "overdue"


class Spacing(NamedTuple):
    """The states in their order, the gap before each count, what follows the number of bulls, and
    how wide that and a state's count are at least."""

    states: tuple[str, ...]
    gap: str
    after: str = ""
    bulls: int = 0
    state: int = 0


def group_tails(
    groups: Sequence[GroupLine], on: Day, form: Form, spacing: Spacing, sign: Callable[[str], str]
) -> list[Spans]:
    """What follows each group's name, in columns: turnout, bulls, how many in each state, and how
    many checks are overdue. ``sign``: the mark of a state."""
    rows = [_row(line, on, form, spacing, sign) for line in groups]
    noun = ([spacing.gap], [spacing.bulls]) if form.bulls else ([], [])
    states = len(spacing.states)
    gaps = ["  ", *noun[0], *[spacing.gap] * states, "  "]
    least = [0, *noun[1], *[spacing.state] * states, 0]
    return aligned(rows, gaps, range(1, len(gaps)), least)


def _row(
    line: GroupLine, on: Day, form: Form, spacing: Spacing, sign: Callable[[str], str]
) -> Spans:
    when = day_words(line.turnout, on)
    when = f"{when}, {when_words(line.turnout, on)}" if form.ahead else when
    counts = [(state, getattr(line, _COUNTS[state])) for state in spacing.states]
    return [
        (f"turnout {when}" if form.turnout else when, ""),
        *([(plural(line.bulls, "bull") + spacing.after, "")] if form.bulls else []),
        *((f"{count} {sign(state)}", state if count else "quiet") for state, count in counts),
        *([(f"{line.overdue} {form.late}", "alert")] if line.overdue else []),
    ]


def group_lines(board: Board, width: int, look: Look) -> list[str]:
    """A line for each group, under its farm's name where there are several farms."""
    groups = board.groups
    several = len({line.farm for line in groups}) > 1
    indent = "  " if several else ""
    names = max((cells(plain(line.group)) for line in groups), default=0)
    digits = max((len(str(line.bulls)) for line in groups), default=0)
    spacing = Spacing(("go", "checks", "reason"), "  ", bulls=digits + len(" bulls"))
    for form in (Form(), Form(late="!"), Form(turnout=False, ahead=False, late="!")):
        tails = group_tails(groups, board.on, form, spacing, look.sign)
        room = width - len(indent) - max(map(width_of, tails), default=0)
        if names <= room:
            break
    lines: list[str] = []
    for farm, own in groupby(zip(groups, tails, strict=True), key=lambda pair: pair[0].farm):
        if several:
            lines += wrapped(plain(farm or "no farm named"), width)
        for line, tail in own:
            *above, name = wrapped(plain(line.group), width - len(indent)) or [""]
            if cells(name) > room:
                above, name = [*above, name], ""
            lines += [indent + part for part in above]
            lines.append(f"{indent}{look.fit(name, min(names, room))}{look.painted(tail)}")
    return lines
