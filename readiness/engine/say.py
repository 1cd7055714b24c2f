"""The phrases of the assessment: plain trade words, never a diagnosis."""

from __future__ import annotations

from datetime import date

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SEVERITY = {1: "slight", 2: "moderate", 3: "severe"}


def day(ordinal: int, on: int) -> str:
    """A day as people say it, "3 Apr", with the year where it is not that of ``on``."""
    when = date.fromordinal(ordinal)
    words = f"{when.day} {MONTHS[when.month - 1]}"
    return words if when.year == date.fromordinal(on).year else f"{words} {when.year}"


def place(foot: str | None, claw: str | None) -> str:
    """Where: "LF outer", "LF" for the skin of the whole foot."""
    return " ".join(part for part in (foot, None if claw == "skin" else claw) if part)


def listed(feet: tuple[str, ...]) -> str:
    """ "LF and RF", "all four feet"."""
    if len(feet) == 4:
        return "all four feet"
    return " and ".join([", ".join(feet[:-1]), feet[-1]]) if len(feet) > 1 else "".join(feet)


def grade(severity: int, stage: str | None, staged: bool) -> str:
    """How bad: the stage where the finding has stages, else the severity in a word."""
    if staged:
        return f"stage {stage}" if stage else "stage unknown"
    return SEVERITY[severity]


def number(value: float) -> str:
    """3.0 as "3.0", 1020 as "1,020", without needless digits."""
    return f"{value:,.0f}" if value >= 100 else f"{value:g}"
