"""The day of turnout as text: who goes, who stays and why, who could follow and when."""

from __future__ import annotations

from collections.abc import Sequence

from readiness.cover.turnout import TurnoutDay
from readiness.engine.results import Assessment
from readiness.report import turnout_words as words
from readiness.report.look import Look, hanging, wrapped
from readiness.system.plain import plain
from readiness.trade.cautions import FORECAST, HANDLING, LOOSE


def turnout_text(day: TurnoutDay, look: Look) -> str:
    """The whole, ``look.width`` columns wide at most."""
    lines = [look.paint("head", line) for line in wrapped(plain(words.title(day)), look.width - 2)]
    lines += wrapped(plain(words.enough(day)), look.width - 2)
    lines += wrapped(words.WALK_AGAIN, look.width - 2) if day.goes else [words.nobody(day)]
    for heading, told in words.parts(day):
        lines += _part(heading, told, look)
    notes = (FORECAST, f"{HANDLING} {LOOSE}")
    return "\n".join([*lines, "", *(line for n in notes for line in wrapped(n, look.width - 2))])


def _part(heading: str, told: Sequence[tuple[Assessment, str]], look: Look) -> list[str]:
    if not told:
        return []
    lines = ["", look.paint("head", f"{heading} ({len(told)})")]
    for bull, said in told:
        sign = look.sign(words.state(bull))
        lines += hanging(plain(f"{sign} {words.name(bull)}: {said}"), look.width)
    return lines
