"""A calendar file that is updated where it stands."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from readiness.report.ics import Counted, Spoken, calendar
from readiness.report.ics_event import VISITS, Appointment, NotOurs, Sort
from readiness.system.errors import DataError
from readiness.system.files import bytes_there, write_whole
from readiness.system.limits import CALENDAR_MOST


def write_calendar(
    path: Path,
    events: Iterable[Appointment],
    span: Spoken,
    now: datetime,
    sort: Sort = VISITS,
) -> Counted:
    """Write what is planned into the calendar file, as ``calendar`` says.

    Where nothing changes, the file is not touched. Raises DataError for a file that readiness did
    not write, CannotWrite for one that cannot be read or written; then what was there is whole.
    """
    before = bytes_there(path, "calendar", CALENDAR_MOST)
    try:
        written = calendar(events, span=span, now=now, before=before, sort=sort)
    except NotOurs as problem:
        raise DataError(
            f"{path} {problem}. Nothing was written, so that nobody's own calendar is lost: name "
            "another file, or move this one away."
        ) from problem
    if written.data != before:
        write_whole(path, written.data)
    return written.counted
