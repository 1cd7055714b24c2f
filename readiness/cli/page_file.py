"""``--html FILE`` and ``--pdf FILE``: a page into a file of its own, or to stdout."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace, _ActionsContainer
from collections.abc import Iterable
from pathlib import Path

from readiness.cli.output import Output
from readiness.cli.paths import STDOUT, path_argument
from readiness.system.errors import UsageError


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

    Raises what ``readiness.report.paper.write_page`` raises.
    """
    if options.html == STDOUT:
        for piece in pieces:
            output.raw(piece)
        return
    path: Path = options.html or options.pdf
    if options.html and path.suffix.lower() == ".pdf":
        raise UsageError(f"{path} would hold a page for browsers: give --pdf for a PDF.")
    from readiness.report import paper

    paper.write_page(path, pieces, pdf=options.html is None)
    how = "Open it in a browser to read or print it." if options.html else "Print it on A4."
    output.say(f"{path}: {what}. {how}")
