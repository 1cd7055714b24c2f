"""``verify``: read all of the book and check it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence

from readiness.cli.arguments import json_option
from readiness.cli.bar import Bar
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.system.errors import DataError
from readiness.trade.words import plural

SHOWN_MOST = 8


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    book = context.desk().book
    with Bar("verify") as bar:
        report = book.verify(bar.tell)
    if options.json:
        output.json(report._asdict())
    elif report.ok:
        entries, receipts = report.counts["entry"], report.counts["receipt"]
        counted = f"{plural(entries, 'entry', 'entries')}, {plural(receipts, 'receipt')}"
        output.say(f"{book.path} is whole: {counted}")
    for remark in report.remarks:
        output.note(remark)
    if not report.ok:
        raise DataError(
            f"{book.path} is not whole: {_together(report.problems)} `readiness --book NEW salvage "
            f"{book.path}` makes a new book of what is whole in it, its journal and its backups."
        )


def _together(problems: Sequence[str]) -> str:
    """The first few problems, each a sentence, and how many more there are."""
    more = len(problems) - SHOWN_MOST
    return " ".join(problems[:SHOWN_MOST]) + (f" And {more} more." if more > 0 else "")
