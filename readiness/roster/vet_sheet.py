"""A vet's sheet: what he examined and tested, a row a bull or a test, as entries of the book.

All or nothing, as a roster; the same sheet taken in again writes nothing. It books nobody: whom the
book does not have is a problem of his row.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from readiness.entries.entry import Entry, NewEntry
from readiness.entries.ids import canonical
from readiness.entries.models import KINDS, own_columns
from readiness.entries.validate import validate_said
from readiness.roster.changes import Changes, Importer, free_id
from readiness.roster.known import Known
from readiness.roster.roster import Roster, Row
from readiness.roster.row_entries import (
    NEW,
    UNCHANGED,
    Content,
    FieldChange,
    RowChange,
    Wrong,
    iso_day_words,
)
from readiness.roster.tags import bare_key, official, zeros_dropped
from readiness.shorthand.grammar import examined_of
from readiness.system.plain import name_key
from readiness.trade.tags import match_tag, tag_key
from readiness.trade.words import list_words

EXAM, TEST = tuple(own_columns(KINDS["vet-exam"])), tuple(own_columns(KINDS["check"]))
SHOWN = 4


def vet_changes(
    roster: Roster, standing: Iterable[Entry], ids: Collection[str], importer: Importer
) -> Changes:
    """``standing``: the entries that count; ``ids``: those of all entries."""
    entries = list(standing)
    book = Known(entries, importer.on.toordinal())
    made = Changes(roster, problems=list(roster.problems), warnings=list(roster.warnings))
    told = [entry for entry in entries if entry.kind in ("vet-exam", "check")]
    same = {_bare(entry.body) for entry in told}
    of_day = {_of_day(entry.body) for entry in told}
    if name_column := roster.head.by_field.get("name"):
        roster.how[name_column.at] = "only held against the book's"
    rows: dict[tuple[str, ...], int] = {}
    taken = set(ids)
    for row in roster.rows:
        tag = _booked(row, book, made)
        contents, wrong = _contents(row, row.tag if tag is None else tag, importer)
        if tag is None:  # what else is wrong with the row is said at once
            made.problems += [roster.problem(row.number, at, text) for at, text in wrong]
            continue
        changes: list[FieldChange] = []
        for content in contents:
            which = _of_day(content)
            if (before := rows.setdefault(which, row.number)) != row.number:
                wrong.append(("bull", _twice(content, before)))
            elif _bare(content) not in same:
                made.entries.append(NewEntry(free_id(content, taken), content, row.number))
                changes += (FieldChange(name, None, v) for name, v in _own(content))
                if which in of_day:
                    made.warnings.append((row.number, _beside(content)))
        made.problems += [roster.problem(row.number, at, text) for at, text in wrong]
        name = book.bulls[tag_key(tag)].name if tag_key(tag) in book.bulls else ""
        status = NEW if changes else UNCHANGED
        made.rows.append(RowChange(row.number, tag, name, status, tuple(changes)))
        made.warnings += [(row.number, text) for text in _odd(row, name, contents)]
    made.problems.sort(key=lambda problem: problem[:2])
    made.warnings.sort(key=lambda warning: warning[0])
    return made


# ---- one row -------------------------------------------------------------------------------------


def _contents(row: Row, tag: str, importer: Importer) -> tuple[list[Content], Wrong]:
    """The examination and the test that a row tells of, and what is wrong with them."""
    said = {k: v.isoformat() if isinstance(v, date) else v for k, v in row.fields.items()}
    if "examined" in said:
        said["examined"] = examined_of(str(said["examined"]))  # type: ignore[assignment]
    day = said.get("on")
    told = [("vet-exam", EXAM, day, "on")] if said.keys() & {*EXAM} - {"examiner"} else []
    sampled = "sampled_on" if "sampled_on" in said or "sampled_on" in row.bad else "on"
    told += [("check", TEST, said.get(sampled), sampled)] if said.keys() & {*TEST} else []
    contents: list[Content] = []
    wrong: Wrong = []
    for at, (kind, keys, on, dated) in enumerate(told):
        fields = {key: said[key] for key in keys if key in said}
        if at == 0 and "note" in said:
            fields["note"] = said["note"]
        by = {"by": importer.by} if importer.by else {}
        found = list(_wrong_day(on, importer))
        # A day is judged here; what else is wrong is told beside it.
        usable = importer.on.isoformat() if found else on
        checked, problems = validate_said({"kind": kind, "on": usable, "bull": tag, **by, **fields})
        found += [(problem.field.partition("[")[0], problem.text) for problem in problems]
        wrong += [(dated if name == "on" else name, text) for name, text in found]
        if checked is not None and not found:
            contents.append(checked)
    return contents, [(at, text) for at, text in dict.fromkeys(wrong) if at not in row.bad]


def _wrong_day(on: object, importer: Importer) -> Iterator[tuple[str, str]]:
    if on is None:
        yield "on", "no day is said; write it into a column headed Date, as 3 Apr 2026"
    elif str(on) > max(importer.on, importer.today or importer.on).isoformat():
        yield "on", f"{iso_day_words(on)} is still to come: nobody has seen him then; correct it"


def _booked(row: Row, book: Known, made: Changes) -> str | None:
    """His tag as the book has it; None where it has no such bull, or several, which is said."""
    key = tag_key(row.tag)
    if key in book.tags:
        return book.tags[key]
    alike = book.by_bare_key.get(bare_key(row.tag))
    if alike and official(row.tag):
        return alike
    near = list(dict.fromkeys(match_tag(row.tag, book.tags)))
    if row.bare and not near and (zeros := zeros_dropped(row.tag, book.tags)):
        near = [zeros]
    if len(near) == 1:
        tag = book.tags[near[0]]
        made.warnings.append((row.number, f"{row.tag} is read as {tag}, the only such bull"))
        return tag
    if near:
        bulls = list_words([book.tags[one] for one in near[:SHOWN]], "or")
        text = f"{row.tag} may be {bulls}; write the whole tag"
    else:
        text = f"{row.tag} is not in the book; correct the tag, or book him in first"
    made.problems.append(made.roster.problem(row.number, "bull", text))
    return None


def _odd(row: Row, name: str, contents: list[Content]) -> Iterator[str]:
    said = str(row.fields.get("name", ""))
    if said and name and name_key(said) != name_key(name):
        yield f"the sheet calls him {said}, the book {name}: is it he?"
    if not contents and not row.bad and not row.fields.keys() & {*EXAM, *TEST}:
        yield "says nothing of an examination or a test: nothing is taken in"


# ---- which is which ------------------------------------------------------------------------------


def _own(content: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """What an entry says, by the columns of the sheet."""
    day = "sampled_on" if content["kind"] == "check" else "on"
    for key, value in content.items():
        if key not in ("kind", "bull", "by"):
            yield day if key == "on" else key, value


def _bare(content: Mapping[str, Any]) -> str:
    """An entry whoever wrote it down, and however his tag is spelt."""
    said = {key: value for key, value in content.items() if key != "by"}
    return str(canonical({**said, "bull": tag_key(str(content["bull"]))}))


def _of_day(content: Mapping[str, Any]) -> tuple[str, ...]:
    """What there is one of on a day: his examination, or one test by its name."""
    test = str(content.get("check", "")).casefold()
    return content["kind"], tag_key(str(content["bull"])), content["on"], test


def _what(content: Mapping[str, Any]) -> str:
    return f"test {content['check']}" if content["kind"] == "check" else "examination"


def _twice(content: Mapping[str, Any], before: int) -> str:
    day = iso_day_words(content["on"])
    return f"row {before} has an {_what(content)} of his on {day} already; keep one of the two"


def _beside(content: Mapping[str, Any]) -> str:
    return (
        f"the book has another {_what(content)} of his on {iso_day_words(content['on'])}: both "
        "stand, and the worse counts; take back the one that is wrong"
    )
