"""``--html FILE`` and ``--pdf FILE``: a page into a file of its own, or to stdout."""

from __future__ import annotations

import os
from argparse import ArgumentParser, Namespace, _ActionsContainer
from collections.abc import Iterable, Iterator
from pathlib import Path

from readiness.cli.output import Output
from readiness.cli.paths import STDOUT, path_argument
from readiness.cli.whole_file import bytes_there, cannot_write, replace_file
from readiness.errors import DataError, UsageError


def page_arguments(parser: ArgumentParser, form: _ActionsContainer) -> None:
    """Teach a command ``--html`` and ``--pdf`` (among the forms of which one may be asked for) and
    ``--large-print``."""
    form.add_argument(
        "--html",
        metavar="FILE",
        type=path_argument,
        help="as a page to read on a phone or print; - for stdout",
    )
    form.add_argument(
        "--pdf", metavar="FILE", type=path_argument, help="the same page for A4, as a PDF"
    )
    parser.add_argument(
        "--large-print", action="store_true", help="with --html or --pdf: letters of 16 points"
    )


def page_asked(options: Namespace) -> bool:
    """Whether a page is asked for. Raises UsageError where it is only said how to print one."""
    asked = options.html is not None or options.pdf is not None
    if options.large_print and not asked:
        raise UsageError("--large-print is of the page: give --html or --pdf with it.")
    return asked


def write_page(options: Namespace, pieces: Iterable[str], output: Output, what: str) -> None:
    """Write the pieces of a page where the options say, and say so with ``what`` stands in it.

    A page of ours that is there is replaced. Raises DataError for any other file that holds
    something, CannotWrite for one that cannot be written; then what was there is whole.
    """
    if options.html == STDOUT:
        for piece in pieces:
            output.raw(piece)
        return
    path = options.html or options.pdf
    if options.html and path.suffix.lower() == ".pdf":
        raise UsageError(f"{path} would hold a page for browsers: give --pdf for a PDF.")
    target = Path(os.path.realpath(path))  # a link stays a link
    before = bytes_there(path, target, "page")
    if before and not _ours(before):
        raise DataError(
            f"{path} holds something that is no page of readiness. Nothing was written, so that "
            "nothing is lost: name another file, or move this one away."
        )
    data = _encoded(pieces) if options.html else _as_pdf(pieces)
    try:
        replace_file(target, data, kept=before is not None)
    except OSError as problem:
        raise cannot_write(path, problem) from problem
    how = "Open it in a browser to read or print it." if options.html else "Print it on A4."
    output.say(f"{path}: {what}. {how}")


def _ours(data: bytes) -> bool:
    from readiness.report.page import GENERATOR
    from readiness.report.pdf import CREATOR

    return (CREATOR if data.startswith(b"%PDF-") else GENERATOR.encode()) in data


def _encoded(pieces: Iterable[str]) -> Iterator[bytes]:
    for piece in pieces:
        yield piece.encode("utf-8")


def _as_pdf(pieces: Iterable[str]) -> bytes:
    from readiness.report.pdf import as_pdf

    return as_pdf("".join(pieces))
