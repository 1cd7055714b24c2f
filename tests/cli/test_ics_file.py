"""The calendar file on the disk: replaced all at once or left as it was."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
import vobject

from readiness.report.calendar_file import write_calendar
from readiness.report.ics import Counted, Span, calendar
from readiness.report.ics_event import Appointment
from readiness.system.errors import CannotWrite, DataError, ReadinessError

NOW = datetime(2026, 4, 1, 7, 30, tzinfo=UTC)
LATER = NOW + timedelta(days=1)
SPAN = Span(date(2026, 4, 1), date(2026, 6, 30), None)
SAND = Appointment(
    "Low Sandwath", date(2026, 4, 9), "Feet at Low Sandwath: 6 bulls", "Gorse", "CONFIRMED"
)
KELD = Appointment("Keld", date(2026, 4, 20), "Feet at Keld: 1 bull", "Rowan", "TENTATIVE")
ROOT = Path(__file__).parents[2]

# The published example of RFC 5545, 3.4: somebody else's calendar.
FOREIGN = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//hacksw/handcal//NONSGML v1.0//EN\r\n"
    b"BEGIN:VEVENT\r\nUID:19970610T172345Z-AF23B2@example.com\r\nDTSTAMP:19970610T172345Z\r\n"
    b"DTSTART:19970714T170000Z\r\nDTEND:19970715T040000Z\r\nSUMMARY:Bastille Day Party\r\n"
    b"END:VEVENT\r\nEND:VCALENDAR\r\n"
)


def refused(path: Path, kind: type[ReadinessError], *said: str) -> None:
    """One paragraph with the file's name, and nothing but what was there left in the folder."""
    before = contents(path.parent)
    with pytest.raises(kind) as problem:
        write_calendar(path, [SAND], SPAN, NOW)
    text = str(problem.value)
    assert type(problem.value) is kind
    assert "\n" not in text
    for words in (str(path), *said):
        assert words in text
    assert contents(path.parent) == before


def contents(folder: Path) -> dict[str, bytes | None]:
    return {
        each.name: each.read_bytes() if each.is_file() else None
        for each in (folder.iterdir() if folder.is_dir() else ())
    }


@contextmanager
def as_nobody() -> Iterator[None]:
    """As a user without rights: root could read and write anything."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def shared() -> Iterator[Path]:
    """A folder that anyone may enter (pytest's own is closed to others), with a calendar in it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        write_calendar(folder / "visits.ics", [KELD], SPAN, NOW)
        yield folder
        folder.chmod(0o755)


def test_a_new_file_then_the_same_then_a_change(tmp_path: Path) -> None:
    path = tmp_path / "visits.ics"
    assert write_calendar(path, [SAND, KELD], SPAN, NOW) == Counted(2, 0, 0, 0)
    first = path.read_bytes()
    assert first == calendar([SAND, KELD], span=SPAN, now=NOW, before=None).data
    assert write_calendar(path, [KELD, SAND], SPAN, LATER) == Counted(0, 0, 0, 2)
    assert path.read_bytes() == first
    assert write_calendar(path, [SAND], SPAN, LATER) == Counted(0, 0, 1, 1)
    (found,) = vobject.readComponents(path.read_text("utf-8"))
    assert [event.status.value for event in found.vevent_list] == ["CONFIRMED", "CANCELLED"]
    assert list(contents(tmp_path)) == ["visits.ics"]


def test_an_unchanged_file_is_not_touched(shared: Path) -> None:
    path = shared / "visits.ics"
    os.utime(path, ns=(1, 1))
    shared.chmod(0o555)
    assert write_calendar(path, [KELD], SPAN, LATER) == Counted(0, 0, 0, 1)
    assert path.stat().st_mtime_ns == 1


def test_who_may_read_the_file_may_read_the_new_one(tmp_path: Path) -> None:
    path = tmp_path / "visits.ics"
    write_calendar(path, [SAND], SPAN, NOW)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    path.chmod(0o664)
    write_calendar(path, [KELD], SPAN, NOW)
    assert stat.S_IMODE(path.stat().st_mode) == 0o664


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "synced").mkdir()
    link = tmp_path / "visits.ics"
    link.symlink_to(tmp_path / "synced" / "bulls.ics")
    for visits in ([SAND], [KELD]):
        write_calendar(link, visits, SPAN, NOW)
        assert link.is_symlink()
    assert b"Keld" in (tmp_path / "synced" / "bulls.ics").read_bytes()


def test_names_as_long_as_the_disk_takes(tmp_path: Path) -> None:
    path = tmp_path / f"{'v' * 251}.ics"
    assert write_calendar(path, [SAND], SPAN, NOW).new == 1


def test_somebodys_own_calendar_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "own.ics"
    path.write_bytes(FOREIGN)
    refused(path, DataError, "handcal", "Nothing was written", "name another file")


@pytest.mark.parametrize("data", [b"", b"Milk, bread\n", b"\x89PNG\r\n\x1a\n", FOREIGN[:60]])
def test_any_other_file_is_never_written_over(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "other.txt"
    path.write_bytes(data)
    refused(path, DataError, "name another file")


def test_a_calendar_cut_short_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "visits.ics"
    write_calendar(path, [SAND, KELD], SPAN, NOW)
    path.write_bytes(path.read_bytes()[:500])
    refused(path, DataError, "damaged")


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "visits.ics").mkdir()
    refused(tmp_path / "visits.ics", CannotWrite, "a folder")


def test_a_pipe_is_not_waited_for_and_no_device_is_replaced(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    refused(tmp_path / "pipe", CannotWrite, "a pipe and no file")
    with pytest.raises(CannotWrite, match="a device"):
        write_calendar(Path(os.devnull), [SAND], SPAN, NOW)
    assert stat.S_ISCHR(os.stat(os.devnull).st_mode)


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    refused(tmp_path / "none" / "visits.ics", CannotWrite, "No such file or directory")


def test_a_file_taken_for_a_folder(tmp_path: Path) -> None:
    (tmp_path / "notes").write_bytes(b"x")
    refused(tmp_path / "notes" / "visits.ics", CannotWrite, "Not a directory")


def test_a_link_to_itself(tmp_path: Path) -> None:
    (tmp_path / "visits.ics").symlink_to(tmp_path / "visits.ics")
    refused(tmp_path / "visits.ics", CannotWrite, "cannot be read")


def test_a_folder_that_takes_no_new_file(shared: Path) -> None:
    (shared / "visits.ics").chmod(0o666)
    shared.chmod(0o555)
    with as_nobody():
        refused(shared / "visits.ics", CannotWrite, "Permission denied", "is whole")
        refused(shared / "new.ics", CannotWrite, "Permission denied")


def test_a_file_that_may_not_be_written(shared: Path) -> None:
    """A new file could be put in its place; its owner did not mean that."""
    (shared / "visits.ics").chmod(0o444)
    shared.chmod(0o777)
    with as_nobody():
        refused(shared / "visits.ics", CannotWrite, "Permission denied")
        assert write_calendar(shared / "visits.ics", [KELD], SPAN, LATER) == Counted(0, 0, 0, 1)


def test_a_file_that_may_not_be_read(shared: Path) -> None:
    path = shared / "visits.ics"
    before = path.read_bytes()
    path.chmod(0)
    shared.chmod(0o777)
    with as_nobody(), pytest.raises(CannotWrite, match="cannot be read"):
        write_calendar(path, [SAND], SPAN, NOW)
    assert path.read_bytes() == before


# In a process whose files may not grow past a limit (as on a full disk, write() itself fails).
FULL = """
import resource, signal, sys
from pathlib import Path
from readiness.system.errors import ReadinessError
from tests.cli.test_ics_file import NOW, SPAN, SAND, write_calendar
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (300, resource.RLIM_INFINITY))
try:
    write_calendar(Path(sys.argv[1]), [SAND], SPAN, NOW)
except ReadinessError as error:
    print(error)
    raise SystemExit(error.exit_code)
"""


def test_no_room_on_the_disk(tmp_path: Path) -> None:
    path = tmp_path / "visits.ics"
    write_calendar(path, [KELD], SPAN, NOW)
    before = contents(tmp_path)
    ran = subprocess.run(
        [sys.executable, "-c", FULL, str(path)], cwd=ROOT, capture_output=True, text=True,
        check=False, timeout=60,
    )  # fmt: skip
    assert ran.returncode == 73, ran.stderr
    assert ran.stdout.startswith(f"{path} cannot be written: ")
    assert ran.stdout.count("\n") == 1
    assert contents(tmp_path) == before


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_disk_that_fails_late(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    """What was there stays, whichever step fails, and no draft is left."""
    path = tmp_path / "visits.ics"
    write_calendar(path, [KELD], SPAN, NOW)

    def fail(*_: object) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(os, step, fail)
    refused(path, CannotWrite, "Input/output error", "is whole")


def test_stopped_in_the_middle(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "visits.ics"
    write_calendar(path, [KELD], SPAN, NOW)
    before = contents(tmp_path)

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_calendar(path, [SAND], SPAN, NOW)
    assert contents(tmp_path) == before
