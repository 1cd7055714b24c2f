"""``group``: a slip in the farm is said, and the group is written all the same.

Checked against the contract: groups are per farm, and without --farm it is the unnamed farm's. The
book is the small farm's: Heifers and Hill cows at Sallow Fell.
"""

from __future__ import annotations

from pathlib import Path

from tests.cli.conftest import Ran, Run
from tests.cli.small_book import DAY, FARM


def group(run: Run, name: str, *options: str) -> Ran:
    ran = run("group", name, "--turnout", "2026-05-01", "--on", DAY, *options)
    assert ran.code == 0, ran.err
    return ran


def farms(run: Run, name: str) -> list[str | None]:
    """Whose the groups of that name are on the board."""
    groups = run("board", "--json", "--on", DAY).json()["groups"]
    return [each["farm"] for each in groups if each["group"] == name]


def test_of_no_farm_where_one_farm_has_it(run: Run, book: Path) -> None:
    ran = group(run, "Hill cows")
    assert ran.out.startswith("Hill cows of no farm: turnout 2026-05-01\nsaved ")
    assert ran.err.endswith(
        ": There is a group Hill cows at Sallow Fell; this one is of no farm: give --farm "
        '"Sallow Fell" if it is meant\n'
    )
    assert farms(run, "Hill cows") == [None, FARM]
    assert group(run, "Hill cows").err == ""  # it is a group of its own now


def test_of_no_farm_where_none_or_two_have_it(run: Run, book: Path) -> None:
    assert group(run, "Late").err == ""
    group(run, "Hill cows", "--farm", "Over Skell")
    assert group(run, "Hill cows").err == ""


def test_at_a_farm_of_the_book(run: Run, book: Path) -> None:
    ran = group(run, "Hill cows", "--farm", FARM)
    assert ran.out.startswith("Hill cows at Sallow Fell: turnout 2026-05-01\n") and ran.err == ""


def test_at_a_farm_that_is_not_in_the_book(run: Run, book: Path) -> None:
    ran = group(run, "Hill cows", "--farm", "Sallow Fel")
    assert ran.err.endswith(
        ": Sallow Fel is new: no bull and no group of the book is there yet; the nearest is Sallow "
        'Fell: give --farm "Sallow Fell" if it is meant\n'
    )
    assert FARM in farms(run, "Hill cows") and "Sallow Fel" in farms(run, "Hill cows")
    assert group(run, "Late", "--farm", "Nowhere").err.endswith("of the book is there yet\n")
    (warning,) = group(run, "Late", "--farm", "Elsewhere", "--json").json()["warnings"]
    assert warning["text"].startswith("Elsewhere is new")


def test_the_first_group_of_a_book_is_not_odd(run: Run, tmp_path: Path) -> None:
    assert group(run, "Hill cows", "--farm", FARM).err == ""


def test_a_group_that_is_nearly_another_of_its_farm(run: Run, book: Path) -> None:
    for name in ("Hil cows", "HILL COWS"):
        said = group(run, name, "--farm", FARM).err
        assert "There is a group Hill cows already; this is another" in said
    assert group(run, "Team 1", "--farm", FARM).err == ""
    assert group(run, "Team 2", "--farm", FARM).err == ""


def test_a_farm_of_blanks_is_none(run: Run, tmp_path: Path) -> None:
    assert group(run, "Late", "--farm", " ").out.startswith("Late of no farm: turnout 2026-05-01")
