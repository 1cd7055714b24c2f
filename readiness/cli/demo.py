"""``demo``: the demo book, built in a new place and shown."""

from __future__ import annotations

import tempfile
from argparse import ArgumentParser, Namespace
from pathlib import Path

from readiness.cli.arguments import json_option
from readiness.cli.context import Context, demo_of
from readiness.cli.output import Output
from readiness.cli.screen import can_show_screen, open_screen
from readiness.system.locations import DEMO
from readiness.system.throwaway import throw_away

KEPT = "readiness-demo-kept-"


def arguments(parser: ArgumentParser) -> None:
    """Of its own it has none but ``--json``; ``--book`` names a new place for it."""
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> int:
    named: Path | None = getattr(options, "book", None)
    rules: Path | None = getattr(options, "rules", None)
    if options.json:  # asked for by whoever goes on to read it, so it stays
        place = demo_of(context, named or Path(tempfile.mkdtemp(prefix=KEPT)) / DEMO, rules)
        output.json({"book": str(place.book), "rules": place.rules and str(place.rules)})
        return 0
    if named:
        return _show(demo_of(context, named, rules), output, "")
    with throw_away() as folder:
        ends = ", until this ends; `readiness demo --book FILE` keeps one"
        return _show(demo_of(context, folder() / DEMO, rules), output, ends)


def _show(place: Context, output: Output, ends: str) -> int:
    output.say(f"The demo book is {place.book}{ends}")
    if can_show_screen():
        return open_screen(place)
    from readiness.report.board_text import board_text

    desk = place.desk()
    board, carried = desk.board_and_cover()
    output.say(board_text(board, desk.rules(), output.look, carried))
    return 0
