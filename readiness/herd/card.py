"""One bull on one day, and all that is known of him: screens and reports are made from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from readiness.engine.results import Assessment
from readiness.entries.entry import Entry
from readiness.history import History
from readiness.history.groups import Group, Key
from readiness.rules.model import Rules


@dataclass(frozen=True, slots=True)
class Card:
    """``entries``: all of his that count, newest first, those dated after the day included.
    ``groups``: every group whose season has not ended, by farm and name."""

    assessment: Assessment
    state: History
    entries: tuple[Entry, ...]
    rules: Rules
    groups: Mapping[Key, Group] = field(default_factory=dict)
