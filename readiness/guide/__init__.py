"""The guide: what a reader needs to know of the program, in topics, each a Markdown file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from readiness.system.errors import UsageError

TOPICS = (
    "start", "days", "board", "bull", "crush", "shorthand", "vet", "mend",
    "diary", "visits", "groups", "cover", "turnout", "paper", "figures", "roster",
    "entries", "export", "fleet", "speed", "merge", "rules", "settings", "trust", "reliability",
    "files", "commands", "glossary",
)  # fmt: skip
"""Their names, in the order in which they are offered."""

_FOLDER = Path(__file__).parent / "topics"


@dataclass(frozen=True, slots=True)
class Topic:
    """``text``: all of it as Markdown, its first line the ``title``."""

    name: str
    title: str
    text: str


def topic(name: str) -> Topic:
    """The topic of this name. Raises ``UsageError`` where there is none, which says what of the
    guide may be meant."""
    if name not in TOPICS:
        raise UsageError(
            f"The guide has no topic {name!r}.{_meant(name)} Its topics: {', '.join(TOPICS)}."
        )
    text = (_FOLDER / f"{name}.md").read_text(encoding="utf-8")
    return Topic(name, text.partition("\n")[0].removeprefix("# "), text)


def _meant(name: str) -> str:
    """The topic with nearly this name; else those that tell of the word."""
    if near := get_close_matches(name.lower(), TOPICS, n=1):
        return f" Did you mean {near[0]}?"
    word = re.compile(rf"\b{re.escape(name)}", re.IGNORECASE)
    telling = [each.name for each in contents() if name and word.search(each.text)]
    return f" It is told of in {', '.join(telling)}." if telling else ""


def contents() -> list[Topic]:
    """Every topic."""
    return [topic(name) for name in TOPICS]
