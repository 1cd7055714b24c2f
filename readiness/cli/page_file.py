"""``--html FILE`` and ``--pdf FILE``: a page into a file of its own, or to stdout."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace, _ActionsContainer
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from readiness.cli.arguments import STDOUT, argument, flag, json_option, path_argument
from readiness.cli.output import Output
from readiness.system.errors import UsageError


def form_options(parser: ArgumentParser, *, csv: bool = False) -> None:
    """Teach a command the forms in which it may answer, of which one may be asked for."""
    form = parser.add_mutually_exclusive_group()
    json_option(form)
    if csv:
        flag(form, "--csv", "for spreadsheets (RFC 4180)")
    page_options(parser, form)


def page_options(parser: ArgumentParser, form: _ActionsContainer) -> None:
    """Teach a command ``--html`` and ``--pdf`` (among the forms of which one may be asked for) and
    ``--large-print``."""
    text = "as a page to read on a phone or print; - for stdout"
    argument(form, "--html", "FILE", text, type=path_argument)
    argument(form, "--pdf", "FILE", "the same page for A4, as a PDF", type=path_argument)
    flag(parser, "--large-print", "with --html or --pdf: letters of 16 points")


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


def known_words(known: str | None) -> str:
    """The moment as it is read here: "Fri 3 Apr 2026, 18:00"; empty where none was given."""
    if known is None:
        return ""
    from readiness.trade.words import full_day_words

    moment = datetime.fromisoformat(known).astimezone()
    return f"{full_day_words(moment.date())}, {moment:%H:%M}"
