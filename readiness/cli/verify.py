"""``verify``: read all of the book and check it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.errors import DataError
from readiness.plain import plain


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    book = context.desk().book
    report = book.verify()
    if options.json:
        output.json(report._asdict())
    elif report.ok:
        counted = ", ".join(f"{count} {table}" for table, count in report.counts.items())
        output.say(f"{book.path} is whole: {counted}")
    for remark in report.remarks:
        output.note(plain(remark))
    if not report.ok:
        raise DataError(
            f"{book.path} is not whole: {'; '.join(report.problems)} Restore a backup to a new "
            "place with `readiness --book NEW restore BACKUP`."
        )
    return 0
