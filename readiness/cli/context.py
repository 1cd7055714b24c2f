"""Where a command works: book, rules, day and person, from options, environment and defaults."""

from __future__ import annotations

import os
from argparse import Namespace
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.cli.arguments import at_home
from readiness.entries.entry import is_person
from readiness.settings.settings import NONE_SET, Settings
from readiness.system.locations import default_settings, rules_beside, usual_book

if TYPE_CHECKING:
    from readiness.desk.desk import Desk


@dataclass(frozen=True)
class Context:
    """``rules``: None for the program's own alone. ``on``: None for today."""

    book: Path
    rules: Path | None
    on: date | None
    by: str | None
    readonly: bool

    @property
    def who(self) -> str:
        """Who says so: as given, else as set, else the account, "" where that is no person's."""
        return self.by or self.settings.who or _user_name()

    @cached_property
    def settings(self) -> Settings:
        """What its person has set. Raises ``RulesError`` where that is wrong, ``NotFound`` where
        the environment names a file that is not there."""
        path = settings_file()
        if path == default_settings() and not os.path.lexists(path):
            return NONE_SET
        from readiness.settings.read import read_settings

        return read_settings(path)

    def desk(self) -> Desk:
        """The desk over this book; the database is imported now."""
        from readiness.book import Book
        from readiness.desk.desk import Desk
        from readiness.system.clock import SystemClock

        clock = SystemClock()
        return Desk(
            Book(self.book, clock),
            self.rules,
            clock,
            on=self.on,
            who=self.who,
            readonly=self.readonly,
            settings=self.settings,
        )


def context_of(options: Namespace) -> Context:
    """The context that options and environment give."""
    book = getattr(options, "book", None) or usual_book()
    return Context(
        book=book,
        rules=named(options, "rules") or rules_beside(book),
        on=getattr(options, "on", None),
        by=getattr(options, "by", None),
        readonly=getattr(options, "readonly", False),
    )


def settings_file() -> Path:
    """Where the settings stand, or would."""
    named = os.environ.get("READINESS_SETTINGS")
    return at_home(named) if named else default_settings()


def named(options: Namespace, name: str) -> Path | None:
    """The path that an option, else the environment, names."""
    given: Path | None = getattr(options, name, None)
    text = os.environ.get(f"READINESS_{name.upper()}")
    return given or (at_home(text) if text else None)


def demo_of(context: Context, book: Path, rules: Path | None = None) -> Context:
    """The demo, built at ``book`` with its own rules beside it, unless others are named. Raises
    ``CannotWrite`` where something is there already."""
    from readiness.desk.demo import build_demo

    build_demo(book, context.desk().on)
    return replace(context, book=book, rules=rules or rules_beside(book), readonly=False)


def _user_name() -> str:
    for name in ("LOGNAME", "USER", "USERNAME"):  # as getpass does, without its import
        if found := os.environ.get(name):
            return found if is_person(found) else ""
    import getpass

    try:
        found = getpass.getuser()
    except (KeyError, OSError):  # an account without a name
        return ""
    return found if is_person(found) else ""
