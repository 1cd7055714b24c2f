"""``undo``: take back what was last written on this device."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import json_option
from readiness.cli.context import Context
from readiness.cli.output import Output, entry_words
from readiness.entries.ids import again_id


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    desk = context.desk()
    taken = desk.entries(desk.undo())
    output.warn(filter(None, [desk.book.not_backed_up]))
    struck = [entry for entry in taken if entry.kind != "strike"]
    again = desk.entries([again_id(entry.id) for entry in taken if entry.kind == "strike"])
    if options.json:
        ids = {"struck": [entry.id for entry in struck], "again": [entry.id for entry in again]}
        output.json(ids)
        return
    for entry in struck:
        output.say(f"taken back {entry_words(entry)}")
    for entry in again:
        output.say(f"said again, for it was taken back last: {entry_words(entry)}")
