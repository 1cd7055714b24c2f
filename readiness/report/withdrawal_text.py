"""Whose medicine's withdrawal runs, in a line: beside the board and the diary."""

from __future__ import annotations

from collections.abc import Iterable

from readiness.engine.care import Running
from readiness.report.look import wrapped
from readiness.report.rows import short_tags
from readiness.system.plain import plain

HEAD = "Not for slaughter: "


def withdrawal_words(found: Iterable[Running]) -> list[str]:
    """ "00388 Gorse, withdrawal until 20 Apr", for each."""
    running = list(found)
    names = short_tags(bull.bull for bull, _ in running)
    return [
        plain(f"{names[bull.bull]} {bull.name or ''}".strip() + f", {brief(said.text)}")
        for bull, said in running
    ]


def withdrawal_text(found: Iterable[Running], width: int) -> list[str]:
    """All of them in lines of at most ``width``; no line where none runs."""
    said = withdrawal_words(found)
    return wrapped(f"{HEAD}{'; '.join(said)}", width, "  ") if said else []


def brief(text: str) -> str:
    """ "withdrawal until 20 Apr": without the product, whose name may hold any mark."""
    return text.rsplit(": ", maxsplit=1)[-1].split(",", maxsplit=1)[0]
