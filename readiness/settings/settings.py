"""What a person's own settings say."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from readiness.rules.load import Mine
    from readiness.rules.model import RuleBook

DARK, LIGHT = THEMES = ("dark", "light")
EVERY = "every"
FUNCTION_KEYS = tuple(f"f{number}" for number in range(1, 13))
FREE = f"{FUNCTION_KEYS[1]} to {FUNCTION_KEYS[-1]}"
"""The function keys that a key may move to: the first is help everywhere."""

KeyTables = Mapping[str, Mapping[str, str]]
"""Screen, or ``EVERY`` → key → the one that does it instead."""


@dataclass(frozen=True, slots=True)
class Settings:
    """``file``: where they stand, None where nothing is set. Empty: not said."""

    file: Path | None = None
    who: str = ""
    farm: str = ""
    theme: str = DARK
    scales: Mapping[str, str] = field(default_factory=dict)
    visits: Mapping[str, Any] = field(default_factory=dict)
    keys: KeyTables = field(default_factory=dict)

    @property
    def mine(self) -> Mine | None:
        """What goes before the default rules; None for nothing."""
        if self.file is None or not (self.scales or self.visits):
            return None
        from readiness.rules.load import Mine

        source = f"your own settings, {self.file.name}"
        values = {
            f"visits.{name}": {"value": value, "source": source}
            for name, value in self.visits.items()
        }
        return Mine(self.file.name, values, self.scales)

    def refuse_unknown_places(self, rules: RuleBook, path: Path | None) -> None:
        """Raise ``RulesError`` where nobody knows the public holidays of a place that is named here
        or in the rules, which were read from ``path``."""
        from readiness.rules.public_holidays import check_place, check_places
        from readiness.rules.where import Where

        if "holidays" in self.visits:
            check_place(self.visits["holidays"], Where(str(self.file), "visits"), "holidays")
        check_places(rules, path.name if path else "")


NONE_SET = Settings()
