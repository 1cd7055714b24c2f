"""Small herds as a trimmer would tell of them, and the planning problem or the plan of each.

The day is Friday 3 April 2026; Sunday the 5th is no working day.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from readiness.herd.board import Herd, assess_herd, fold_book
from readiness.rules.load import load_rules
from readiness.rules.model import RuleBook
from readiness.visits.asked import Promise, Wishes, asked_of
from readiness.visits.plan import VisitPlan, plan_herd
from readiness.visits.problem import Job, Problem
from readiness.visits.windows import problem_of
from tests.build import RULES, Line, booked, day, entries_of, group, join, lift, said, walk

TODAY = "2026-04-03"
SECONDS = 60.0


def rules_of(folder: Path, text: str) -> RuleBook:
    """The rules with a farm's own file of this text over them."""
    path = folder / "own.toml"
    path.write_text(text, encoding="utf-8")
    return load_rules(path)


def bull(tag: str, *more: Line, farm: str | None = None, **profile: Any) -> list[Line]:
    """A bull and what is told of him."""
    where = {} if farm is None else {"farm": farm}
    return [booked(tag, "2025-06-01", **where, **profile), *more]


def grouped(
    tag: str, turnout: str, *more: Line, farm: str | None = None, **profile: Any
) -> list[Line]:
    """The same in a group of his own that is turned out on a day."""
    where = {} if farm is None else {"farm": farm}
    own = group(turnout, f"G {tag}", "2025-06-01", **where)
    joined = join(tag, f"G {tag}", "2025-06-02")
    return [own, *bull(tag, joined, farm=farm, **profile), *more]


def found(tag: str, on: str, code: str = "SU", **finding: Any) -> Line:
    """All four feet lifted, and a finding: unless said otherwise moderate, at LH outer."""
    spot = {"foot": "LH", "claw": "outer", "code": code, "severity": 2, **finding}
    return lift(on, tag=tag, findings=[spot])


def lame(tag: str, on: str, limb: str = "LF") -> Line:
    return walk(on, 2, tag=tag, limb=limb)


def block(tag: str, on: str, foot: str = "LH", claw: str = "inner") -> Line:
    return said("block-on", on, tag, foot=foot, claw=claw)


def herd_of(*lines: list[Line], rules: RuleBook = RULES, on: str = TODAY) -> Herd:
    return fold_book(entries_of([line for some in lines for line in some]), rules, day(on))


def problem_for(herd: Herd, wishes: Wishes | None = None) -> Problem:
    """The planning problem of every farm of a herd."""
    board = assess_herd(herd)
    farms = sorted({each.farm or "" for each in board.bulls})
    return problem_of(
        board, herd.rulebook, asked_of(wishes or Wishes(), farms, herd.rulebook, herd.on)
    )


def jobs_of(herd: Herd, wishes: Wishes | None = None) -> dict[str, Job]:
    """The jobs of a herd of one bull, by check's id."""
    return {job.id: job for job in problem_for(herd, wishes).jobs}


def plan_of(herd: Herd, wishes: Wishes | None = None, farm: str | None = None) -> VisitPlan:
    return plan_herd(herd, wishes or Wishes(), SECONDS, farm=farm)


def keep(on: str, farm: str | None = None) -> Promise:
    return Promise(date.fromisoformat(on), farm)


def iso(ordinal: int) -> str:
    return date.fromordinal(ordinal).isoformat()


def visited(plan: VisitPlan) -> list[tuple[str, str, list[tuple[str, list[str]]]]]:
    """(farm, day, [(bull, ids of his checks)]) of each visit."""
    return [
        (
            visit.farm,
            iso(visit.on),
            [(stop.bull.bull, [check.id for check in stop.checks]) for stop in visit.stops],
        )
        for visit in plan.visits
    ]
