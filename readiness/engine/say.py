"""The phrases of the assessment: the trade's words, for days counted as ordinals."""

from __future__ import annotations

from readiness.history.finding import Finding
from readiness.trade.codes import CODES, severity_words
from readiness.trade.feet import feet_words as listed
from readiness.trade.words import AnyDay
from readiness.trade.words import day_words as day
from readiness.trade.words import number_words as number

__all__ = ["UNSAID_HOLDS", "day", "early", "found", "grade", "listed", "number", "place"]

UNSAID_HOLDS = f"{severity_words(None)}: it holds him"
"""Of a finding whose severity decides and was not said."""


def place(foot: str | None, claw: str | None) -> str:
    """Where: "LF outer", "LF" for the skin of the whole foot."""
    return " ".join(part for part in (foot, None if claw == "skin" else claw) if part)


def found(code: str, foot: str | None, claw: str | None) -> str:
    """Which finding: "sole ulcer, RH outer"."""
    return f"{CODES[code].name}, {place(foot, claw)}"


def grade(severity: int | None, stage: str | None, staged: bool) -> str:
    """How bad: the stage where the finding has stages, else the severity in a word."""
    if staged:
        return f"stage {stage}" if stage else "stage unknown"
    return severity_words(severity)


def early(finding: Finding, staged: bool, on: AnyDay) -> str:
    """What the last look said of a finding that holds, where that does not count yet: "said healed
    on 2 Mar, too early to count"; else empty."""
    last = finding.early
    if last is None:
        return ""
    how = "healed" if last.healed else grade(last.severity, last.stage, staged)
    return f"said {how} on {day(last.day, on)}, too early to count"
