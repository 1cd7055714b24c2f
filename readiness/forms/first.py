"""The first bulls of a book: what is said on three short pages, as entries."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from itertools import pairwise
from typing import Any

from readiness.entries.fields import NAME_MOST
from readiness.forms.forms import FORMS, Form
from readiness.forms.typed import FieldError, problem_in
from readiness.history.groups import Group, Key, farms_with, key_of, spelt
from readiness.roster.headings import SPELLINGS
from readiness.roster.kinds import OTHERS, ROSTERS
from readiness.system.errors import DataError
from readiness.system.limits import ROWS_MOST
from readiness.system.plain import fold, plain
from readiness.trade.births import is_when, read_birth
from readiness.trade.females import COWS, HEIFERS, with_class
from readiness.trade.tags import (
    match_tag,
    no_tag,
    tag_and_name,
    tag_key,
    tag_problem,
    whole_tags,
)
from readiness.trade.words import day_words, full_when_words, list_words, plural, sentence

GROUP, BULL = FORMS["first-group"], FORMS["first-bull"]
SHOWN_MOST = 3
_HEADINGS = frozenset(map(fold, (*SPELLINGS["bull"], "bull", "bulls", "tags", "ear tags")))
# The comma of 7,00914E+11 parts nothing.
_BETWEEN = re.compile(
    r"(?:[;\r\n]|(?<!\b\d),|,(?!\d+[Ee]\+\d)|(?<=\d)\s+(?:and|&)\s+(?=\d|UK|XI))+"
)
_SHORT_NUMBERS = re.compile(r"\d{1,5}(?: \d{1,5})+")
"""No whole tag is all digits in such short parts."""
_QUOTES = ('""', "''", "“”", "‘’", "„“", "«»")
_MARK = re.compile(r"(?:(?P<number>\d{1,4})[.)](?:\s+|(?=[^\W\d]))|(?P<dot>•)\s*|[-*·–]\s+)(?=\S)")


def group_in(
    said: Mapping[str, Any], on: date, who: str, groups: Collection[Key] = ()
) -> dict[str, Any] | None:
    """The group's entry that the first page says; None where it names no turnout, for a group that
    is there. One that is not among the ``groups`` and whose name says so is of heifers. Raises
    ``FieldError`` where something is said of a group without its name, or of a new one without its
    turnout."""
    of_group = [key for key in ("turnout", "females", "class") if key in said]
    if of_group and "group" not in said:
        raise _wrong("group", "name the group that is turned out then.")
    if of_group and "turnout" not in said:
        raise _wrong("turnout", "say when the group is turned out.")
    if not of_group:
        return None
    content = _said("group", on, who) | dict(said)
    content = content if key_of(content) in groups else with_class(content)
    if problem := problem_in(GROUP._replace(kind="group"), content, on):
        raise problem
    return content


def as_known(said: Mapping[str, Any], groups: Collection[Key]) -> dict[str, Any]:
    """What the first page says, its farm and its group named as the book names them (``groups``):
    where no farm is said and only one has a group of this name, it is that one's. Raises
    ``FieldError`` where several have it, and where none has and no turnout is said."""
    known = dict(said)
    if "farm" in known:
        known["farm"] = spelt(known["farm"], {farm for farm, _ in groups})
    if "group" not in known:
        return known
    farms = farms_with(known["group"], groups)
    if "farm" not in known and farms and "" not in farms:
        if len(farms) > 1:
            raise _wrong("farm", f"{list_words(farms)} have a {known['group']}: say whose it is.")
        known["farm"] = farms[0]
    farm = known.get("farm", "")
    known["group"] = spelt(known["group"], [name for at, name in groups if at == farm])
    if farm not in farms and "turnout" not in known:
        place = f" at {farm}" if farm else ""
        others = f", only at {list_words(farms)}" if farms else ""
        no_such = f"there is no group {known['group']}{place} yet{others}"
        raise _wrong("turnout", f"{no_such}: say when it is turned out.")
    return known


def turnout_moved(said: Mapping[str, Any], groups: Mapping[Key, Group], on: date) -> str:
    """That a group that is there goes out on another day by what the first page says, or a new one
    on a day that is over; "" where neither is so. ``said``: as known (``as_known``)."""
    if not {"group", "turnout"} <= said.keys():
        return ""
    there, new = groups.get(key_of(said)), date.fromisoformat(said["turnout"])
    if there is None:
        over = f"{full_when_words(new, on)}: that is over. Enter again keeps it"
        return over if new < on else ""
    if there.turnout == new.toordinal():
        return ""
    return (
        f"{there.name} is in the book and goes out on {day_words(there.turnout, on)}. Enter again "
        f"moves all of it to {day_words(new, on)}; empty leaves it where it is"
    )


def one_tag_words(tags: Iterable[str]) -> str:
    """That short numbers with blanks between are taken for one tag, and may be several; "" where
    there are none such."""
    odd = [tag for tag in tags if _SHORT_NUMBERS.fullmatch(tag)]
    if not odd:
        return ""
    return (
        f"{list_words(odd)}: one tag? If these are several, write a comma between two. Enter again "
        "takes it as it is"
    )


def alike_words(tags: Iterable[str], book: Mapping[str, str]) -> str:
    """That numbers typed for tags are the last digits of bulls who are in the book, and may mean
    them; "" where none is. ``book``: key → how he is called."""
    found = {tag: [key for key in match_tag(tag, book) if key != tag_key(tag)] for tag in tags}
    meant = [f"{tag} ({list_words([book[key] for key in keys], 'or')})"
             for tag, keys in found.items() if keys]  # fmt: skip
    if not meant:
        return ""
    one = len(meant) == 1
    return (
        f"{list_words(meant)}: a bull of the book has these last digits. Is "
        f"{'he' if one else 'one of them'} meant, write his whole tag. Enter again books "
        f"{'another bull' if one else 'other bulls'} of that number"
    )


def class_of(said: Mapping[str, Any], groups: Mapping[Key, Group]) -> str:
    """What the group of the first page counts as, cows or heifers: as is said there, else as it
    stands among the ``groups``, else by its name."""
    content = {"group": "", **said}
    there = groups.get(key_of(content))
    told = content if there else with_class(content)
    return str(told.get("class") or (there.category if there else COWS))


def bull_form(of: str, name: str = "") -> Form:
    """What is asked of a bull: his name where none stood behind his tag, whether he is safe on
    heifers where the group is ``of`` them."""
    kept = BULL.fields if of == HEIFERS else BULL.fields[:-1]
    return BULL._replace(fields=tuple(one for one in kept if not name or one.key != "name"))


def may_be_birth(name: str, today: date) -> bool:
    """Whether what was typed for a name is a day, a year, an age or a number, as his birth is."""
    text = " ".join(name.split())
    try:
        read_birth(text, today)
    except DataError:
        return text.isdigit() or is_when(text)
    return True


def bulls_in(
    said: Mapping[str, Any], tags: Mapping[str, str], on: date, who: str
) -> list[dict[str, Any]]:
    """The entries that book these bulls (tag → name), on the farm and into the group of the first
    page."""
    contents: list[dict[str, Any]] = []
    for tag, name in tags.items():
        more = {"farm": said["farm"]} if "farm" in said else {}
        more |= {"name": name} if name else {}
        contents.append(_said("bull", on, who) | {"bull": tag, **more})
        if "group" in said:
            contents.append(_said("join", on, who) | {"bull": tag, "group": said["group"]})
    return contents


def _said(kind: str, on: date, who: str) -> dict[str, Any]:
    return {"kind": kind, "on": on.isoformat()} | ({"by": who} if who else {})


def _wrong(key: str, text: str) -> FieldError:
    return FieldError(next(field for field in GROUP.fields if field.key == key), text)


# ---- tags ----------------------------------------------------------------------------------------


def is_roster(text: str) -> bool:
    """Whether the name of a file with a roster is typed, and no tags."""
    return unquoted(text).lower().endswith((*ROSTERS, *OTHERS, ".jsonl"))


def unquoted(text: str) -> str:
    """The name of a file without the quotes that a terminal puts round one dropped into it."""
    return text.strip().strip("'\"")


def pasted(text: str) -> str:
    """A list as it is pasted, a tag a line, in the one line of a field. Raises ``DataError`` for a
    table: of its other columns nothing would be taken."""
    lines = [_unquoted(line.strip()) for line in text.splitlines() if line.strip()]
    one = len(lines) == 1 and _BETWEEN.search(lines[0])  # it is parted where it is read
    bare = lines if one else _without_marks(lines)
    if any("\t" in line for line in bare):
        raise DataError(
            "This is a table of several columns. Save it as .csv or .xlsx and write the name of "
            "that file here, or paste the column of the tags alone."
        )
    if bare and fold(_unquoted(bare[0])) in _HEADINGS:
        bare = _without_marks(lines[1:]) if bare == lines else bare[1:]
    return ", ".join(bare)


def _without_marks(lines: Sequence[str]) -> list[str]:
    """The lines of a list without the numbers or dots before them, where every line has one and it
    is clearly a list: numbers count on, from 1 or with a whole tag among them."""
    marks = [_MARK.match(line) for line in lines]
    found = [mark for mark in marks if mark]
    bare = [line[mark.end() :] for line, mark in zip(lines, found, strict=False)]
    numbers = [int(mark["number"]) for mark in found if mark["number"]]
    counted = all(after == before + 1 for before, after in pairwise(numbers))
    sure = any(map(whole_tags, bare)) or (len(lines) > 1 and numbers[:1] in ([], [1]))
    dots = all(mark["dot"] for mark in found)
    return bare if len(found) == len(lines) and (dots or (counted and sure)) else list(lines)


def _unquoted(text: str) -> str:
    """A tag without the quotes round it."""
    pair, inner = text[:1] + text[-1:], text[1:-1]
    return inner.strip() if pair in _QUOTES and not {*pair} & {*inner} else text


def _parted(text: str) -> list[str]:
    """Whole tags that stand one behind the other, each with its name, one by one."""
    starts = [match.start() for match in whole_tags(text)]
    if starts[:1] != [0]:
        return [text]
    ends = [*starts[1:], len(text)]
    return [text[start:end].rstrip(" -/:") for start, end in zip(starts, ends, strict=True)]


def tags_in(text: str) -> dict[str, str]:
    """The tags of a list, parted by commas, each once, with the name that stands behind one ("":
    none). Raises ``DataError`` where one is too long or a day, or there are more than a roster may
    have."""
    found: dict[str, tuple[str, str]] = {}
    for each in _listed(text):
        tag, name = tag_and_name(each)
        for said in (each, tag):
            if is_when(said):
                raise DataError(f'"{said}" is no tag. Write the tags alone; births are asked next.')
        if why := no_tag(tag):
            raise DataError(sentence(why))
        found.setdefault(tag_key(tag), (tag, name))
    tags = dict(found.values())
    if any(len(each) > NAME_MOST for each in (*tags, *tags.values())):
        raise DataError("A tag is too long; part the tags by commas.")
    if len(tags) > ROWS_MOST:
        raise DataError(f"These are {len(tags)} bulls; at most {ROWS_MOST:,} are taken at once.")
    return tags


def _listed(text: str) -> list[str]:
    """What stands for a bull each: without the marks of a list and quotes."""
    parts = [" ".join(plain(part).split()) for part in _BETWEEN.split(text)]
    bare = _without_marks([_unquoted(part) for part in parts if part])
    return [each for part in map(_unquoted, bare) if part for each in _parted(part)]


def tags_words(tags: Mapping[str, str]) -> str:
    """How a list was read: how many bulls, the first of them, and what is odd about a tag."""
    if not tags:
        return ""
    more = len(tags) - SHOWN_MOST
    called = [f"{tag} ({name})" if name else tag for tag, name in tags.items()]
    shown = called if more <= 1 else [*called[:SHOWN_MOST], f"{more} more"]
    odd = next(filter(None, map(tag_problem, tags)), "")
    return f"{plural(len(tags), 'bull')}: {list_words(shown)}{f'. {odd}' if odd else ''}"


def moved_words(said: Mapping[str, Any], tags: Iterable[str], stands: Mapping[str, str]) -> str:
    """Which of these bulls are taken out of another group by this; "" where none is. ``stands``: a
    bull's key → the group he is in."""
    into = said.get("group")
    found = {tag: stands.get(tag_key(tag), into) for tag in tags} if into else {}
    moved = [f"{tag} (from {group})" for tag, group in found.items() if group != into]
    more = len(moved) - SHOWN_MOST
    shown = moved if more <= 1 else [*moved[:SHOWN_MOST], f"{more} more"]
    return f"Moved from another group: {list_words(shown)}" if moved else ""
