"""Global options, environment and help."""

from __future__ import annotations

import os
import re
from argparse import Namespace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from readiness import __version__
from readiness.cli.arguments import day_argument, known_argument, past_day_argument, settled
from readiness.cli.parser import COMMANDS, WRITING, WRITING_OPTIONS, built, parser, writes
from readiness.cli.visits import farm_day
from tests.cli.conftest import Run
from tests.cli.small_book import DAY, LAME, write

LOCAL_NOON = "12:00"


def test_version(run: Run) -> None:
    for arguments in (("--version",), ("--no-color", "--version")):
        ran = run(*arguments)
        assert (ran.code, ran.out) == (0, f"readiness {__version__}\n")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_says_what_it_does(run: Run, command: str) -> None:
    ran = run(command, "--help")
    assert ran.code == 0
    assert ran.out.startswith(f"usage: readiness {command}")
    summary = COMMANDS[command][1]
    assert summary[1:] in " ".join(ran.out.split())
    for option in ("--book", "--rules", "--on", "--by", "--no-color"):
        assert option in ran.out


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_of_every_command_is_explained(run: Run, command: str) -> None:
    """A line of help that stops at the option's name explains nothing."""
    out = run(command, "--help").out
    listed = out[out.index("\n\n") :]
    bare = re.findall(r"^  (--?[\w-]+(?: \S+)?)\n(?!  {10,})", listed, re.MULTILINE)
    assert bare == []


def test_the_help_names_every_command(run: Run) -> None:
    ran = run("--help")
    assert ran.code == 0
    for command, (_, summary) in COMMANDS.items():
        assert re.search(rf"^ +{command} ", ran.out, re.MULTILINE)
        assert summary.split(":")[0] in " ".join(ran.out.split())


def test_global_options_before_and_after_the_command(
    run: Run, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("READINESS_BOOK")
    before = run("--book", book, "--on", DAY, "board", "--json")
    after = run("board", "--json", "--book", book, "--on", DAY)
    mixed = run("--on", DAY, "board", "--book", book, "--json")
    assert before.code == after.code == mixed.code == 0
    assert before.out == after.out == mixed.out
    assert before.json()["on"] == DAY


def test_the_option_after_the_command_wins(run: Run, book: Path) -> None:
    assert run("--on", "2026-01-01", "board", "--json", "--on", DAY).json()["on"] == DAY


def test_the_book_from_the_environment_or_the_users_data_folder(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    farm = write(tmp_path / "farm.jsonl")
    assert run("import", farm).code == 0
    assert (tmp_path / "bulls.duckdb").is_file()
    monkeypatch.delenv("READINESS_BOOK")
    assert run("import", farm).code == 0
    assert (tmp_path / "data" / "readiness" / "bulls.duckdb").is_file()


def test_the_users_own_folder_in_a_path(
    run: Run, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A shell leaves ~ as it is in quotes and behind an equals sign."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    assert run("board", "--book=~/bulls.duckdb").code == 0
    monkeypatch.setenv("READINESS_BOOK", "~/new.duckdb")
    assert run("import", "~/farm.jsonl").code == 0
    assert (tmp_path / "new.duckdb").is_file() and not (tmp_path / "~").exists()


def test_rules_from_option_environment_or_beside_the_book(
    run: Run, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def oldest(*options: object) -> Any:
        rules = {rule["id"]: rule["value"] for rule in run("rules", "--json", *options).json()}
        return rules["feet.oldest"]

    def own(name: str, value: int) -> Path:
        path = book.with_name(name)
        path.write_text(f"[rules]\nfeet.oldest = {value}\n", encoding="utf-8")
        return path

    assert oldest() == 120
    beside = own("bulls.duckdb.toml", 91)
    assert oldest() == 91
    beside.rename(book.with_name("bulls.toml"))
    assert oldest() == 91
    monkeypatch.setenv("READINESS_RULES", str(own("environment.toml", 92)))
    assert oldest() == 92
    assert oldest("--rules", own("option.toml", 93)) == 93


def test_rules_of_one_farm(run: Run, book: Path) -> None:
    own = book.with_name("own.toml")
    own.write_text('[farm."Sallow Fell".rules]\nfeet.oldest = 80\n', encoding="utf-8")
    rules = run("rules", "--json", "--farm", "Sallow Fell", "--rules", own).json()
    assert {rule["id"]: rule["value"] for rule in rules}["feet.oldest"] == 80
    unknown = run("rules", "--farm", "Elsewhere", "--rules", own)
    assert unknown.code == 66 and "There is no farm Elsewhere in " in unknown.err
    assert unknown.err.endswith("Farms with rules of their own: Sallow Fell.\n")
    assert run("rules", "--farm", "Elsewhere", "--check", own).code == 66
    assert run("rules", "--check", own).out.strip().endswith("farms: Sallow Fell")
    assert "Sallow Fell's own rules: feet.oldest 80" in run("board", "--rules", own).out


@pytest.mark.parametrize("command", [("rules",), ("rules", "--json"), ("rules", "--check")])
def test_rules_for_a_farm_that_the_book_spells_otherwise_are_in_order_in_silence(
    run: Run, book: Path, command: tuple[str, ...]
) -> None:
    own = book.with_name("own.toml")
    rules = [*command, own] if command[-1] == "--check" else ["--rules", own, *command]
    for name, told in (("sallow FELL", ""), ("Sallow Fall", "speak of the farm Sallow Fall, and")):
        own.write_text(f'[farm."{name}".rules]\nfeet.oldest = 80\n', encoding="utf-8")
        ran = run(*rules)
        assert ran.code == 0 and told in ran.err and bool(ran.err) is bool(told)
    book.unlink()
    assert run(*rules).err == ""


def test_a_farm_of_the_book_without_rules_of_its_own_has_those_of_every_farm(
    run: Run, book: Path
) -> None:
    told = "Sallow Fell has no rules of its own: these are those of every farm.\n"
    common = run("rules", "--json")
    as_json = run("rules", "--json", "--farm", "Sallow Fell")
    assert (as_json.code, as_json.out, as_json.err) == (0, common.out, told)
    ran = run("rules", "--farm", "Sallow Fell")
    assert (ran.code, ran.out) == (0, f"{told}\n{run('rules').out}")
    book.unlink()
    assert run("rules", "--farm", "Sallow Fell").code == 66


def test_who_says_so(run: Run, book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run("log", "288", "kg 900", "--on", DAY)
    run("--by", "Meg", "log", "288", "kg 910", "--on", DAY)
    history = run("bull", "288", "--json", "--on", DAY).json()["history"]
    assert [entry["by"] for entry in history[:2]] == ["Meg", "sam"]


def test_the_day_of_the_entry(run: Run, book: Path) -> None:
    run("log", "288", "kg 900", "--on", "2026-03-30")
    history = run("bull", "288", "--json", "--on", DAY).json()["history"]
    assert [entry["on"] for entry in history if entry["kind"] == "weight"] == ["2026-03-30"]


def test_what_if_turnout_were_then(board: Any) -> None:
    assert board()["Corran"]["slack_days"] == 1
    then = board("--turnout", "2026-04-29", "--group", "Heifers")["Corran"]
    assert (then["slack_days"], then["turnout"]) == (21, "2026-04-29")


def test_one_group_of_the_board(board: Any) -> None:
    assert set(board("--group", "Hill cows")) == {"Brock"}
    assert set(board("--group", "Heifers")) == {"Tarn", "Corran", "Fenwick", "Rowan"}


def test_one_farm_of_the_board(run: Run, book: Path, board: Any) -> None:
    other = [{"kind": "bull", "on": "2026-01-10", "bull": "7", "name": "Lone"}]
    assert run("import", write(book.with_name("other.jsonl"), other)).code == 0
    assert set(board("--farm", "")) == {"Lone"}
    assert "Lone" not in board("--farm", "Sallow Fell")
    assert len(board()) == len(board("--farm", "Sallow Fell")) + 1


@pytest.mark.parametrize(
    ("known", "lame"),
    [
        ("2026-03-31", False),
        ("2026-04-01", True),
        ("2026-04-01T08:29:59+00:00", False),
        ("2026-04-01T08:30:00+00:00", True),
        ("2026-04-02T17:59:59Z", True),
        ("2026-04-02T18:00:00Z", False),
        ("2026-04-03", False),
    ],
)
def test_as_the_book_knew_it_then(run: Run, tmp_path: Path, known: str, lame: bool) -> None:
    """Recorded 1 Apr at 8:30, struck 2 Apr at 18:00; a bare date means the end of that day."""

    def receipt(number: int, recorded: str) -> dict[str, Any]:
        identity = f"0195f2a0-0000-7000-8000-{number:012d}"
        return {"id": identity, "recorded": recorded, "position": 0, "batch": f"b{number}",
                "device": "shed"}  # fmt: skip

    booked = {"kind": "bull", "on": "2026-01-10", "bull": "7",
              **receipt(1, "2026-01-10T08:00:00.000000Z")}  # fmt: skip
    score = {"kind": "mobility", "on": "2026-04-01", "bull": "7", "scale": "gb0-3", "score": 2,
             **receipt(2, "2026-04-01T08:30:00.000000Z")}  # fmt: skip
    strike = {"kind": "strike", "on": "2026-04-02", "entry": score["id"],
              **receipt(3, "2026-04-02T18:00:00.000000Z")}  # fmt: skip
    assert run("import", write(tmp_path / "a.jsonl", [booked, score, strike])).code == 0
    bull = run("board", "--json", "--on", DAY, "--known", known).json()["bulls"][0]
    assert bool(bull["reasons"]) is lame
    assert run("board", "--json", "--on", DAY).json()["bulls"][0]["reasons"] == []


def test_no_colour_where_stdout_is_no_terminal(run: Run, book: Path) -> None:
    for arguments in (("board", "--on", DAY), ("bull", "288"), ("diary",), ("rules",)):
        assert "\x1b" not in run(*arguments).out


def test_results_and_messages_go_their_own_ways(run: Run, book: Path) -> None:
    ran = run("log", "93", "lh i su healed", "--on", DAY)
    assert ran.code == 0
    assert "sole ulcer healed" in ran.out and "warning" not in ran.out
    assert ran.err.startswith("warning: ") and "6 Apr" in ran.err


def test_an_entry_from_a_person_cannot_drive_the_terminal(run: Run, book: Path) -> None:
    """A book merged from elsewhere may hold anything: what is shown is plain."""
    evil = {"kind": "bull", "on": "2026-01-10", "bull": "13", "name": "\x1b[2J[red]X\u202e\nY"}
    assert run("import", write(book.with_name("evil.jsonl"), [evil])).code == 0
    for arguments in (("board", "--on", DAY), ("bull", "13", "--on", DAY), ("diary", "--on", DAY)):
        out = run(*arguments).out
        assert "\x1b" not in out and "\u202e" not in out
        assert "[2J[red]X" in out


def test_every_reading_command_on_the_same_book(run: Run, book: Path) -> None:
    before = os.stat(book)
    for arguments in (("board",), ("bull", "288"), ("diary",), ("rules",), ("verify",)):
        ran = run(*arguments, "--on", DAY)
        assert ran.code == 0 and ran.out and not ran.err, arguments
    assert os.stat(book).st_mtime_ns == before.st_mtime_ns
    assert LAME in run("bull", "417", "--on", DAY).out


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("board", date(2026, 12, 5)), ("turnout Heifers", date(2026, 12, 5)),
        ("diary", date(2026, 12, 5)), ("visits", date(2026, 12, 5)), ("cover", date(2026, 12, 5)),
        ("bull 288", date(2026, 12, 5)), ("sheet", date(2026, 12, 5)), ("", date(2026, 12, 5)),
        ("log 288 ok", date(2025, 12, 5)), ("book-in 288", date(2025, 12, 5)),
        ("turnout Heifers --let-out", date(2025, 12, 5)), ("cover --take", date(2025, 12, 5)),
    ],
)  # fmt: skip
def test_a_day_without_its_year_is_the_nearest_to_see_and_lies_behind_where_it_is_written(
    line: str, day: date
) -> None:
    """The board of 5 Dec asked for on 29 Nov was that of a year ago, and empty."""
    asked = parser().parse_args(["--on", "5 dec", *line.split()])
    assert settled(asked, lambda: date(2026, 11, 29), writes=writes(asked)).on == day


def test_commands_and_options_that_write_are_there() -> None:
    assert COMMANDS.keys() >= WRITING
    given = {action.dest for each in built(parser()).values() for action in each._actions}
    assert set(WRITING_OPTIONS) <= given


def test_a_year_of_two_digits_is_of_our_time(run: Run, book: Path) -> None:
    assert "16 Jan 2027" in run("board", "--on", "16/1/27").out
    assert "2027-01-16 is still to come" in run("log", "288", "walk 0", "--on", "16/1/27").err


def test_what_is_written_for_another_day_says_for_which(run: Run, book: Path) -> None:
    assert run("log", "288", "kg 900", "--on", DAY).out.startswith("3 Apr 2026, 00288 ")
    assert run("log", "288", "kg 900").out.startswith("00288 ")


@pytest.mark.parametrize(
    "command", [("turnout", "Heifers"), ("cover", "--group", "Heifers"),
                ("board", "--group", "Heifers")],
)  # fmt: skip
def test_a_group_of_which_nothing_was_said_yet_is_not_over(
    run: Run, book: Path, command: tuple[str, ...]
) -> None:
    """That its season was over, and the next one to be written, was false."""
    early = run(*command, "--on", "2025-12-05")
    assert early.code == 66
    assert "On 5 Dec 2025 nothing was said yet of Heifers: the first entry is of 10 Jan 2026." in (
        early.err
    )


def test_a_group_that_the_farm_does_not_have_is_not_over(run: Run, book: Path) -> None:
    other = [{"kind": "bull", "on": "2026-01-10", "bull": "7", "farm": "Hill End"}]
    assert run("import", write(book.with_name("other.jsonl"), other)).code == 0
    ran = run("turnout", "Heifers", "--farm", "Hill End", "--on", DAY)
    assert (ran.code, ran.err) == (66, "readiness: There is no group Heifers at Hill End.\n")


def test_the_days_of_other_options_hang_on_the_day_of_the_command() -> None:
    options = Namespace(
        on=past_day_argument("3 apr"), turnout=day_argument("16/1"), known=known_argument("1 apr"),
        keep=[farm_day("14 apr Hill End"), farm_day("2026-05-01")],
    )  # fmt: skip
    found = settled(options, lambda: date(2026, 11, 28), writes=False)
    assert (found.on, found.turnout) == (date(2026, 4, 3), date(2027, 1, 16))
    assert found.keep == [(date(2026, 4, 14), "Hill End"), (date(2026, 5, 1), None)]
    assert found.known == known_argument("2026-04-01")
