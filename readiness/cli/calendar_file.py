"""``--ics FILE``: a calendar file that is updated where it stands."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.cli.arguments import STDOUT, argument, path_argument
from readiness.system.errors import DataError, UsageError
from readiness.system.files import bytes_there, write_whole

if TYPE_CHECKING:
    from argparse import _ActionsContainer

    from readiness.report.ics import Counted, Spoken
    from readiness.report.ics_event import Appointment, Sort


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


def write_calendar(
    path: Path,
    events: Iterable[Appointment],
    span: Spoken,
    now: datetime,
    sort: Sort | None = None,
) -> Counted:
    """Write what is planned into the calendar file, as ``readiness.report.ics.calendar`` says;
    ``sort`` None: return visits.

    Where nothing changes, the file is not touched. Raises DataError for a file that readiness did
    not write, CannotWrite for one that cannot be read or written; then what was there is whole.
    """
    from readiness.report.ics import calendar
    from readiness.report.ics_event import VISITS, NotOurs

    before = bytes_there(path, "calendar")
    try:
        written = calendar(events, span=span, now=now, before=before, sort=sort or VISITS)
    except NotOurs as problem:
        raise DataError(
            f"{path} {problem}. Nothing was written, so that nobody's own calendar is lost: name "
            "another file, or move this one away."
        ) from problem
    if written.data != before:
        write_whole(path, written.data)
    return written.counted
