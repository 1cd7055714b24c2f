"""No name that people wrote leads out of the folder that was given, and none is read as SQL."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.book.drafts import Draft, Drafts, unsaved_beside
from readiness.desk.desk import Desk
from readiness.herd.team import Team
from readiness.report.paper import write_beside, write_bull, write_diary, write_gate
from readiness.system.clock import SystemClock
from tests.cli.small_book import DAY, Line
from tests.hostile.watch import CANARY, Box, a_box, count
from tests.volume import sampled

NAMES = (
    "../../outside/x", "/etc/passwd", "..", "~", "a/b\\c", "CON", ".hidden", "-rf", "牛" * 40, "x" * 120, "*?<>|:",
    "'; DROP TABLE entry; --", "'); COPY (SELECT 1) TO '../outside/sql'; --", '" UNION SELECT * FROM entry --',
    "x' OR '1'='1", "read_csv('../outside/*')", "%s %(x)s {0} $1 ?",
)  # fmt: skip


def lines_of(name: str) -> Iterator[Line]:
    yield {
        "kind": "group",
        "on": "2026-01-10",
        "group": name,
        "turnout": "2026-04-09",
        "farm": name,
        "females": 30,
    }
    yield {
        "kind": "bull",
        "on": "2026-01-10",
        "bull": name,
        "name": name,
        "farm": name,
        "pen": name,
    }
    yield {"kind": "join", "on": "2026-01-11", "bull": name, "group": name}
    yield {"kind": "feet", "on": DAY, "bull": name, "by": name, "note": name, "lifted": ["LF"],
           "findings": [{"foot": "LF", "claw": "outer", "code": "SU", "severity": 2}]}  # fmt: skip
    yield {
        "kind": "check",
        "on": DAY,
        "bull": name,
        "check": "papers",
        "result": "pass",
        "laboratory": name,
    }


@pytest.fixture(scope="module")
def box() -> Iterator[Box]:
    """A book whose bulls, farms, groups and people are called so."""
    with a_box() as made:
        said = [json.dumps(line) for name in NAMES for line in lines_of(name)]
        (made.folder / "names.jsonl").write_text("\n".join(said), encoding="utf-8")
        ran = made.run("import", "names.jsonl", "--on", DAY)
        assert (ran.code, ran.wrong) == (0, [])
        yield made


def desk_of(box: Box) -> Desk:
    clock = SystemClock()
    return Desk(Book(box.book, clock), None, clock, on=date.fromisoformat(DAY))


@sampled("name", NAMES, most=9)
def test_pages_beside_the_book_stay_beside_it_whatever_is_called_so(box: Box, name: str) -> None:
    written: list[Path] = []

    def write() -> None:
        desk = desk_of(box)
        written.append(write_bull(desk, "".join(name.split()).upper()))
        written.append(write_gate(desk, Team(name, name)))
        written.extend(write_diary(desk, farm=name))
        written.extend(write_beside(desk, farm=name, group=name))

    assert box.ask(write).wrong == []
    assert len(set(written)) == len(written) == 6
    assert {path.parent for path in written} == {box.folder}
    for path in written:
        assert path.is_file()
        path.unlink()


def test_an_export_writes_within_its_folder_and_reads_no_name_as_sql(box: Box) -> None:
    before = count(box.book)
    ran = box.run("export", "out", "--on", DAY, "--json")
    assert (ran.code, ran.wrong) == (0, [])
    files = json.loads(ran.out)["files"]
    assert all(".." not in file["path"] and not file["path"].startswith("/") for file in files)
    assert {str(path.relative_to(box.folder / "out")) for path in (box.folder / "out").rglob("*")
            if path.is_file()} == {file["path"] for file in files}  # fmt: skip
    assert count(box.book) == before


@sampled("name", NAMES, of=(NAMES[0], "-rf", NAMES[11]))
def test_a_bull_called_like_sql_or_a_path_is_found_by_his_name_and_nothing_else(
    box: Box, name: str
) -> None:
    before = count(box.book)
    ran = box.run("bull", "--json", "--on", DAY, "--", name)
    assert (ran.code, ran.wrong) == (0, [])
    assert json.loads(ran.out)["bull"] == name
    for command in (("board", f"--farm={name}"), ("turnout", f"--farm={name}", "--", name)):
        ran = box.run("--on", DAY, *command)
        assert (ran.code, ran.wrong) == (0, []), command
    assert count(box.book) == before


def test_the_book_of_such_names_is_whole(box: Box) -> None:
    ran = box.run("verify", "--json")
    assert (ran.code, json.loads(ran.out)["problems"]) == (0, [])


def test_an_export_over_an_older_one_with_a_link_in_it_leaves_what_the_link_names(box: Box) -> None:
    assert box.run("export", "linked", "--on", DAY).code == 0
    icar = box.folder / "linked" / "icar"
    for file in icar.iterdir():
        file.unlink()
    icar.rmdir()
    icar.symlink_to(box.outside)
    ran = box.run("export", "linked", "--on", DAY)
    assert ran.refused
    assert ran.wrong == []
    assert [path.name for path in box.outside.iterdir()] == [CANARY]


def test_a_link_among_half_entered_bulls_is_neither_read_nor_removed(box: Box) -> None:
    folder = unsaved_beside(box.book)
    folder.mkdir()
    link = folder / "left.jsonl"
    link.symlink_to(box.outside / CANARY)

    def take_over() -> None:
        window = Drafts(box.book)
        assert window.open() == []
        window.put(Draft("../../outside/x", "walk 0", DAY))
        window.drop("../../outside/x")
        window.close()

    assert box.ask(take_over).wrong == []
    assert link.is_symlink()
    link.unlink()
    folder.rmdir()
