"""The calendar file on the disk: read, and replaced all at once."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from readiness.report.ics import Counted, Span, calendar
from readiness.report.ics_event import Appointment, NotOurs
from readiness.system.errors import DataError
from readiness.system.files import bytes_there, write_whole


def write_calendar(path: Path, visits: Iterable[Appointment], span: Span, now: datetime) -> Counted:
    """Write the planned visits into the calendar file, as ``readiness.report.ics.calendar`` says.

    Where nothing changes, the file is not touched. Raises DataError for a file that readiness did
    not write, CannotWrite for one that cannot be read or written; then what was there is whole.
    """
    before = bytes_there(path, "calendar")
    try:
        written = calendar(visits, span=span, now=now, before=before)
    except NotOurs as problem:
        raise DataError(
            f"{path} {problem}. Nothing was written, so that nobody's own calendar is lost: name "
            "another file for the visits, or move this one away."
        ) from problem
    if written.data != before:
        write_whole(path, written.data)
    return written.counted
