"""What is being typed into the line under the feet."""

from __future__ import annotations

from dataclasses import dataclass

from readiness.crush.effects import Batch
from readiness.crush.pad import Pad

LINE, NOTE, PICK, GIVE = "line", "note", "pick", "give"
"""Shorthand, a note, which bull comes, to which bull what is said is given."""
OF_A_BULL = (PICK, GIVE)
"""Where a bull is asked for."""


@dataclass(frozen=True, slots=True)
class Typing:
    """What is typed: ``what`` is LINE, NOTE, PICK or GIVE; ``asks`` and ``below`` stand under
    the line. ``began``: the pad before a line, ``opened``: what stood in it then; ``why`` that line
    cannot be read. ``found``: the bulls that a text may mean; ``chosen``: the place of the one the
    arrows are on. ``gives``: what was saved and is given to another bull; None: what is half said.
    """

    what: str
    asks: str = ""
    below: str = ""
    began: Pad | None = None
    opened: str = ""
    why: str = ""
    found: tuple[str, ...] = ()
    chosen: int | None = None
    gives: Batch | None = None
