"""``undo``: take back what was last written on this device."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.saved import entry_words


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    desk = context.desk()
    struck = desk.undo()
    if options.json:
        output.json({"struck": list(struck)})
        return 0
    for entry in desk.entries(struck):
        output.say(f"taken back {entry_words(entry)}")
    return 0
