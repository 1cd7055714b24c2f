"""What there is to do after a key, a reading or a saving, and what came of that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import Any, NamedTuple

from readiness.crush.pad import Pad
from readiness.crush.race import Race
from readiness.crush.slip import Slip
from readiness.herd.card import Card
from readiness.herd.done import Done


@dataclass(frozen=True, slots=True)
class Fetch:
    """Read the card of this bull; None: nobody comes, and keys that wait mean nothing. ``given``:
    what was half said of another bull and is his."""

    key: str | None
    given: Slip | None = None


@dataclass(frozen=True, slots=True)
class Save:
    """Write what is said of the bull of this card (``line``: as shorthand); read the card of the
    one who follows."""

    card: Card
    slip: Slip
    line: str
    following: str | None


@dataclass(frozen=True, slots=True)
class Undo:
    """Take back this device's last batch: at once where it is the entries of these ``ids``; any
    other is shown first, and asked about."""

    ids: frozenset[str]


@dataclass(frozen=True, slots=True)
class Give:
    """Withdraw what was saved in this batch, and say it of the bull of this key: in one go."""

    batch: Batch
    key: str


@dataclass(frozen=True, slots=True)
class Instead:
    """Withdraw the entries of these ids, of the bull of this key, and say ``contents`` instead."""

    key: str
    ids: tuple[str, ...]
    contents: tuple[Mapping[str, Any], ...]


@dataclass(frozen=True, slots=True)
class Write:
    """Write this entry at once."""

    content: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class KeepDraft:
    """Keep what is half said of a bull on this day; an empty line: nothing is any more."""

    key: str
    line: str
    on: date


@dataclass(frozen=True, slots=True)
class KeepRace:
    """Keep the order of the day's bulls."""

    race: Race


@dataclass(frozen=True, slots=True)
class OpenForm:
    """Open the form of this name; "" asks which."""

    name: str


@dataclass(frozen=True, slots=True)
class AskFarm:
    """Ask at which of these farms one is. ``kept``: the race as it was left today, lined up once
    that is answered."""

    farms: tuple[str, ...]
    kept: Race


@dataclass(frozen=True, slots=True)
class Type:
    """Put this text into the line that is typed into."""

    text: str


@dataclass(frozen=True, slots=True)
class Press:
    """Press this key once whoever comes stands in the crush."""

    key: str


class Go(Enum):
    """What needs no more words."""

    TEAMS = "ask which group or farm is let in"
    GIVE = "ask what was not of its bull: what is half said, or what was saved last"
    MEND = "show his feet as they are drawn, to mend what was said of them"
    LIST = "show who is done, who waits and who is left over"
    READ = "read the book again"
    CODES = "show what each code means"
    LEAVE = "back to the board"
    QUIT = "end the program"


Effect = (
    Fetch | Save | Undo | Give | Instead | Write | KeepDraft | KeepRace | OpenForm | AskFarm | Type
    | Press | Go
)  # fmt: skip
"""What a step may ask the screen to do; ``Session.todo`` lists it in order."""


# ---- what came of it ---------------------------------------------------------------------------


class Unsaved(NamedTuple):
    """What is half said of a bull: a line of shorthand, and the day of what it says."""

    line: str
    on: date


@dataclass(frozen=True, slots=True)
class Batch:
    """What was saved in one go of the bull of this key. ``ids``: of all its entries; ``said``: of
    those that say what stood on the ``pad``. ``next``: who came then; ``of``: the ``said`` of the
    batch whose words these were, before they were given to him."""

    key: str
    pad: Pad
    ids: frozenset[str]
    said: frozenset[str]
    next: str | None = None
    of: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Saved:
    """The last thing written, or taken back: whose (``title``), what it says, what it means, what
    is odd about it."""

    title: str
    said: tuple[str, ...] = ()
    means: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Back:
    """What was taken back: how it is told, and, where it is all of one bull and can be written as
    shorthand, whose it is and the slip that says it again. ``again``: the ids of the entries that
    stand again, since what withdrew them was taken back. ``done``: what was done on him today all
    the same."""

    saved: Saved
    key: str = ""
    slip: Slip | None = None
    again: frozenset[str] = frozenset()
    done: Done | None = None
