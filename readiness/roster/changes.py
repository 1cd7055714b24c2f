"""What a roster changes in a book: the entries to write, and what they change, row by row.

Only what differs from what the book says is written: the same roster taken in again writes
nothing, and an emptied cell erases nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from itertools import count
from typing import NamedTuple

from readiness.entries.entry import Entry, NewEntry
from readiness.entries.ids import line_id
from readiness.roster.doubts import harm, mixed_up, no_group, strange_farms
from readiness.roster.known import Known, KnownBull
from readiness.roster.origin import settle
from readiness.roster.roster import CellProblem, Roster, Row, bulls_words
from readiness.roster.row_entries import NEW, UNCHANGED, UPDATED, RowChange, row_entries, wrong_in
from readiness.roster.tags import bare_key, official, zeros_dropped
from readiness.roster.turnouts import Turnouts, begin
from readiness.roster.way import COMMAND, Way
from readiness.trade.tags import SHORTEST_END, match_tag, tag_key


class Lacking(NamedTuple):
    """A bull of the book whom the file lacks; ``farm``: "" the one without a name."""

    farm: str
    bull: str
    name: str


@dataclass(slots=True)
class Changes:
    """``entries`` carry their row as their line; where there are problems, they are there only to
    be asked what else bars them. ``warnings``: (row, or 0, and the text). ``new_farms``: those that
    a book with bulls does not have; ``no_group``: row → what to say where his group is missing, ""
    where its turnout cannot be read;
    ``turnouts``: as the rows say them; ``begun``: the groups' entries that these begin;
    ``unsaid``: the bulls of whom nothing says whether they were bought. ``farms``: those that the
    rows speak of; ``lacking``: their bulls in the book of whom the file says nothing."""

    roster: Roster
    rows: list[RowChange] = field(default_factory=list)
    entries: list[NewEntry] = field(default_factory=list)
    problems: list[CellProblem] = field(default_factory=list)
    warnings: list[tuple[int, str]] = field(default_factory=list)
    new_farms: set[str] = field(default_factory=set)
    no_group: dict[int, str] = field(default_factory=dict)
    turnouts: Turnouts = field(default_factory=dict)
    begun: list[NewEntry] = field(default_factory=list)
    unsaid: list[tuple[str, str]] = field(default_factory=list)
    farms: set[str] = field(default_factory=set)
    lacking: list[Lacking] = field(default_factory=list)

    def barred(self, found: Iterable[tuple[int, str, str]]) -> Iterator[CellProblem]:
        """What bars the entries, at its cell. ``found``: (row, field, text). Each row books its own
        bull: what keeps him out is wrong already."""
        for row, name, text in found:
            if name != "bull":
                why = self.no_group.get(row, text) if name == "group" else text
                if why:
                    yield self.roster.problem(row, name, why)

    def count(self, status: str) -> int:
        """How many rows are of that status."""
        return sum(row.status == status for row in self.rows)


class Importer(NamedTuple):
    """``on``: the day of the import; ``by``: who says so; ``farm``: of rows that name none;
    ``group``: of that farm, for rows of it that name none; ``today``: the real day, where it is
    another than ``on``; ``renames``: births and names that would make other bulls of some are
    meant; ``home``: the farm of bulls who are new to the book, where nothing names one; ``way``:
    how it is said what else one can do."""

    on: date
    by: str = ""
    farm: str | None = None
    today: date | None = None
    renames: bool = False
    group: str | None = None
    home: str = ""
    way: Way = COMMAND


def changes_of(
    roster: Roster, standing: Iterable[Entry], ids: Collection[str], importer: Importer
) -> Changes:
    """``standing``: the entries that count, in ``entry_order``; ``ids``: those of all entries."""
    book = Known(standing, importer.on.toordinal())
    made = Changes(roster, problems=list(roster.problems), warnings=list(roster.warnings))
    taken = set(ids)
    first: dict[str, Row] = {}
    bare: dict[str, Row] = {}
    for row in roster.rows:
        tag = _resolved(row, book, made)
        before = first.setdefault(tag_key(tag), row)
        if before is not row:
            made.problems.append(roster.problem(row.number, "bull", _twice(tag, before, row)))
            continue
        twin = bare.setdefault(bare_key(tag), row)
        if twin is not row and tag_key(tag) not in book.tags:
            made.warnings.append((row.number, _alike(tag, f"{twin.tag} in row {twin.number}")))
        _take(row, tag, book, importer, taken, made)
    _begin_groups(made, book, importer, taken)
    _whole_file(made, book, importer)
    made.lacking = sorted(
        Lacking(farm, book.tags[key], bull.name)
        for key, bull in book.bulls.items()
        if bull.profile and not bull.gone and key not in first
        and (farm := str(bull.profile.get("farm", ""))) in made.farms
    )  # fmt: skip
    made.problems.sort(key=lambda problem: problem[:2])
    made.warnings.sort(key=lambda warning: warning[0])
    return made


def _begin_groups(made: Changes, book: Known, importer: Importer, taken: set[str]) -> None:
    """The groups that the book lacks and a turnout in the file begins: theirs are the first entries
    written."""
    for (farm, group), days in made.turnouts.items():
        content, wrong, warnings = begin(farm, group, days, book, importer.on)
        made.problems += [made.roster.problem(row, "turnout", text) for row, text in wrong]
        made.warnings += warnings
        if content:
            said = content | ({"by": importer.by} if importer.by else {})
            made.begun.append(NewEntry(free_id(said, taken), said, min(days.values())))
    made.entries[:0] = made.begun


def _whole_file(made: Changes, book: Known, importer: Importer) -> None:
    """What is odd of several bulls together, and rows that may be of another bull."""
    if made.unsaid:
        text = (
            "the day they came is known, and not whether they were bought: "
            f"{bulls_words(made.unsaid)}. No quarantine is asked for them unless they are: say "
            "homebred, bought or hired in a column headed Origin"
        )
        made.warnings.append((0, text))
    for farm, text in strange_farms(made.rows, book.farms) if book.tags else ():
        made.new_farms.add(farm)
        if text:
            made.warnings.append((0, text))
    for row, name, text in mixed_up(made.rows, book):
        # They stop the file, unless they are meant: then they are said.
        if importer.renames:
            made.warnings.append((row, text))
        else:
            take = f"; {importer.way.takes('--renames')}" if row else ""
            made.problems.append(made.roster.problem(row, name, text + take))


def _resolved(row: Row, book: Known, made: Changes) -> str:
    """His tag as the book has it, where it has it; what is nearly another's is said."""
    key = tag_key(row.tag)
    if key in book.tags:
        return book.tags[key]
    alike = book.by_bare_key.get(bare_key(row.tag))
    if alike and official(row.tag):
        return alike
    if alike:
        made.warnings.append((row.number, _alike(row.tag, f"{alike}, who is in the book,")))
        return row.tag
    if row.bare and (same := zeros_dropped(row.tag, book.tags)):
        tag = book.tags[same]
        text = f"{row.tag} is read as {tag}, who is in the book: a spreadsheet drops zeros in front"
        made.warnings.append((row.number, text))
        return tag
    near = match_tag(row.tag, book.tags) if key.isdecimal() else []
    near += [other for other in book.short_numbers if key.endswith(other)]
    near = [other for other in near if min(len(key), len(other)) >= SHORTEST_END]
    if near:
        text = (
            f"{row.tag} is a new bull; the tag of {book.tags[near[0]]}, who is in the book, has "
            "the same last digits. If he is meant, write it as it is there"
        )
        made.warnings.append((row.number, text))
    return row.tag


def _alike(tag: str, other: str) -> str:
    return (
        f"{tag} is a new bull; {other} has the same tag but for the marks between. If he is meant, "
        "write it as it is there"
    )


def _twice(tag: str, before: Row, row: Row) -> str:
    same = (before.fields, before.bad, row.bad) == (row.fields, set(), set())
    says = "says the same of him" if same else "says other things of him"
    return f"{tag} stands in row {before.number} already, which {says}; keep one of the two"


def _take(
    row: Row, tag: str, book: Known, importer: Importer, taken: set[str], made: Changes
) -> None:
    """One bull's entries and what they change, or what is wrong with his row."""
    known = book.bulls.get(tag_key(tag)) or KnownBull()
    fields = _fields(row, tag, book, importer)
    farm = str(fields.get("farm") or known.profile.get("farm", ""))
    made.farms.add(farm)
    origin = settle(fields, known.profile, made.roster.head.by_field, row.bad)
    today, way = importer.today or importer.on, importer.way
    wrong = origin.wrong + wrong_in(fields, known, importer.on, today, way)
    found = row_entries(fields, known, wrong)
    wrong = [(at, text) for at, text in wrong if at not in row.bad]
    made.problems += [made.roster.problem(row.number, at, text) for at, text in wrong]
    made.entries += [NewEntry(free_id(content, taken), content, row.number) for content, _ in found]
    if "group" in fields:  # what to say where the book has no such group on his farm
        on = None if importer.on == importer.today else importer.on
        text = no_group(str(fields["group"]), farm or None, book.groups, on, way)
        made.no_group[row.number] = "" if "turnout" in row.bad else text
    if day := fields.get("turnout"):
        group = str(fields.get("group") or known.group or "")
        made.turnouts.setdefault((farm or None, group), {}).setdefault(str(day), row.number)
    if wrong or row.bad:
        return
    name = str(fields.get("name") or known.name)
    changes = tuple(change for _, changed in found for change in changed)
    status = NEW if not known.profile else UPDATED if found else UNCHANGED
    made.rows.append(change := RowChange(row.number, tag, name, status, changes))
    made.unsaid += [(tag, name)] if origin.unsaid else []
    odd = [*origin.warnings, *_odd(fields, change, book.later.get(tag_key(tag), {}))]
    if known.profile:
        odd += harm(change, None if "group" in fields else known.group, book)
    made.warnings += [(row.number, text) for text in odd]


def _odd(fields: Mapping[str, object], row: RowChange, later: Mapping[str, str]) -> Iterator[str]:
    """``later``: field → the day on which the book says it again."""
    if "weighed_on" in fields and "kg" not in fields:
        yield "has a day of weighing and no weight: not taken in"
    for change in row.changes:
        if change.field in later:
            yield f"{change.field} is said again on {later[change.field]}, and counts till then"


def _fields(row: Row, tag: str, book: Known, importer: Importer) -> dict[str, object]:
    """What the row says, as values of entries; farms and groups as the book spells them."""
    fields: dict[str, object] = {"on": importer.on.isoformat(), "bull": tag}
    if importer.by:
        fields["by"] = importer.by
    if farm := importer.farm or ("" if tag_key(tag) in book.tags else importer.home):
        fields["farm"] = farm
    for name, value in row.fields.items():
        fields[name] = value.isoformat() if isinstance(value, date) else value
    if importer.group and fields.get("farm") == importer.farm:
        fields.setdefault("group", importer.group)
    for name in {"farm", "group"} & fields.keys():
        fields[name] = book.spelt(name, str(fields[name]))
    return fields


def free_id(content: dict[str, object], taken: set[str]) -> str:
    """The id of an entry by what it says and how often the book has said so before: two copies of
    a book that take in the same roster agree, and what was withdrawn can be said again."""
    free = next(made for many in count(1) if (made := line_id(content, many)) not in taken)
    taken.add(free)
    return free
