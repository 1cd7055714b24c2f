"""``demo``: the demo book, built in a new place and shown."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import json_option
from readiness.cli.context import Context, demo_of
from readiness.cli.output import Output
from readiness.cli.screen import can_show_screen, open_screen


def arguments(parser: ArgumentParser) -> None:
    """Of its own it has none but ``--json``; ``--book`` names a new place for it."""
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> int:
    place = demo_of(context, getattr(options, "book", None), getattr(options, "rules", None))
    if options.json:
        output.json({"book": str(place.book), "rules": place.rules and str(place.rules)})
        return 0
    output.say(f"The demo book is {place.book}")
    if can_show_screen():
        return open_screen(place)
    from readiness.report.board_text import board_text

    desk = place.desk()
    board, carried = desk.board_and_cover()
    output.say(board_text(board, desk.rules(), output.look, carried))
    return 0
