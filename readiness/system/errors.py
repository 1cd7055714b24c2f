"""What can go wrong, and the exit code that says so."""

from __future__ import annotations

from collections.abc import Sequence

FAULT = 70
"""The exit code of a fault of the program's own."""


class ReadinessError(Exception):
    """One paragraph for a person: what, where (file, line, field), what to do. Only those below are
    raised: by itself it would be a fault."""

    exit_code = FAULT


class UsageError(ReadinessError):
    """The command line is wrong."""

    exit_code = 2


class DataError(ReadinessError):
    """Input data is wrong. ``parts``: of several things that are wrong each by itself, in words."""

    exit_code = 65

    def __init__(self, text: str, parts: Sequence[str] = ()) -> None:
        super().__init__(text)
        self.parts = tuple(parts)


class NotFound(ReadinessError):
    """A book, a file or a bull is not there."""

    exit_code = 66


class CannotWrite(ReadinessError):
    """The disk, the folder or the permission does not let us write."""

    exit_code = 73


class NoRoom(CannotWrite):
    """There is no room left where it should be written."""


class NoMemory(ReadinessError):
    """The machine has not the memory that this needs."""

    exit_code = 71


class BookBusy(ReadinessError):
    """Another process holds the book."""

    exit_code = 75


class RulesError(ReadinessError):
    """The rules file or the settings are wrong."""

    exit_code = 78
