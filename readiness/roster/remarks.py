"""What a reader of the sheet may not see, or may think was taken in: said, never refused."""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence

from readiness.roster.cells import Grid, GridRow, rows_words
from readiness.roster.headings import Column, Head, fold, likely
from readiness.roster.values import meaning
from readiness.trade.words import list_words


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
    beyond = [Column(at, "", None) for at in range(len(head.columns), wide)]
    for column in sorted([*head.columns, *beyond], key=lambda column: not column.heading):
        says = any(not line.cell(column.at).empty for line in lines)
        if column.field or not (column.heading or says):
            continue
        tempers = _tempers(column.at, lines)
        hint = _look(tempers, taken) if tempers else likely(column.heading, taken)
        bare = "" if column.heading else " has no heading, and"
        yield f"{column.place}{bare} is not taken in{hint}"


def _tempers(at: int, lines: Sequence[GridRow]) -> dict[str, set[int]]:
    """What a column says that is a word for a temper → its rows."""
    found: dict[str, set[int]] = {}
    for line in lines:
        for word in line.cell(at).text.split():
            if meaning("temper", word):
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
    for first, last, at in sorted(grid.merged):
        others = [row for row in range(first + 1, last + 1) if row in read]
        if at in places and first > head.row and others:
            yield (
                f"{places[at]}: one cell over {rows_words([first, *others])} counts for row "
                f"{first} alone; part it if it is for all"
            )
