"""``--ics FILE``: a calendar file that is updated where it stands, and what became of it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from readiness.cli.arguments import STDOUT, argument, path_argument
from readiness.system.errors import UsageError

if TYPE_CHECKING:
    from argparse import _ActionsContainer

    from readiness.report.ics import Counted


def ics_option(to: _ActionsContainer) -> None:
    """Teach a command ``--ics``."""
    text = "write it into this calendar file, too"
    argument(to, "--ics", "FILE", text, type=path_argument)


def refuse_stdout(path: Path | None) -> None:
    """Raise UsageError for a calendar on stdout."""
    if path == STDOUT:
        raise UsageError("--ics needs a file: written again it updates what stands in it.")


def counted_words(path: Path, done: Counted) -> str:
    """What became of what stands in the file."""
    return (
        f"{path}: {done.new} new, {done.changed} changed, {done.cancelled} cancelled, "
        f"{done.same} as they were."
    )
