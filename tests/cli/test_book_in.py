"""``book-in``: a bull's particulars from the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import DAY
from tests.cli.test_exit_codes import refused
from tests.entries.samples import FULL

TAG = "UK 123456 200002"
ALL = (
    "--name", "Corran", "--breed", "Limousin", "--born", "2022-04-03", "--origin", "bought",
    "--arrived", "2026-02-01", "--temper", "watch", "--no-heifer-safe", "--pen", "3",
    "--farm", "Sallow Fell",
)  # fmt: skip


@pytest.mark.parametrize(
    ("tag", "why"),
    [
        ("7.00914E+11", "how a spreadsheet shows a long number"),
        (f"{TAG} UK 123456 300003", f"{TAG} and UK 123456 300003 are 2 tags in one; write one for"),
    ],
)
def test_what_is_no_tag_books_nobody(run: Run, tag: str, why: str) -> None:
    refused(run("book-in", tag, "--name", "Tom", "--on", DAY), 65, why, "Nothing was written.")


def said_of(run: Run, tag: str) -> list[dict[str, Any]]:
    history: list[dict[str, Any]] = run("bull", tag, "--json", "--on", DAY).json()["history"]
    return [entry for entry in history if entry["kind"] == "bull"]


def test_all_of_him_in_one_command_begins_a_book(run: Run) -> None:
    ran = run("book-in", TAG, *ALL, "--on", DAY)
    assert (ran.code, ran.err) == (0, "")
    words, saved = ran.out.splitlines()
    assert words == (
        f"Bull {TAG}: name Corran, Limousin, born 3 Apr 2022, bought, arrived 1 Feb, temper watch, "
        "not for heifers, pen 3, farm Sallow Fell."
    )
    (entry,) = said_of(run, TAG)
    assert saved == f"saved {entry['id']}"
    wanted = {**FULL["bull"], "bull": TAG, "by": "sam"}
    assert {key: entry[key] for key in wanted} == wanted


def test_later_fields_replace_and_the_others_stay(run: Run) -> None:
    assert run("book-in", TAG, *ALL, "--on", "2026-03-01").code == 0
    again = run("book-in", "uk123456200002", "--name", "Rowan", "--heifer-safe", "--on", DAY)
    assert again.code == 0
    assert "his name was Corran until now, Rowan here: is this the same bull?" in again.err
    newest, first = said_of(run, "200002")
    assert (newest["name"], newest["heifer_safe"], "breed" in newest) == ("Rowan", True, False)
    assert (first["name"], first["heifer_safe"]) == ("Corran", False)
    (bull,) = run("board", "--json", "--on", DAY).json()["bulls"]
    assert (bull["name"], bull["farm"]) == ("Rowan", "Sallow Fell")


def test_for_programs_it_says_what_import_says(run: Run) -> None:
    said = run("book-in", TAG, "--json", "--on", DAY).json()
    assert [entry["id"] for entry in said_of(run, TAG)] == said["written"]
    assert (said["skipped"], said["warnings"]) == ([], [])


def test_what_is_odd_about_his_tag_is_a_warning(run: Run) -> None:
    ran = run("book-in", "UK 123456 700002", "--on", DAY)
    assert ran.code == 0
    assert "the check digit is 7" in ran.err and "warning: " in ran.err


def test_the_end_of_another_bulls_tag_books_a_new_bull_and_says_so(run: Run, book: Path) -> None:
    ran = run("book-in", "288", "--temper", "dangerous", "--on", DAY)
    assert ran.code == 0
    assert "288 is booked as a new bull; the tag of 00288 ends so too" in ran.err
    assert run("undo").code == 0
    told = run("book-in", "288", "--temper", "dangerous", "--on", DAY, "--json")
    assert (told.code, told.err) == (0, ran.err)
    (warning,) = told.json()["warnings"]  # programs read no stderr
    assert [warning["entry"]] == told.json()["written"]
    assert ran.err == f"warning: {warning['text']}\n"
    assert run("undo").code == 0
    assert len(said_of(run, "00288")) == 1
    same = run("book-in", "00288", "--temper", "dangerous", "--on", DAY)
    assert same.err == ""
    assert said_of(run, "00288")[0]["temper"] == "dangerous"


@pytest.mark.parametrize(
    ("options", "code", "said"),
    [
        ((TAG, "--origin", "bought"), 65, "arrived"),
        ((TAG, "--name", "x" * 121), 65, "name"),
        (("  ",), 65, "bull"),
        ((TAG, "--born", "03/04/2022"), 2, "3 Apr 2022 or 4 Mar 2022"),
        ((TAG, "--born", "2027", "--on", DAY), 2, "still to come"),
        ((TAG, "--temper", "mad"), 2, "--temper"),
        ((), 2, "TAG"),
        ((TAG, "--breed"), 2, "--breed"),
    ],
)
def test_what_is_wrong_is_refused_and_begins_no_book(
    run: Run, tmp_path: Path, options: tuple[str, ...], code: int, said: str
) -> None:
    refused(run("book-in", *options), code, said)
    assert not (tmp_path / "bulls.duckdb").exists()


def test_a_place_that_cannot_be_written_is_said(run: Run) -> None:
    refused(run("book-in", TAG, "--book", "/proc/none/bulls.duckdb"), 73)


def test_a_farm_spelt_a_little_otherwise_is_the_farm_of_the_book(run: Run) -> None:
    assert run("book-in", TAG, "--farm", "Sallow Fell", "--on", "2026-03-01").code == 0
    again = run("book-in", TAG, "--farm", "sallow  FELL", "--pen", "4", "--on", DAY)
    assert (again.code, again.err) == (0, "")
    assert said_of(run, TAG)[0]["farm"] == "Sallow Fell"


# ---- as people say it --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("born", "said", "words"),
    [
        ("14/3/22", {"born": "2022-03-14"}, "born 14 Mar 2022"),
        ("mar 2022", {"born": "2022-03-31", "born_from": "2022-03-01"}, "born Mar 2022"),
        ("2022", {"born": "2022-12-31", "born_from": "2022-01-01"}, "born 2022"),
        ("3 years", {"born": "2023-04-03", "born_from": "2022-04-04"},
         "born 4 Apr 2022 to 3 Apr 2023"),
    ],
)  # fmt: skip
def test_a_birth_is_kept_as_near_as_it_is_known(
    run: Run, born: str, said: dict[str, str], words: str
) -> None:
    ran = run("book-in", TAG, "--born", born, "--on", DAY)
    assert (ran.code, ran.err) == (0, "")
    assert words in ran.out
    (entry,) = said_of(run, TAG)
    assert {key: entry[key] for key in entry if key.startswith("born")} == said


def test_a_bull_of_whom_the_year_alone_is_known_is_too_young_until_surely_old_enough(
    run: Run,
) -> None:
    """14 months from 31 December 2024 are over on the last of February 2026."""
    run("book-in", TAG, "--born", "2024", "--on", "2026-02-01")
    for on, told in (("2026-02-27", True), ("2026-02-28", False)):
        (bull,) = run("board", "--json", "--on", on).json()["bulls"]
        young = [reason for reason in bull["reasons"] if reason["rule"] == "age.least"]
        assert bool(young) == told
        if young:
            assert young[0]["since"] is None
            assert young[0]["text"].endswith("at the latest (born 2024)")


def test_his_birthday_said_later_takes_the_place_of_the_year(run: Run) -> None:
    run("book-in", TAG, "--born", "2024", "--on", "2026-02-01")
    better = run("book-in", TAG, "--born", "10 dec 2024", "--on", "2026-02-02")
    assert better.err == ""
    assert "Dec 2024" in run("bull", TAG, "--on", "2026-02-10").out
    (bull,) = run("board", "--json", "--on", "2026-02-10").json()["bulls"]
    assert bull["reasons"] == []
    other = run("book-in", TAG, "--born", "2023", "--on", "2026-02-03")
    assert "born 10 Dec 2024 until now, 2023 here: is this the same bull?" in other.err


def test_the_words_that_people_use_are_taken(run: Run) -> None:
    run("book-in", TAG, "--origin", "HB", "--temper", "Steady", "--arrived", "1 feb", "--on", DAY)
    (entry,) = said_of(run, TAG)
    assert (entry["origin"], entry["temper"], entry["arrived"]) == (
        "homebred", "quiet", "2026-02-01",
    )  # fmt: skip
    ran = run("group", "Late", "--turnout", "9 may", "--class", "maiden heifers", "--on", DAY)
    assert "Late without a farm: turnout 2026-05-09" in ran.out and "heifers" in ran.out


def test_days_without_a_year_are_read_by_the_day_of_the_command(run: Run) -> None:
    run("group", "Late", "--turnout", "1 mar", "--on", DAY)
    (group,) = run("board", "--json", "--on", DAY).json()["groups"]
    assert group["turnout"] == "2027-03-01"
    what_if = run("board", "--json", "--turnout", "16/4", "--group", "Late", "--on", DAY).json()
    assert what_if["groups"][0]["turnout"] == "2026-04-16"
