"""``salvage``: what can be read of a damaged book, into a new one, and what is lost."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING, Any

from readiness.cli.arguments import argument, json_option, path_argument
from readiness.cli.bar import Bar
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.system.errors import DataError
from readiness.system.plain import plain
from readiness.trade.words import plural

if TYPE_CHECKING:
    from readiness.book.salvage.salvage import Came, Lost, Salvaged


def arguments(parser: ArgumentParser) -> None:
    text = "the damaged book, or where it was; --book says where the new one goes"
    argument(parser, "file", "FILE", text, type=path_argument)
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.book.salvage.salvage import salvage
    from readiness.system.clock import SystemClock

    file, book = options.file.absolute(), context.book.absolute()
    with Bar("salvage") as bar:
        found = salvage(file, book, SystemClock().now(), bar.tell)
    if options.json:
        output.json(_as_json(found))
    else:
        for line in _words(found):
            output.say(plain(line))
    for remark in found.remarks:
        output.note(plain(remark))
    if not found.all_there:
        raise DataError(
            f"The new book {book} is whole, but not all that was in {file} is in it: "
            f"{', '.join(_lacks(found))}. Keep the damaged files as they are, and say again what "
            "you know of what is lost."
        )


def _words(found: Salvaged) -> Iterator[str]:
    entries, receipts = plural(found.entries, "entry", "entries"), plural(found.receipts, "receipt")
    yield f"made {found.book}: {entries}, {receipts}"
    for came in found.came:
        state = "" if came.whole else "; not all of it could be read"
        yield f"from {_called(came)}: {came.entries}{state}"
    for line in found.damaged_lines:
        where = f"line {line.number} of" if line.number else "all of"
        yield f"damaged: {where} the journal's file {line.file.name}"
    for id_ in found.clashing:
        yield f"two entries had the id {id_}; the one in the journal was taken, if any is there"
    for id_ in found.given:
        yield f"without its receipt: entry {id_}; who wrote it down, and when, is lost"
    for lost in found.lost:
        yield f"lost: {_lost_words(lost)}"
    if found.more:
        yield f"lost besides, and nothing is known of it: {plural(found.more, 'entry', 'entries')}"
    if found.all_there:
        yield "nothing is lost"


def _called(came: Came) -> str:
    return f"the {came.what} {came.file.name}"


def _lost_words(lost: Lost) -> str:
    what = " ".join(filter(None, (lost.kind, lost.bull))) or "an entry"
    parts = [f"{what} of {lost.day}" if lost.day else what]
    if lost.said and not lost.day:
        parts.append(f"said on {lost.said}")
    if lost.recorded:
        moment = datetime.fromisoformat(lost.recorded).astimezone()
        by = f" by {lost.who}" if lost.who else ""
        parts.append(f"written down {moment:%Y-%m-%d %H:%M}{by}, batch {lost.batch}")
    return ", ".join(parts) + (f" ({lost.id})" if lost.id else "")


def _lacks(found: Salvaged) -> Iterator[str]:
    """What is not as it was, in short."""
    if lost := len(found.lost) + found.more:
        yield f"{plural(lost, 'entry is', 'entries are')} lost"
    if found.given:
        yield f"{plural(len(found.given), 'receipt is', 'receipts are')} lost"
    if found.clashing:
        yield f"{plural(len(found.clashing), 'id', 'ids')} stood for two entries each"
    if not found.sure:
        yield "whether other entries are lost cannot be told"


def _as_json(found: Salvaged) -> dict[str, Any]:
    return {
        "book": str(found.book),
        "entries": found.entries,
        "receipts": found.receipts,
        "all_there": found.all_there,
        "sure": found.sure,
        "came": [{**came._asdict(), "file": str(came.file)} for came in found.came],
        "lost": [
            {name: value or None for name, value in lost._asdict().items()} for lost in found.lost
        ],
        "lost_unknown": found.more,
        "without_receipt": found.given,
        "clashing": found.clashing,
        "damaged_lines": [
            {"file": str(line.file), "line": line.number} for line in found.damaged_lines
        ],
        "remarks": found.remarks,
    }
