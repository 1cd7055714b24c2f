"""Reading a file of entries: one JSON object a line, all problems found in one go."""

from __future__ import annotations

import io
import json
from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple, NoReturn

from readiness.entries.entry import NewEntry
from readiness.entries.ids import canonical, line_id
from readiness.entries.problem import Problem, shown
from readiness.entries.validate import RECEIPT_KEYS, validate_whole
from readiness.system.limits import LINE_MOST
from readiness.system.progress import Progress, counted, nobody

PROBLEMS_MOST = 100  # the wrong file altogether would give one for each of its lines
_BOM = b"\xef\xbb\xbf"
_UTF16_BOMS = (b"\xff\xfe", b"\xfe\xff")
_MARK = "\ufeff"


class Reading(NamedTuple):
    """What a file holds. Where there are problems, nothing of it is to be written."""

    entries: list[NewEntry]
    problems: list[Problem]


class _Refused(Exception):
    """A line that is not one JSON object."""


def read_jsonl(data: bytes, name: str, progress: Progress = nobody) -> Reading:
    """The entries of a file of JSON Lines and its problems, each with its line.

    A byte order mark, CRLF and blank lines are taken as they come. ``name`` is the file's, for the
    message where nothing in it can be read.
    """
    if wrong := _wrong_file(data):
        return Reading([], [Problem(1, "", wrong)])
    entries: list[NewEntry] = []
    problems: list[Problem] = []
    seen_lines: Counter[str] = Counter()  # by the id of the first of equal lines
    for line, raw_line in counted(_lines(data), data.count(b"\n"), progress):
        try:
            raw = _object(raw_line)
        except _Refused as refused:
            problems.append(Problem(line, "", str(refused)))
        else:
            entry, found = _entry(raw, line, seen_lines)
            problems += [problem._replace(line=line) for problem in found]
            if entry is not None:
                entries.append(entry)
        if len(problems) >= PROBLEMS_MOST:
            problems.append(Problem(line, "", "too many problems; not read beyond this line"))
            return Reading(entries, problems)
    if not entries and not problems:
        problems.append(Problem(None, "", f"{name} is empty; write one entry a line as JSON"))
    kept, clashes = _one_of_each(entries)
    return Reading(kept, sorted([*problems, *clashes], key=lambda problem: problem.line or 0))


def _wrong_file(data: bytes) -> str:
    """What is wrong with the file as a whole, where its first line shows it; else ""."""
    first = data.removeprefix(_BOM).lstrip().split(b"\n", 1)[0]
    every_other = max(first[0::2].count(0), first[1::2].count(0))
    if data.startswith(_UTF16_BOMS) or every_other > len(first) // 4:
        return "the file is UTF-16; save it as UTF-8"
    if b"\0" in first:
        return "the file is not text; give a file of entries, one a line as JSON"
    if first.startswith(b"["):
        return "the file is one JSON list; write one object {…} a line, without [ ] and commas"
    return ""


def _lines(data: bytes) -> Iterator[tuple[int, bytes]]:
    """The lines that hold something, counted from 1. They may end in CR alone, if all do."""
    data = data.removeprefix(_BOM)
    # One after the other: as a list they would be there twice.
    lines = io.BytesIO(data) if b"\n" in data else data.split(b"\r")
    for number, line in enumerate(lines, start=1):
        if line.strip(b" \t\r\n"):
            yield number, line.rstrip(b"\r\n")


def _object(line: bytes) -> dict[str, Any]:
    """The one JSON object of a line."""
    if len(line) > LINE_MOST:
        raise _Refused(f"is {len(line)} bytes long; an entry has at most {LINE_MOST}")
    try:
        text = line.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _Refused(_not_utf8(line, error)) from None
    try:
        if text.startswith(_MARK):
            raise json.JSONDecodeError("a byte order mark", text, 0)
        value = _DECODER.decode(text)
    except json.JSONDecodeError as error:
        raise _Refused(
            f"column {error.colno}: not JSON ({error.msg}); write one whole object {{…}} a line"
        ) from None
    except RecursionError:
        raise _Refused("is nested too deeply; an entry is one flat object") from None
    except ValueError:  # a number of more digits than Python reads
        raise _Refused("holds a number of too many digits; write it shorter") from None
    if not isinstance(value, dict):
        raise _Refused(f"{shown(value)} is not an object; write one object {{…}} a line")
    return value


def _not_utf8(line: bytes, error: UnicodeDecodeError) -> str:
    if line.startswith(_UTF16_BOMS):
        return "the file is UTF-16; save it as UTF-8"
    byte = line[error.start]
    return f"byte {error.start + 1} (0x{byte:02x}) is not UTF-8; save the file as UTF-8 text"


def _pairs(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object; a key said twice would lose one of its values silently."""
    made = dict(pairs)
    if len(made) < len(pairs):
        twice = next(key for key, count in Counter(key for key, _ in pairs).items() if count > 1)
        raise _Refused(f"key {shown(twice)} stands twice in one object; keep one")
    return made


def _no_constant(word: str) -> NoReturn:
    raise _Refused(f"{word} is not a number of JSON; write a number, or leave the key out")


_DECODER = json.JSONDecoder(object_pairs_hook=_pairs, parse_constant=_no_constant)


def _entry(
    raw: dict[str, Any], line: int, seen_lines: Counter[str]
) -> tuple[NewEntry | None, list[Problem]]:
    checked, problems = validate_whole(raw)
    if checked is None:
        return None, problems
    id_, recorded, position, batch, device, who = (checked.pop(key, None) for key in RECEIPT_KEYS)
    if id_ is None:
        first = line_id(raw, 1)
        seen_lines[first] += 1
        count = seen_lines[first]
        id_ = first if count == 1 else line_id(raw, count)
    text = canonical(checked)
    return NewEntry(id_, checked, line, recorded, position, batch, device, who, text), []


def _one_of_each(entries: list[NewEntry]) -> tuple[list[NewEntry], list[Problem]]:
    """Each id once; the same id with other content is a problem, with the same a repetition."""
    first: dict[str, NewEntry] = {}
    problems = []
    for entry in entries:
        known = first.setdefault(entry.id, entry)
        if known is not entry and known.text != entry.text:
            problems.append(
                Problem(
                    entry.line,
                    "id",
                    f"{entry.id} stands in line {known.line} with other content; "
                    "give one of them another id, or leave it out",
                )
            )
    return list(first.values()), problems
