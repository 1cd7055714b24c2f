"""Which kind of file it is, by its beginning, for a name may say anything."""

from __future__ import annotations

from pathlib import Path

from readiness.system.errors import DataError
from readiness.system.files import bytes_of
from readiness.system.limits import ROSTER_MOST

SPREADSHEETS = (".xlsx", ".xlsm")
TEXTS = (".csv", ".tsv", ".txt")
ROSTERS = (*TEXTS, *SPREADSHEETS)
OTHERS = (".xls", ".xlsb", ".ods", ".fods", ".numbers")
_ZIP = b"PK\x03\x04"
# The container of older spreadsheets, and of newer ones that a password protects.
_COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
EMPTY = "the file is empty. Write a row of headings and a row for each bull."
_SAVE = "Open it in your spreadsheet program and save it as .xlsx or .csv."


def too_many(what: str, most: int) -> DataError:
    """A refusal: more rows or cells than a roster has."""
    return DataError(
        f"the file has more than {most:,} {what}, more than a roster can have. Give only the "
        "bulls, in a file of their own."
    )


def roster_bytes(path: Path) -> bytes:
    """What the file holds, if it may be a roster.

    Raises ``DataError`` for a kind of file that is not read, or one too large; ``NotFound`` where
    it cannot be read.
    """
    suffix = path.suffix.lower()
    if suffix in OTHERS:
        raise DataError(f"{path}: {suffix} files are not read. {_SAVE}")
    data = bytes_of(path, ROSTER_MOST, "bulls")
    if suffix not in ROSTERS:
        raise DataError(
            f"{path}: only .jsonl (entries), .csv and .xlsx (rosters of bulls, vet's "
            "sheets) are taken in. Save it as one of these."
        )
    if wrong := _wrong_kind(data, suffix):
        raise DataError(f"{path}: {wrong}")
    return data


def _wrong_kind(data: bytes, suffix: str) -> str:
    """What is wrong where a file is not what its name says; else ""."""
    if not data.strip():
        return EMPTY
    if data.startswith(_COMPOUND):
        return (
            "the file is protected by a password, or of the older .xls kind. Open it in your "
            "spreadsheet program, take the password off, and save it as .xlsx or .csv."
        )
    packed = data.startswith(_ZIP)
    if packed and suffix in TEXTS:
        return f"the file is a spreadsheet under the name {suffix}. Name it .xlsx."
    if packed and b"mimetypeapplication/vnd.oasis" in data[:200]:
        return f"the file is an .ods spreadsheet under the name {suffix}. {_SAVE}"
    if not packed and suffix in SPREADSHEETS:
        return f"the file is no {suffix} spreadsheet, whatever its name says. {_SAVE}"
    return ""
