"""A person's own settings: made, checked strictly, and in force wherever they say so."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

import platformdirs
import pytest

from readiness.settings.read import TEMPLATE, read_settings
from readiness.system import locations
from tests.cli.small_book import DAY, FARM, write
from tests.cli.test_process import on_a_terminal
from tests.settings.conftest import Run, Set

ROSTER = "tag,name\nUK 700914 400347,Ullin\n"


def history(run: Run, tag: str) -> list[dict[str, Any]]:
    told: list[dict[str, Any]] = run("bull", tag, "--json", "--on", DAY).json()["history"]
    return told


def farm_of(run: Run, tag: str) -> object:
    bulls = {bull["bull"]: bull for bull in run("board", "--json", "--on", DAY).json()["bulls"]}
    return bulls[tag]["farm"]


# ---- the file ------------------------------------------------------------------------------------


def test_the_file_is_made_once_and_says_nothing_of_itself(run: Run, place: Path) -> None:
    made = run("settings", "--json").json()
    assert made["made"] and made["file"] == str(place)
    assert (made["who"], made["farm"], made["theme"]) == ("sam", None, "dark")
    assert (made["scales"], made["visits"], made["keys"]) == (
        {},
        {},
        {"every": {}, "board": {}, "crush": {}},
    )
    assert place.read_bytes() == TEMPLATE.read_bytes()


def test_what_a_person_wrote_is_never_written_over(run: Run, settings: Set) -> None:
    path = settings('who = "Meg Harker"\n')
    ran = run("settings")
    assert ran.code == 0 and f"{path}: in order" in ran.out and "Meg Harker" in ran.out
    assert path.read_text(encoding="utf-8") == 'who = "Meg Harker"\n'


def test_every_line_of_the_file_made_can_be_taken_as_it_stands(run: Run, settings: Set) -> None:
    text = TEMPLATE.read_text(encoding="utf-8")
    shown = re.sub(r"^# (?=[\w.]+ = )", "", text, flags=re.MULTILINE)
    settings(shown)
    told = run("settings", "--json").json()
    assert not told["made"] and told["who"] == "your name" and told["farm"]
    assert set(told["scales"]) == {"mobility", "condition"}
    assert set(told["visits"]) == {"workdays", "except", "holidays"}
    assert all(told["keys"].values())


def test_a_folder_that_cannot_be_written_is_said(run: Run, place: Path) -> None:
    place.parent.parent.mkdir(parents=True)
    place.parent.write_text("a file where the folder should be", encoding="utf-8")
    ran = run("settings")
    assert ran.code in (66, 73) and str(place.parent) in ran.err and ran.err.count("\n") == 1


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere it is the library's own answer")
@pytest.mark.parametrize("named", ["", "/somewhere/else", None])
def test_the_folder_is_the_one_that_the_library_names(
    named: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    if named is not None:
        monkeypatch.setenv("XDG_CONFIG_HOME", named)
    theirs = platformdirs.user_config_path("readiness", appauthor=False)
    assert locations.config_directory() == theirs


def test_another_file_by_the_environment(
    run: Run, settings: Set, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings('who = "Meg"\n')
    other = tmp_path / "other.toml"
    monkeypatch.setenv("READINESS_SETTINGS", str(other))
    assert run("board", "--on", DAY).code == 66
    other.write_text('who = "Ann"\n', encoding="utf-8")
    run("log", "288", "kg 900", "--on", DAY)
    monkeypatch.setenv("READINESS_SETTINGS", "/dev/null")
    run("log", "288", "kg 910", "--on", DAY)
    assert [entry["by"] for entry in history(run, "288")[:2]] == ["sam", "Ann"]


# ---- what is wrong -------------------------------------------------------------------------------

WRONG = [
    ("whom = 'Meg'", "whom: this key is not known. Did you mean who?"),
    ("who = 3", "who: some words are wanted, not 3"),
    ("who = 'root'", "who: root is an account and no person"),
    ("who = 'Root'", "who: root is an account and no person"),
    ("who = ' ROOT '", "who: root is an account and no person"),
    (f"farm = '{'a' * 121}'", "farm: 121 letters are too many"),
    ("theme = 'blue'", "theme: 'blue' is no theme. Write one of dark, light."),
    ("scales = 3", "scales: a table is wanted"),
    ("[scales]\nmobility = 'gb'", "[scales] mobility: 'gb' is no scale"),
    ("[scales]\nwalk = 'gb0-3'", "[scales] walk: this key is not known"),
    ("[visits]\nworkdays = 'Tuesdays'", "[visits] workdays: "),
    ("[visits]\nexcept = ['Easter']", "[visits] except: 'Easter' is no day"),
    ("[visits]\nholidays = 'Scotland'", "[visits] holidays: a code as"),
    ("[visits]\nminutes = 20", "[visits] minutes: this key is not known"),
    ("[keys.bord]\nc = 'f2'", "[keys] bord: this key is not known. Did you mean board?"),
    ("[keys.board]\nc = 'ctrl+c'", "[keys.board] c: 'ctrl+c' is no key"),
    ("[keys.board]\nc = '1'", "[keys.board] c: '1' is no key"),
    ("[keys.board]\nc = 'f2'\nd = 'f2'", "[keys.board] d: f2 is what c moves to"),
    ("who = ", "this is not valid TOML"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "problem"), WRONG, ids=[text for text, _ in WRONG])
def test_what_is_wrong_is_said_with_its_file_and_key(
    run: Run, settings: Set, text: str, problem: str
) -> None:
    path = settings(f"{text}\n")
    ran = run("settings")
    assert (ran.code, ran.out) == (78, "")
    assert ran.err.startswith(f"readiness: {path}: {problem}") or problem in ran.err
    assert ran.err.count("\n") == 1 and str(path) in ran.err


KEYS = [
    ("[keys.crush]\nw = 'f2'", "[keys.crush] w: what answers a question stays, and moves nowhere"),
    ("[keys.board]\nz = 'f2'", "[keys.board] z: this key does nothing there"),
    ("[keys.board]\n1 = 'f2'", "[keys.board] 1: this key stays as it is"),
    ("[keys.board]\nc = 'd'", "[keys.board] c: d is taken: what is due"),
    ("[keys.board]\nc = 'q'", "[keys.board] c: q is taken: quit"),
    ("[keys.crush]\nu = 'y'", "[keys.crush] u: y may be an answer there"),
    ("[keys.every]\nq = 'z'", "[keys.every] q: z may be an answer there"),
    ("[keys.every]\nq = 'f3'\n[keys.board]\nc = 'f3'", "f3 is given to two keys"),
    ("[keys.board]\nc = 'f3'\nd = 'F3'", "f3 is given to two keys"),
    ("[keys.board]\nc = 'f1'", "[keys.board] c: f1 is taken: help. Give it another key.\n"),
    ("[keys.crush]\nu = 'F1'", "[keys.crush] u: F1 is taken: help. Give it another key.\n"),
    ("[keys.board]\nf1 = 'h'", "[keys.board] f1: this key stays as it is. Take the line out."),
    ("[keys.board]\n'ctrl+c' = 'h'", "ctrl+c: this key stays as it is. Take the line out."),
    ("[keys.board]\ntab = 'h'", "[keys.board] tab: this key does nothing there"),
    ("[keys.crush]\n'?' = 'h'", "[keys.crush] ?: h may be an answer there. Give it f2 to f12."),
    ("[keys.every]\nEsc = 'z'", "[keys.every] Esc: z may be an answer there. Give it f2 to f12."),
]


@pytest.mark.parametrize(("text", "problem"), KEYS, ids=[text for text, _ in KEYS])
def test_keys_that_are_taken_are_refused(run: Run, settings: Set, text: str, problem: str) -> None:
    path = settings(f"{text}\n")
    ran = run("settings")
    assert (ran.code, ran.out) == (78, "")
    assert problem in ran.err and str(path) in ran.err


def test_no_command_works_on_settings_that_are_wrong(run: Run, settings: Set, book: Path) -> None:
    settings("theme = 'blue'\n")
    before = book.read_bytes()
    for command in (("board",), ("log", "288", "kg 900"), ("undo",), ("rules",)):
        assert run(*command, "--on", DAY).code == 78
    assert book.read_bytes() == before
    assert run("settings", "--help").code == 0


# ---- what is set is so ---------------------------------------------------------------------------


def test_who_says_so_unless_a_command_says_another(run: Run, settings: Set, book: Path) -> None:
    settings('who = "Meg Harker"\n')
    run("log", "288", "kg 900", "--on", DAY)
    run("log", "288", "kg 910", "--on", DAY, "--by", "Ann")
    assert [entry["by"] for entry in history(run, "288")[:2]] == ["Ann", "Meg Harker"]


def test_nobody_is_called_root(
    run: Run, settings: Set, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("USER", "Root")
    run("log", "288", "kg 900", "--on", DAY)
    assert "by" not in history(run, "288")[0]
    assert "nobody" in run("settings").out
    for name in ("root", "Root", "ROOT "):
        refused = run("log", "288", "kg 910", "--on", DAY, "--by", name)
        assert refused.code == 2 and "no person" in refused.err, name
    assert [entry["kg"] for entry in history(run, "288") if entry["kind"] == "weight"] == [900]


def test_the_farm_of_a_new_bull_and_of_no_other(run: Run, settings: Set, book: Path) -> None:
    settings('farm = "Kestrel  rigg"\n')
    run("book-in", "UK 700914 400347", "--on", DAY)
    run("book-in", "UK 123450 600417", "--pen", "4", "--on", DAY)
    assert farm_of(run, "UK 700914 400347") == "Kestrel  rigg"
    assert farm_of(run, "UK 123450 600417") == FARM
    run("book-in", "9", "--farm", FARM, "--on", DAY)
    assert farm_of(run, "9") == FARM


def test_the_farm_of_a_rosters_new_bulls_alone(
    run: Run, settings: Set, book: Path, tmp_path: Path
) -> None:
    settings('farm = "Kestrel Rigg"\n')
    roster = tmp_path / "bulls.csv"
    roster.write_text(f"{ROSTER}UK 123450 600417,Corran\n", encoding="utf-8")
    assert run("import", roster, "--on", DAY).code == 0
    assert farm_of(run, "UK 700914 400347") == "Kestrel Rigg"
    assert farm_of(run, "UK 123450 600417") == FARM


def test_a_group_is_the_farms_where_several_have_one(run: Run, settings: Set, book: Path) -> None:
    other = [{"kind": "group", "on": "2026-01-10", "group": "Heifers", "turnout": "2026-05-01",
              "farm": "Kestrel Rigg"}]  # fmt: skip
    assert run("import", write(book.with_name("other.jsonl"), other)).code == 0
    assert run("turnout", "Heifers", "--on", DAY).code == 2
    settings(f'farm = "{FARM}"\n')
    assert run("turnout", "Heifers", "--json", "--on", DAY).json()["farm"] == FARM
    said = run("group", "Heifers", "--females", "41", "--json", "--on", DAY).json()
    assert (said["group"]["farm"], said["group"]["females"]) == (FARM, 41)
    made = run("group", "Late", "--turnout", "2026-06-01", "--json", "--on", DAY).json()
    assert made["group"]["farm"] == FARM
    one = run("turnout", "Heifers", "--farm", "Kestrel Rigg", "--json", "--on", DAY).json()
    assert one["farm"] == "Kestrel Rigg"


def test_the_scales_unless_the_rules_beside_the_book_say_others(
    run: Run, settings: Set, book: Path
) -> None:
    settings('[scales]\nmobility = "five1-5"\ncondition = "nine"\n')
    run("log", "288", "walk 5; cond 5.5", "--on", DAY)
    assert {entry.get("scale") for entry in history(run, "288")[:2]} == {"five1-5", "nine"}
    assert run("log", "288", "walk 0", "--on", DAY).code == 65
    book.with_name("bulls.toml").write_text('[scales]\nmobility = "nz0-3"\n', encoding="utf-8")
    run("log", "288", "walk 0", "--on", DAY)
    assert history(run, "288")[0]["scale"] == "nz0-3"


def test_working_days_and_holidays_of_the_visits(run: Run, settings: Set, book: Path) -> None:
    def days() -> set[str]:
        plan = run("visits", "--json", "--on", DAY).json()
        return {visit["on"] for visit in plan["visits"]}

    settings('[visits]\nworkdays = "FREQ=WEEKLY;BYDAY=TU"\nexcept = [2026-04-07]\n')
    assert days() and all(_weekday(day) == 1 for day in days()) and "2026-04-07" not in days()
    rules = {rule["id"]: rule for rule in run("rules", "--json").json()}
    own = rules["visits.workdays"]
    assert own["overridden"] and own["source"] == "your own settings, readiness.toml"
    book.with_name("bulls.toml").write_text(
        '[rules]\nvisits.workdays = "FREQ=WEEKLY;BYDAY=TH"\n', encoding="utf-8"
    )
    assert days() and all(_weekday(day) == 3 for day in days())


def test_a_place_whose_holidays_nobody_knows(run: Run, settings: Set, book: Path) -> None:
    path = settings('[visits]\nholidays = "GB-ZZZ"\n')
    for command in (("settings",), ("rules",), ("visits",), ("diary",)):
        ran = run(*command, "--on", DAY)
        assert ran.code == 78
        assert ran.err.startswith(f"readiness: {path}: [visits] holidays: no holidays of ZZZ")
    assert run("board", "--on", DAY).code == 0


def _weekday(day: str) -> int:
    from datetime import date

    return date.fromisoformat(day).weekday()


def test_text_on_a_light_terminal_has_darker_colours(
    run: Run, settings: Set, book: Path, tmp_path: Path
) -> None:
    arguments = ("board", "--book", book, "--on", DAY)
    where = {"TERM": "xterm-256color", "XDG_CONFIG_HOME": str(tmp_path / "config")}
    assert "\x1b[38;5;166m■" in on_a_terminal(*arguments, **where)
    settings('theme = "light"\n')
    light = on_a_terminal(*arguments, **where)
    assert "\x1b[38;5;130m■" in light and "38;5;166" not in light


def test_a_command_that_has_no_settings_reads_none(run: Run, book: Path) -> None:
    """A cold board does not wait for their reader."""
    from tests.cli.test_process import imported

    modules = imported("board", "--json", "--book", book, "--on", DAY)
    assert "readiness.settings.read" not in modules and "platformdirs" not in modules


def test_settings_are_plain_text(run: Run, settings: Set, book: Path) -> None:
    settings('who = "\\u001b[2JMeg\\u202e"\n')
    assert run("settings").out.isascii()
    assert read_settings(settings('who = "A\\nB"\n')).who == "A B"
