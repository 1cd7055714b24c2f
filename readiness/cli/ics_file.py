"""The calendar file on the disk: read, and replaced all at once."""

from __future__ import annotations

import os
import secrets
import stat
from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from readiness.errors import CannotWrite, DataError
from readiness.report.ics import Appointment, Counted, Span, calendar
from readiness.report.ics_event import NotOurs


def write_calendar(path: Path, visits: Iterable[Appointment], span: Span, now: datetime) -> Counted:
    """Write the planned visits into the calendar file, as ``readiness.report.ics.calendar`` says.

    Where nothing changes, the file is not touched. Raises DataError for a file that readiness did
    not write, CannotWrite for one that cannot be read or written; then what was there is whole.
    """
    target = Path(os.path.realpath(path))  # a link stays a link
    before = _read(path, target)
    try:
        written = calendar(visits, span=span, now=now, before=before)
    except NotOurs as problem:
        raise DataError(
            f"{path} {problem}. Nothing was written, so that nobody's own calendar is lost: name "
            "another file for the visits, or move this one away."
        ) from problem
    if written.data != before:
        try:
            _replace(target, written.data, kept=before is not None)
        except OSError as problem:
            raise CannotWrite(
                f"{path} cannot be written: {problem.strerror or problem}. What was there before "
                "is whole: name another file, or see to the folder or the disk."
            ) from problem
    return written.counted


def _read(path: Path, target: Path) -> bytes | None:
    """The file's bytes; None where there is none yet."""
    try:
        mode = target.stat().st_mode
        if not stat.S_ISREG(mode):
            what = "a folder" if stat.S_ISDIR(mode) else "no ordinary file"
            raise CannotWrite(f"{path} is {what}. Name a file for the calendar.")
        return target.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as problem:
        raise CannotWrite(
            f"{path} cannot be read, so it is not written over: {problem.strerror or problem}. "
            "Name another file."
        ) from problem


def _replace(target: Path, data: bytes, *, kept: bool) -> None:
    """The new bytes at once in the old ones' place; on OSError the old ones stay."""
    if kept:
        target.open("r+b").close()  # a new one in its place would pass over who may write it
    draft = target.with_name(f".readiness-{secrets.token_hex(8)}.tmp")
    try:
        with draft.open("xb") as handle:
            handle.write(data)
            handle.flush()
            os.fsync(handle.fileno())
        if kept:  # who might read it may read it still
            draft.chmod(stat.S_IMODE(target.stat().st_mode))
        os.replace(draft, target)
    finally:
        with suppress(OSError):  # in its place by now, or the disk's own fault is told
            draft.unlink()
