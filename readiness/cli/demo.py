"""``demo``: the demo book, built in a new place and shown."""

from __future__ import annotations

import os
import tempfile
from argparse import ArgumentParser, Namespace
from dataclasses import replace
from pathlib import Path

from readiness.cli.context import Context, rules_beside
from readiness.cli.output import Output
from readiness.cli.screen import can_show_screen, open_screen
from readiness.system.errors import CannotWrite


def arguments(parser: ArgumentParser) -> None:
    """The demo has no options of its own; ``--book`` names a new place for it."""


def run(options: Namespace, context: Context, output: Output) -> int:
    from readiness.desk.demo import build_demo

    book = _place(getattr(options, "book", None))
    build_demo(book, context.desk().on)
    place = replace(context, book=book, rules=_rules(getattr(options, "rules", None), book))
    desk = place.desk()
    output.say(f"The demo book is {place.book}")
    if can_show_screen():
        return open_screen(place)
    from readiness.report.board_text import board_text

    output.say(board_text(desk.board(), desk.rules(), output.look))
    return 0


def _place(named: Path | None) -> Path:
    """Where to build: the place named on this command line, if new, else one of its own."""
    if named is None:
        return Path(tempfile.mkdtemp(prefix="readiness-demo-")) / "demo.duckdb"
    if os.path.lexists(named):
        raise CannotWrite(f"{named} is there already; name a new place for the demo book.")
    return named


def _rules(named: Path | None, book: Path) -> Path | None:
    """The rules named on this command line, else the demo's own."""
    return named or rules_beside(book)
