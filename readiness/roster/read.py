"""A roster out of a file: its rows as fields of entries, or every cell that stands in the way."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Container, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from readiness.roster import values
from readiness.roster.cells import Broken, Cell, Grid, GridRow, rows_words
from readiness.roster.days import ReadBy, read_births, read_days
from readiness.roster.headings import AGE, Head, Heading, check_head, find_head, likely
from readiness.roster.kinds import EMPTY, SPREADSHEETS, roster_bytes
from readiness.roster.roster import Roster, Row, Value
from readiness.roster.tags import made_by_spreadsheet, read_tags
from readiness.roster.way import COMMAND, Way
from readiness.system.errors import DataError
from readiness.system.plain import fold, plain
from readiness.system.progress import Progress, nobody, part
from readiness.trade.ages import BORN, Birth, birth_in
from readiness.trade.words import list_words, year_day_words

DATES = (
    BORN, AGE, "arrived", "weighed_on", "turnout", "on", "again_on", "sampled_on", "valid_until",
)  # fmt: skip
AHEAD = ("turnout", "again_on", "valid_until")
"""Days that may be still to come: a year of two digits may be, too."""
YEARS_AHEAD = 20
TOTALS = frozenset(
    map(fold, ("total", "totals", "subtotal", "sum", "no of bulls", "number of bulls"))
)
"""What a row says that counts the others, folded."""


def read_roster(
    path: Path,
    on: date,
    dates: str | None = None,
    today: date | None = None,
    progress: Progress = nobody,
    way: Way = COMMAND,
) -> Roster:
    """The roster in a file. ``on``: the day of the import; ``dates``: "dmy" or "mdy", the order
    that the person says; ``today``: the real day, where it is another than ``on``; ``way``: how it
    is said what else one can do.

    Raises ``DataError`` where the file as a whole cannot be taken, ``NotFound`` where it cannot be
    read; what is wrong in its cells is in ``problems``.
    """
    data = roster_bytes(path)
    try:
        return roster_of(data, path.suffix.lower(), on, dates, today, progress, way)
    except DataError as problem:
        raise DataError(f"{path}: {plain(str(problem))}") from problem


def roster_of(
    data: bytes,
    suffix: str,
    on: date,
    dates: str | None = None,
    today: date | None = None,
    progress: Progress = nobody,
    way: Way = COMMAND,
) -> Roster:
    """As ``read_roster``, of a file's bytes; its name is not in what is raised."""
    notes: list[str] = []
    if suffix in SPREADSHEETS:
        from readiness.roster.xlsx_file import read_xlsx

        sheets, hidden = read_xlsx(data)
        grid = _choose([sheet for sheet in sheets if sheet.lines], notes)
        if hidden:
            notes.append(f"hidden and not read: {list_words(hidden)}")
    else:
        from readiness.roster.csv_file import read_text

        grid = read_text(data)
        if not grid.lines:
            raise DataError(EMPTY)
    roster = Roster(grid.name, find_head(grid), notes=notes)
    check_head(roster.head)
    asked = ReadBy(on, dates, max(on, today or on).year, way)
    _read_rows(roster, grid, asked, part(progress, 0.5, 1.0))
    return roster


def _choose(filled: list[Grid], notes: list[str]) -> Grid:
    """The first sheet with the headings of a roster; the first that says something where none
    has them, for the message."""
    if not filled:
        raise DataError(EMPTY)
    fitting = [grid for grid in filled if "bull" in find_head(grid).by_field]
    chosen = fitting[0] if fitting else filled[0]
    others = [grid.name for grid in filled if grid is not chosen]
    if others:
        also = list_words(grid.name for grid in fitting[1:])
        more = f"; {also} could be a roster too: give it a file of its own" if also else ""
        notes.append(f"other sheets, not read: {list_words(others)}{more}")
    return chosen


def _read_rows(roster: Roster, grid: Grid, asked: ReadBy, progress: Progress) -> None:
    lines = [line for line in grid.lines if line.number > roster.head.row]
    lines = _without_repeats(lines, roster)
    if not grid.typed:
        _run_together(lines, roster)
    columns = roster.head.by_field
    rows = {row.number: row for row in _bulls(lines, columns.pop("bull"), grid, roster)}
    said = {name: _cells(lines, column, roster) for name, column in columns.items()}
    before = len(roster.problems)
    for done, (name, cells) in enumerate(said.items()):
        progress(done, len(said))
        if name == AGE:
            continue
        found = _read_column(columns[name], cells, grid, asked, roster)
        for row in found.keys() & rows.keys():
            rows[row].fields.update(_fields(name, found[row]))
            if name == "origin" and values.came_from(cells[row].text):
                rows[row].fields.setdefault("bought_from", cells[row].text)
    if AGE in columns:
        _take_ages(said[AGE], said[BORN], rows, grid, asked, roster)
    for problem in roster.problems[before:]:
        # A problem of the whole column spoils it for every row.
        for number in [problem.row] if problem.row else rows:
            if number in rows:
                rows[number].bad.add(roster.head.columns[problem.at].field or "")
    if "kg" in columns and "weighed_on" not in columns:
        on = year_day_words(asked.on)
        roster.how[columns["kg"].at] = f"as weighed on {on}, the day of the import"
    roster.rows = list(rows.values())
    roster.warnings += [(0, text) for text in remarks(roster.head, grid, lines)]
    if not roster.rows and not roster.problems:
        raise DataError(
            f"there is no bull under the headings in row {roster.head.row}. Write a row for each."
        )


def _take_ages(
    said: Mapping[int, Cell],
    births: Container[int],
    rows: Mapping[int, Row],
    grid: Grid,
    asked: ReadBy,
    roster: Roster,
) -> None:
    """An age beside a column of births counts where that is empty; where both stand and cannot both
    be so, the row says it. One that is not needed bars nothing, whatever it says."""
    column, born_column = (roster.head.by_field[field] for field in (AGE, BORN))
    beside = {row: cell for row, cell in said.items() if row in births}
    held = _read_column(column, beside, grid, asked, Roster(roster.sheet, roster.head))
    for number, age in held.items():
        born = birth_in(rows[number].fields) if number in rows else None
        if born and isinstance(age, Birth) and born.denies(age):
            text = (
                f"born {born.words} by {born_column.place}, and {age.words} by {column.place}: the "
                "birth counts. Look whether it is his"
            )
            roster.warnings.append((number, text))
    alone = {row: cell for row, cell in said.items() if row not in births}
    for number, age in _read_column(column, alone, grid, asked, roster).items():
        if number in rows:
            rows[number].fields.update(_fields(AGE, age))
    how = roster.how.get(column.at)
    roster.how[column.at] = f"where no birth stands{f'; {how}' if how else ''}"


def _run_together(lines: list[GridRow], roster: Roster) -> None:
    """Two stray quotes from one row's last cell to the next row's first make one row of both: a
    cell on two lines, and cells beyond the headings."""
    width = 1 + max(column.at for column in roster.head.columns if column.heading)
    for line in lines:
        if all(cell.empty for cell in line.cells[width:]):
            continue
        for at, cell in enumerate(line.cells):
            if cell.several_lines:
                text = (
                    f"{cell.shown} goes over several lines, and the row on beyond the headings: a "
                    "stray double quote has made one row of two. Take it away"
                )
                roster.wrong(Heading(at, "", None), line.number, text)


def _fields(name: str, value: Value) -> Mapping[str, Value]:
    """The fields of an entry that a cell says."""
    if isinstance(value, Birth):
        return {key: date.fromisoformat(day) for key, day in value.fields.items()}
    return {name: value}


def _without_repeats(lines: list[GridRow], roster: Roster) -> list[GridRow]:
    """The rows without headings that stand there again, as on each page of a print."""
    head = [fold(column.heading) for column in roster.head.columns]
    again = set()
    for line in lines:
        same = [fold(cell.text) for cell in line.cells]
        if same + [""] * (len(head) - len(same)) == head:
            again.add(line.number)
    if again:
        roster.notes.append(f"headings again, passed over: {rows_words(again)}")
    return [line for line in lines if line.number not in again]


def _cells(lines: list[GridRow], column: Heading, roster: Roster) -> dict[int, Cell]:
    """Row → the cell, where it says something; broken ones become problems."""
    found: dict[int, Cell] = {}
    for line in lines:
        cell = line.cell(column.at)
        if isinstance(cell.value, Broken):
            if column.field != AGE:  # counted from a birth that is not there
                roster.wrong(column, line.number, cell.value.why)
        elif not values.says_nothing(cell):
            found[line.number] = cell
    return found


def _bulls(lines: list[GridRow], column: Heading, grid: Grid, roster: Roster) -> list[Row]:
    """A row a tag, of which nothing else is read yet."""
    cells = _cells(lines, column, roster)
    for line in lines:
        if line.number not in cells and not isinstance(line.cell(column.at).value, Broken):
            text = "is empty, and the row says more; write his tag, or empty the row"
            roster.wrong(column, line.number, text)
        counted = [cell.shown for cell in line.cells if fold(cell.text) in TOTALS]
        if counted and line.number in cells and fold(cells[line.number].text) not in TOTALS:
            text = f"stands in a row that reads {counted[0]}: that is no bull; take the row out"
            roster.wrong(column, line.number, text)
    tags, bare = read_tags(roster, column, cells, typed=grid.typed)
    return [Row(row, tag, bare=row in bare) for row, tag in tags.items()]


def _read_column(
    column: Heading, cells: Mapping[int, Cell], grid: Grid, asked: ReadBy, roster: Roster
) -> Mapping[int, Value]:
    """Row → value of one field."""
    if column.field in DATES:
        if column.field in AHEAD:
            to_come = column.field == "turnout"
            asked = asked._replace(year=asked.year + YEARS_AHEAD, to_come=to_come)
        of_births = column.field in (BORN, AGE)
        days, how = (read_births if of_births else read_days)(
            roster, column, cells, grid.zero, asked
        )
        how += [f"a day here means {column.way}"] if column.way else []
        if how:
            roster.how[column.at] = "; ".join(how)
        return days
    for row, cell in cells.items():
        if column.field in ("name", "pen") and not grid.typed and made_by_spreadsheet(cell.text):
            text = (
                f"{column.place}: {cell.shown} is taken as it is, and looks like what a "
                "spreadsheet makes of 1-2 or 1E5: look at it"
            )
            roster.warnings.append((row, text))
    if roster.head.sort == "vet":
        from readiness.roster.vet_values import vet_reader

        return roster.read(column, cells, vet_reader(column))
    return roster.read(column, cells, values.reader(column))


# ---- what a reader of the sheet may not see, or may think was taken in: said, never refused ------


def remarks(head: Head, grid: Grid, lines: Sequence[GridRow]) -> Iterator[str]:
    """``lines``: those under the headings."""
    yield from grid.remarks
    yield from _not_taken(head, lines)
    yield from _hidden(head, grid, {line.number for line in lines})
    yield from _merged(head, grid, {line.number for line in lines})


def _not_taken(head: Head, lines: Sequence[GridRow]) -> Iterator[str]:
    """Columns of which nothing goes into the book."""
    taken = {column.field for column in head.columns}
    wide = max((len(line.cells) for line in lines), default=0)
    beyond = [Heading(at, "", None) for at in range(len(head.columns), wide)]
    for column in sorted([*head.columns, *beyond], key=lambda column: not column.heading):
        says = any(not line.cell(column.at).empty for line in lines)
        if column.field or not (column.heading or says):
            continue
        tempers = _tempers(column.at, lines)
        hint = _look(tempers, taken) if tempers else likely(column.heading, taken, head.sort)
        bare = "" if column.heading else " has no heading, and"
        yield f"{column.place}{bare} is not taken in{hint}"


def _tempers(at: int, lines: Sequence[GridRow]) -> dict[str, set[int]]:
    """What a column says that is a word for a temper → its rows."""
    found: dict[str, set[int]] = {}
    for line in lines:
        for word in line.cell(at).text.split():
            if values.meaning("temper", word):
                found.setdefault(fold(word), set()).add(line.number)
    return found


def _look(tempers: dict[str, set[int]], taken: Container[str | None]) -> str:
    """What to say of words for a temper that stand in columns which are not read: a dangerous bull
    whose column nobody reads is dangerous to whoever handles him."""
    where = list_words(f"{word} in {rows_words(rows)}" for word, rows in tempers.items())
    do = "write it into the column of the temper" if "temper" in taken else "head it Temper"
    return (
        f", AND TEMPERS MAY STAND IN IT: {where}. Where they do, {do} and import it again: until "
        "then nobody is warned of a dangerous bull"
    )


def _hidden(head: Head, grid: Grid, read: set[int]) -> Iterator[str]:
    rows = [row for row in grid.hidden_rows if row in read]
    if rows:
        yield f"{rows_words(rows)}: hidden, and read all the same"
    for column in head.columns:
        if column.field and column.letter in grid.hidden_columns:
            yield f"{column.place} is hidden, and read all the same"


def _merged(head: Head, grid: Grid, read: set[int]) -> Iterator[str]:
    """One cell over several bulls is the first one's alone."""
    places = {column.at: column.place for column in head.columns if column.field}
    rows = sorted(read)
    ends = dict.fromkeys(places, head.row)
    for first, last, at in sorted(grid.merged):
        if at not in places or first <= ends[at]:  # no cell lies in two of them
            continue
        ends[at] = last
        if others := rows[bisect_right(rows, first) : bisect_right(rows, last)]:
            yield (
                f"{places[at]}: one cell over {rows_words([first, *others])} counts for row "
                f"{first} alone; part it if it is for all"
            )
