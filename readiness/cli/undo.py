"""``undo``: take back what was last written or taken in on this device."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence

from readiness.cli.arguments import json_option
from readiness.cli.context import Context
from readiness.cli.output import Output, entry_words
from readiness.entries.entry import Entry
from readiness.entries.ids import again_id
from readiness.system.plain import plain

_NAMED = 8
"""Bulls; more are counted."""


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.desk.writing import though_taken_back

    desk = context.desk()
    taken = desk.undo()
    output.warn(desk.book.remarks)
    with though_taken_back():
        here = {entry.id for entry in desk.entries([entry.id for entry in taken])}
        again = desk.entries([again_id(entry.id) for entry in taken if entry.kind == "strike"])
    struck = [entry for entry in taken if entry.kind != "strike" and entry.id in here]
    out = [entry for entry in taken if entry.id not in here]
    if options.json:
        told = {"struck": struck, "again": again, "put_out": out}
        output.json({key: [entry.id for entry in entries] for key, entries in told.items()})
        return
    for entry in struck:
        output.say(f"taken back {entry_words(entry)}")
    for entry in again:
        output.say(f"said again, for it was taken back last: {entry_words(entry)}")
    if out:
        _say_out(out, output)


def _say_out(out: Sequence[Entry], output: Output) -> None:
    """What had come in out of another copy, which may be very much: how much, of which bulls."""
    from readiness.trade.words import list_words, plural

    tags = sorted({plain(entry.body["bull"]) for entry in out if entry.bull})
    more = [f"{len(tags) - _NAMED} more"] if len(tags) > _NAMED else []
    whose = f", of {list_words([*tags[:_NAMED], *more])}" if tags else ""
    output.say(
        f"put out again, as it was before: {plural(len(out), 'entry', 'entries')} that came in out "
        f"of another copy{whose}. Nothing of it was taken back there; to take it in once more, "
        "merge or import it again."
    )
