"""``undo``: take back what was last written on this device."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    struck = context.desk().undo()
    if options.json:
        output.json({"struck": list(struck)})
        return 0
    for entry in struck:
        output.say(f"taken back {entry}")
    return 0
