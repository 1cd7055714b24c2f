"""Where in which rules file, and the one shape of what is said when something there is wrong."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from readiness.rules.shapes import shown
from readiness.system.errors import RulesError
from readiness.system.plain import plain


class Where(NamedTuple):
    """A table of a rules file, as its writer would name it."""

    file: str
    table: str

    def wrong(self, key: str, problem: str, remedy: str) -> RulesError:
        """One paragraph: file, table, key, what was wrong, what to do."""
        place = " ".join(part for part in (f"[{self.table}]" if self.table else "", key) if part)
        return RulesError(f"{self.file}: {place}: {problem}. {remedy}")

    def inside(self, table: str) -> Where:
        """A table within this one."""
        return Where(self.file, f"{self.table}.{table}" if self.table else table)

    def known(self, raw: Mapping[str, Any], keys: Iterable[str]) -> None:
        """Refuse a key that is none of ``keys``."""
        allowed = list(keys)
        for key in raw:
            if key not in allowed:
                raise self.wrong(key, "this key is not known", nearest(key, allowed))

    def as_table(self, raw: Any, key: str) -> Mapping[str, Any]:
        """``raw``, which has to be a table. Raises ``RulesError``."""
        if not isinstance(raw, dict):
            raise self.wrong(key, f"a table is wanted, not {shown(raw)}", f"Write [{key}].")
        return raw

    def text(self, raw: Any, key: str) -> str:
        """Some words, made plain: they will be shown."""
        words = plain(raw).strip() if isinstance(raw, str) else ""
        if not words:
            raise self.wrong(
                key, f"some words are wanted, not {shown(raw)}", "Write them in quotes."
            )
        return words


def nearest(word: str, words: Iterable[str]) -> str:
    """The remedy for a word that is not known."""
    import difflib  # only where something is wrong: the board must not wait for it

    allowed = list(words)
    folded = {name.casefold(): name for name in allowed}
    close = difflib.get_close_matches(word.casefold(), folded, n=1, cutoff=0.5)
    if close:
        return f"Did you mean {folded[close[0]]}?"
    return f"Known here: {', '.join(allowed)}."
