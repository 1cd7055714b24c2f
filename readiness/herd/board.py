"""The board: every bull that is here or out, assessed on one day."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from copy import copy
from types import MappingProxyType
from typing import NamedTuple

from readiness.engine.assess import assess
from readiness.engine.out import went_out_without
from readiness.engine.results import Assessment, Board, GroupLine
from readiness.entries.entry import Entry, last_farm
from readiness.history import History, history
from readiness.history.groups import Group, as_said, groups_of, names_of
from readiness.rules.model import RuleBook
from readiness.system.plain import name_key
from readiness.trade.tags import tag_key

Planned = Mapping[str, Mapping[str, int]]


def assess_book(
    entries: Iterable[Entry],
    rulebook: RuleBook,
    on: int,
    *,
    turnout: int | None = None,
    farm: str | None = None,
    group: str | None = None,
) -> Board:
    """Assess every bull of a book on day ``on`` (an ordinal).

    ``entries``: all effective entries in ``entry_order``, bulls and groups together.
    ``turnout``: what if every group were turned out then. ``farm``, ``group``: only those.
    """
    herd = fold_book(entries, rulebook, on, turnout)
    return assess_herd(herd, farm=farm, group=group)


class Remembered(NamedTuple):
    """What was last worked out of each bull (by his key) on one day under one rule book, and from
    what: after a new entry only the bull that it speaks of is worked out again."""

    rulebook: RuleBook
    on: int
    folded: dict[str, tuple[list[Entry], History | None]]
    assessed: dict[str, tuple[tuple[object, ...], Assessment]]


class Herd(NamedTuple):
    """The bulls of a book in the states they are in on a day, and their groups. ``said``: every
    group as it stood after each entry of it, so that seasons that are over are known, too."""

    rulebook: RuleBook
    on: int
    states: tuple[History, ...]
    groups: dict[tuple[str, str], Group]
    said: dict[tuple[str, str], list[Group]]
    last: Remembered | None = None


def fold_book(
    entries: Iterable[Entry],
    rulebook: RuleBook,
    on: int,
    turnout: int | None = None,
    last: Remembered | None = None,
) -> Herd:
    """Every bull that is here or out, and every group whose season has not ended. ``last``: of
    this day and these rules; it is read and kept up to date."""
    by_bull, told = split(entries, on)
    names = names_of(told)
    states = (_state(key, own, rulebook, on, last) for key, own in by_bull.items())
    here = tuple(in_his_group(state, names) for state in states if state is not None)
    return Herd(rulebook, on, here, groups_on(told, rulebook, on, turnout), as_said(told), last)


def _state(
    key: str, own: list[Entry], rulebook: RuleBook, on: int, last: Remembered | None
) -> History | None:
    """A bull's state; the very same one as last time where nothing new was said of him."""
    if last is None:
        return fold(key, own, rulebook, on)
    known = last.folded.get(key)
    if known is None or known[0] != own:
        known = last.folded[key] = own, fold(key, own, rulebook, on)
    return known[1]


def assess_herd(
    herd: Herd,
    *,
    farm: str | None = None,
    group: str | None = None,
    planned: Planned = MappingProxyType({}),
) -> Board:
    """The board of a herd. ``planned``: bull's key → his checks' days, as ``assess`` takes them."""
    bulls: list[Assessment] = []
    for state in herd.states:
        if farm is not None and (state.farm or "") != farm:
            continue
        bull = _assessed(state, herd, planned.get(state.key, {}))
        if group is None or bull.group == group:
            bulls.append(bull)
    bulls.sort(key=board_order)
    tally = Tally()
    for bull in bulls:
        tally.add(bull)
    lines = tally.lines(
        each
        for each in herd.groups.values()
        if (farm is None or (each.farm or "") == farm) and (group is None or each.name == group)
    )
    rules = herd.rulebook.common
    return Board(herd.on, rules.name, rules.digest, lines, tuple(bulls))


def assess_each(
    bulls: Iterable[list[Entry]], told: Iterable[Entry], rulebook: RuleBook, on: int, tally: Tally
) -> Iterator[Assessment]:
    """Every bull of a book, one after another, as ``assess_book`` assesses him, counted into
    ``tally``. ``bulls``: of each the entries that stand, in ``entry_order``; ``told``: those of
    groups."""
    by_then = [each for each in told if each.day <= on]
    groups, names = groups_on(by_then, rulebook, on), names_of(by_then)
    herd = Herd(rulebook, on, (), groups, {})
    for own in bulls:
        by_now = [entry for entry in own if entry.day <= on]
        state = fold(own[0].bull, by_now, rulebook, on) if by_now else None
        if state is not None:
            bull = _assessed(in_his_group(state, names), herd, {})
            tally.add(bull)
            yield bull


def _assessed(state: History, herd: Herd, planned: Mapping[str, int]) -> Assessment:
    his = group_of(state, herd.groups)
    asked = (state, his, planned)
    known = herd.last.assessed.get(state.key) if herd.last else None
    # A state that is the same one was folded from the same entries: to compare it would cost more.
    if known is not None and known[0][0] is state and known[0][1:] == asked[1:]:
        return known[1]
    bull = assess(
        state,
        herd.on,
        turnout=his.turnout if his else None,
        group=his.name if his else None,
        role=state.role,
        heifers=his is not None and his.heifers,
        planned=planned,
    )
    if herd.last:
        herd.last.assessed[state.key] = asked, bull
    return bull


def split(entries: Iterable[Entry], on: int) -> tuple[dict[str, list[Entry]], list[Entry]]:
    """Entries up to ``on`` by bull, and those of groups."""
    by_bull: dict[str, list[Entry]] = {}
    told: list[Entry] = []
    for entry in entries:
        if entry.day > on:
            break
        if entry.kind == "group":
            told.append(entry)
        elif entry.bull:
            by_bull.setdefault(entry.bull, []).append(entry)
    return by_bull, told


def groups_on(
    told: Iterable[Entry], rulebook: RuleBook, on: int, turnout: int | None = None
) -> dict[tuple[str, str], Group]:
    """The groups as they stand on a day, whose season has not ended. ``told``: group entries in
    ``entry_order``. ``turnout``: what if every group were turned out then."""
    groups = groups_of(told, on)
    if turnout is not None:
        groups = {key: group._replace(turnout=turnout) for key, group in groups.items()}
    return {
        key: group
        for key, group in groups.items()
        if on <= group.last_day(rulebook.for_farm(group.farm).limits.group_weeks)
    }


def fold(key: str, entries: Sequence[Entry], rulebook: RuleBook, on: int) -> History | None:
    """A bull's state, None where he is not (or no longer) on the board: not booked yet, or left."""
    if all(entry.kind != "bull" for entry in entries):
        return None
    rules = rulebook.for_farm(last_farm(entries))
    state = history(entries, rules, on, key)
    if state.gone:
        return None
    if state.out:
        state.owed = went_out_without(entries, rules, state.out.day, on)
    return state


def in_his_group(state: History, names: Mapping[tuple[str, str], str]) -> History:
    """The state, with his groups called as they are in the book; ``names``: ``names_of`` it."""
    farm = state.farm or ""

    def called(name: str | None) -> str | None:
        return name and names.get((farm, name_key(name)), name)

    outings = [each._replace(group=called(each.group)) for each in state.outings]
    if (called(state.group), outings) == (state.group, state.outings):
        return state
    state = copy(state)  # what is remembered of him is what was said of him
    state.group, state.outings = called(state.group), outings
    return state


def group_of(state: History, groups: Mapping[tuple[str, str], Group]) -> Group | None:
    """The group he is in: looked for on his own farm, and only while its season lasts."""
    return groups.get((state.farm or "", state.group)) if state.group is not None else None


def board_order(bull: Assessment) -> tuple[int, int, str]:
    """HOLD for a reason, HOLD for checks, GO; in each least slack first (none before), then tag."""
    rank = 2 if bull.status == "GO" else (0 if bull.hold == "reason" else 1)
    return rank, -(1 << 40) if bull.slack_days is None else bull.slack_days, tag_key(bull.bull)


class Tally:
    """How the bulls of each group stand, counted one after another."""

    def __init__(self) -> None:
        self._of: dict[tuple[str, str], Counter[str]] = {}

    def add(self, bull: Assessment) -> None:
        """Count a bull in his group."""
        if bull.group is None:
            return
        counted = self._of.setdefault((bull.farm or "", bull.group), Counter())
        counted["bulls"] += 1
        counted["go"] += bull.status == "GO"
        counted["forecast_ready"] += bull.in_time
        counted["hold_reason"] += bull.hold == "reason"
        counted["hold_checks"] += bull.hold == "checks"
        counted["overdue"] += bull.overdue

    def and_of(self, other: Tally) -> None:
        """With what another one counted."""
        for key, counted in other._of.items():
            self._of.setdefault(key, Counter()).update(counted)

    def lines(self, groups: Iterable[Group]) -> tuple[GroupLine, ...]:
        """A line a group, the first turnout first."""
        order = sorted(groups, key=lambda g: (g.turnout, g.farm or "", g.name))
        return tuple(map(self._line, order))

    def _line(self, group: Group) -> GroupLine:
        counted = self._of.get((group.farm or "", group.name), Counter())
        said = ("bulls", "go", "forecast_ready", "hold_reason", "hold_checks", "overdue")
        return GroupLine(
            group.farm, group.name, group.turnout, group.females, *(counted[key] for key in said)
        )
