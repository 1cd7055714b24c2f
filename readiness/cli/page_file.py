"""``--html FILE``: a page into a file of its own, or to stdout."""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace, _ActionsContainer
from collections.abc import Iterable, Iterator
from pathlib import Path

from readiness.cli.output import Output
from readiness.cli.paths import path_argument
from readiness.cli.whole_file import bytes_there, cannot_write, replace_file
from readiness.errors import DataError, UsageError

STDOUT = Path("-")
_HEAD_BYTES = 1000  # our mark stands in the first few hundred


def page_argument(parser: ArgumentParser, form: _ActionsContainer | None = None) -> None:
    """Teach a command ``--html FILE`` (among the forms of which one may be asked for) and
    ``--large-print``."""
    (form or parser).add_argument(
        "--html",
        metavar="FILE",
        type=path_argument,
        help="as a page to read on a phone or print; - for stdout",
    )
    parser.add_argument(
        "--large-print", action="store_true", help="with --html: letters of 16 points"
    )


def large_print(options: Namespace) -> bool:
    """Whether the page is asked for in large print. Raises UsageError where no page is."""
    if options.large_print and options.html is None:
        raise UsageError("--large-print is of the page: give --html FILE with it.")
    return bool(options.large_print)


def write_page(path: Path, pieces: Iterable[str], output: Output, what: str) -> None:
    """Write the pieces of a page into ``path``, and say so with ``what`` stands in it.

    A page of ours that is there is replaced. Raises DataError for any other file that holds
    something, CannotWrite for one that cannot be written; then what was there is whole.
    """
    if path == STDOUT:
        for piece in pieces:
            output.raw(piece)
        return
    target = Path(os.path.realpath(path))  # a link stays a link
    before = bytes_there(path, target, "page", _HEAD_BYTES)
    if before and not _ours(before):
        raise DataError(
            f"{path} holds something that is no page of readiness. Nothing was written, so that "
            "nothing is lost: name another file, or move this one away."
        )
    try:
        replace_file(target, _encoded(pieces), kept=before is not None)
    except OSError as problem:
        raise cannot_write(path, problem) from problem
    output.say(f"{path}: {what}. Open it in a browser to read or print it.")


def _ours(head: bytes) -> bool:
    from readiness.report.page import GENERATOR

    return GENERATOR.encode() in head


def _encoded(pieces: Iterable[str]) -> Iterator[bytes]:
    for piece in pieces:
        yield piece.encode("utf-8")
