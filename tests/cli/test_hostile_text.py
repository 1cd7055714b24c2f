"""What people wrote, in every output: markup, formulas, controls, right-to-left, very long.

The book is written past the validation, as a copy of somebody else's program might have written it.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from readiness.book import Book
from readiness.cli.output import Output
from readiness.entries.entry import NewEntry
from readiness.report.look import Look
from readiness.system.clock import FixedClock
from readiness.system.plain import plain
from tests.cli.conftest import Run
from tests.cli.small_book import DAY, FEET, Line, sound, write

ATTACKS = {
    "101": '=HYPERLINK("http://example.invalid")',
    "102": "+1+1",
    "103": "-2+3",
    "104": "@SUM(A1)",
    "105": "\t=1+1",
    "106": "\r=1+1",
    "107": "\x1b[31mred\x1b[0m\x07\x00\x9b31m",
    "108": "\u202egnorw\u202c\u2066\u200f",
    "109": "<script>alert(1)</script>",
    "110": "[bold red]markup[/] [@click=app.quit]x[/]",
    "111": "line\nbreak\r\nand\u2028more",
    "112": "x" * 5000,
    "113": "\ud800half",
    "114": "'quoted\" ; , \\ %s {0}",
    "115": "BEGIN:VEVENT\r\nEND:VCALENDAR",
}
"""Tag → name; farm, group, people, notes and products are of the same kind."""

ULCER = {"foot": "LH", "claw": "outer", "code": "SU", "severity": 2}

TEXTS = (
    ("board",), ("board", "--turnout", "2026-04-20"), ("board", "--csv"), ("board", "--html", "-"),
    ("bull", "109"), ("bull", "109", "--html", "-"), ("bull", "108", "--html", "-"),
    ("diary",), ("diary", "--season"), ("diary", "--csv"), ("diary", "--html", "-"),
    ("visits",), ("sheet",), ("sheet", "--html", "-"),
    ("stats",), ("stats", "--csv"), ("stats", "--html", "-"), ("rules",),
)  # fmt: skip
JSONS = (("board", "--json"), ("bull", "109", "--json"), ("diary", "--json"), ("visits", "--json"),
         ("stats", "--json"))  # fmt: skip


def attacked_lines() -> Iterator[Line]:
    farm, group = "=1+1\x1b[2J\u202e<b>", "@SUM(1)\n<i>"
    yield {"kind": "group", "on": "2026-01-10", "group": group, "turnout": "2026-04-09",
           "farm": farm}  # fmt: skip
    for tag, name in ATTACKS.items():
        yield {"kind": "bull", "on": "2026-01-10", "bull": tag, "name": name, "breed": name,
               "farm": farm, "pen": name, "temper": "watch"}  # fmt: skip
        yield {"kind": "join", "on": "2026-01-11", "bull": tag, "group": group}
        yield from sound(tag)[1:]
        yield {"kind": "feet", "on": DAY, "bull": tag, "by": name, "note": name, "lifted": FEET,
               "findings": [ULCER]}  # fmt: skip
        yield {"kind": "treatment", "on": DAY, "bull": tag, "by": name, "given_by": name,
               "product": name, "reason": name}  # fmt: skip
        yield {"kind": "check", "on": DAY, "bull": tag, "check": "papers", "result": "fail"}


@pytest.fixture
def attacked(run: Run, tmp_path: Path) -> Path:
    clock = FixedClock(datetime(2026, 4, 3, 18, tzinfo=UTC))
    book = Book(tmp_path / "bulls.duckdb", clock, device="other")
    book.create()
    book.append([_unchecked(number, line) for number, line in enumerate(attacked_lines())], "x")
    return book.path


def _unchecked(number: int, line: dict[str, Any]) -> NewEntry:
    content = json.loads(json.dumps(line).replace("\\ud800", ""))  # no file holds half a letter
    return NewEntry(f"00000000-0000-7000-8000-{number:012d}", content, number + 1)


def formulas(text: str) -> list[str]:
    """The cells that a spreadsheet would work out; a number is none."""
    cells = [cell for row in csv.reader(io.StringIO(text, newline="")) for cell in row]
    return [
        cell
        for cell in cells
        if cell.startswith(("=", "+", "-", "@", "\t", "\r"))
        and not re.fullmatch(r"-?\d+(\.\d+)?", cell)
    ]


def unseen(text: str) -> list[str]:
    """What drives a terminal, turns what is read round, or cannot be seen."""
    ends = re.sub(r"\r?\n", "", text)
    return sorted({character for character in ends if plain(character) != character})


def test_no_text_carries_what_cannot_be_seen_or_drives_a_terminal(run: Run, attacked: Path) -> None:
    for command in TEXTS:
        ran = run(*command, "--on", DAY)
        assert ran.code == 0, (command, ran.err)
        assert unseen(ran.out) == [], command
        assert unseen(ran.err) == [], command
        assert "Traceback" not in ran.err
        assert "gnorw" in ran.out or command[0] not in ("board", "sheet"), command


def test_every_json_can_be_read(run: Run, attacked: Path) -> None:
    for command in JSONS:
        ran = run(*command, "--on", DAY)
        assert ran.code == 0, (command, ran.err)
        assert ran.out.isascii()
        assert isinstance(ran.json(), dict)


def test_no_cell_of_a_table_is_a_formula(run: Run, attacked: Path) -> None:
    for command in (("board", "--csv"), ("stats", "--csv")):
        table = run(*command, "--on", DAY).out
        assert table.count("\n") > 5
        assert formulas(table) == []


def test_markup_is_text_in_every_page(run: Run, attacked: Path) -> None:
    for command in TEXTS:
        if "--html" in command:
            page = run(*command, "--on", DAY).out
            assert "<script" not in page, command
            assert "<b>" not in page, command
            assert "&lt;b&gt;" in page or command[0] == "stats", command


def test_a_roster_of_such_names_is_shown_as_it_is_and_comes_in_plain(
    run: Run, tmp_path: Path
) -> None:
    roster = io.StringIO(newline="")
    writer = csv.writer(roster)
    writer.writerow(["tag", "name", "breed", "<script>", "=1+1", "\x1b[2J"])
    # A file with a NUL is no text at all, one with half a letter no UTF-8: both are refused whole.
    short = {t: n for t, n in ATTACKS.items() if len(n) < 100 and not set(n) & {"\x00", "\ud800"}}
    writer.writerows([tag, name, name, name, name, name] for tag, name in short.items())
    file = tmp_path / "roster.csv"
    file.write_text(roster.getvalue(), encoding="utf-8", newline="")
    for options in (("--check",), ()):
        ran = run("import", file, *options)
        assert ran.code == 0, ran.err
        assert unseen(ran.out + ran.err) == []
    names = {bull["bull"]: bull["name"] for bull in run("board", "--json").json()["bulls"]}
    assert names["109"] == ATTACKS["109"]
    assert names["101"] == ATTACKS["101"]
    assert unseen("".join(filter(None, names.values()))) == []


def test_an_export_of_such_a_book_is_whole_and_safe(
    run: Run, attacked: Path, tmp_path: Path
) -> None:
    ran = run("export", tmp_path / "out", "--on", DAY)
    assert ran.code == 0, ran.err
    tables = sorted((tmp_path / "out").rglob("*.csv"))
    assert len(tables) > 5
    for table in tables:
        text = table.read_text(encoding="utf-8")
        assert formulas(text) == [], table
        assert len({len(row) for row in csv.reader(io.StringIO(text, newline=""))}) == 1, table
    messages = sorted((tmp_path / "out").rglob("*.json"))
    assert messages
    for file in messages:
        json.loads(file.read_text(encoding="utf-8"))


# ---- names of files, books and tags, in whatever is said of them ---------------------------------

ODD = "a\x1b]0;t\x07\x1b[2J\x7f\u202eb"
"""Sets a terminal's title, clears it, and turns what follows round."""


def test_no_message_carries_what_a_file_or_a_book_is_called(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = tmp_path / ODD
    room.mkdir()
    farm, book = room / f"{ODD}.jsonl", room / f"{ODD}.duckdb"
    write(farm)
    (room / "bad.jsonl").write_bytes(b"{\n")
    (room / "roster.csv").write_text("tag,name\n00601,Wren\n")
    monkeypatch.setenv("READINESS_BOOK", str(book))
    monkeypatch.setenv("READINESS_SETTINGS", str(room / "readiness.toml"))
    for code, command in (
        (66, ("board",)), (0, ("import", farm)), (0, ("import", farm, "--check")),
        (65, ("import", room / "bad.jsonl")), (66, ("import", room / "none.jsonl")),
        (0, ("import", room / "roster.csv")), (0, ("verify",)), (0, ("backup",)),
        (0, ("backup", room / "copy")), (73, ("backup", room / "copy")),
        (0, ("--book", room / "new", "restore", room / "copy")),
        (65, ("--book", farm, "board")), (0, ("board", "--html", room / "board.html")),
        (0, ("diary", "--ics", room / "diary.ics")), (0, ("visits", "--ics", room / "v.ics")),
        (0, ("export", room / "out")), (0, ("settings",)), (0, ("demo", "--book", room / "demo")),
        (78, ("--rules", farm, "board")), (2, ("--on", ODD, "board")), (2, ("board", f"--{ODD}")),
        (66, ("bull", ODD)), (66, ("log", ODD, "walk 1")), (2, (ODD,)), (66, ("strike", ODD, "x")),
        (0, ("book-in", "7", "--name", ODD)), (0, ("group", ODD, "--turnout", "2026-04-20")),
        (0, ("undo",)), (65, ("log", "00122", ODD)), (0, ("board", "--farm", ODD)),
    ):  # fmt: skip
        ran = run(*command)
        assert unseen(ran.out) == [] == unseen(ran.err), command
        assert code == ran.code or ran.code in (2, 65, 66), (command, ran.code, ran.err)


def test_colours_of_ours_pass_and_nothing_else_does(capsys: pytest.CaptureFixture[str]) -> None:
    output = Output(Look(colour=True))
    output.say(f"{output.look.paint('go', 'GO')} {ODD}\nnext")
    assert capsys.readouterr().out == "\x1b[38;5;74mGO\x1b[0m a]0;t[2Jb\nnext\n"
    output.note(f"{ODD}\nnext")
    output.warn([ODD])
    output.json({"name": ODD})
    said = capsys.readouterr()
    assert said.err == "a]0;t[2Jb\nnext\nwarning: a]0;t[2Jb\n"
    assert said.out.isascii() and said.out.strip().isprintable()
    assert json.loads(said.out)["name"] == ODD
