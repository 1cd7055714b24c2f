"""One bull on one day, and all that is known of him: screens and reports are made from it."""

from __future__ import annotations

from dataclasses import dataclass

from readiness.engine.results import Assessment
from readiness.entry import Entry
from readiness.history import History
from readiness.rules.model import Rules


@dataclass(frozen=True, slots=True)
class Card:
    """``entries``: all of his that count, newest first, those dated after the day included."""

    assessment: Assessment
    state: History
    entries: tuple[Entry, ...]
    rules: Rules
