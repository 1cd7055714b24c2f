"""``stats``: the figures as text, JSON, CSV and a page."""

from __future__ import annotations

import csv
import io
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import DAY, FARM

USAGE, NOT_FOUND, WRONG = 2, 66, 65


def asked(run: Run, *options: object) -> Any:
    ran = run("stats", "--json", "--on", DAY, *options)
    assert ran.code == 0, ran.err
    return ran.json()


def codes(of: Any) -> dict[str, tuple[int, int]]:
    return {r["value"]: (r["n"], r["of"]) for r in of["rows"] if r["by"] == "code" and r["n"]}


def test_the_small_farm_by_hand(run: Run, book: Path) -> None:
    """Corran, Tarn, Fenwick and Rowan lifted sound on 10 Feb, Brock with an ulcer on 4 Mar."""
    of = asked(run)
    assert of["lifted"] == {"feet": 24, "bulls": 6}
    assert codes(of) == {"SU": (1, 24)}
    assert asked(run, "--since", "2026-03-01")["lifted"] == {"feet": 4, "bulls": 1}
    assert codes(asked(run, "--on", "2026-03-03")) == {}
    assert asked(run, "--farm", FARM)["farm"] == FARM
    assert asked(run, "--known", "2020-01-01")["lifted"]["feet"] == 0


def test_text_and_csv_say_the_same_as_the_json(run: Run, book: Path) -> None:
    of = asked(run)
    table = list(csv.DictReader(io.StringIO(run("stats", "--csv", "--on", DAY).out)))
    assert [(r["by"], r["value"], int(r["n"]), int(r["of"])) for r in table] == [
        (r["by"], r["value"], r["n"], r["of"]) for r in of["rows"]
    ]
    text = run("stats", "--on", DAY).out
    assert "24 feet lifted, of 6 bulls" in text and "few: 1 of 24" in text


def test_a_strike_takes_its_lift_away(run: Run, book: Path) -> None:
    [wrong] = run("log", "00288", "lf o tn/3", "--json", "--on", DAY).json()["written"]
    assert codes(asked(run)) == {"SU": (1, 25), "TN": (1, 25)}
    assert run("strike", wrong).code == 0
    assert codes(asked(run)) == {"SU": (1, 24)}


def test_the_page_is_written_and_nobody_elses_file_is(run: Run, book: Path, tmp_path: Path) -> None:
    page = tmp_path / "figures.html"
    ran = run("stats", "--html", page, "--on", DAY)
    assert ran.code == 0 and "24 feet lifted" in ran.out
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert run("stats", "--html", "-", "--on", DAY).out.startswith("<!doctype html>")
    notes = tmp_path / "notes.html"
    notes.write_text("mine")
    assert run("stats", "--html", notes, "--on", DAY).code == WRONG
    assert notes.read_text() == "mine"


@pytest.mark.parametrize(
    ("options", "code", "said"),
    [
        (("--since", "2026-04-04"), USAGE, "--since 2026-04-04 is after 2026-04-03"),
        (("--json", "--csv"), USAGE, "not allowed with"),
        (("--json", "--html", "-"), USAGE, "not allowed with"),
        (("--large-print",), USAGE, "--large-print is of the page"),
        (("--farm", "Nowhere"), NOT_FOUND, "There is no farm Nowhere"),
    ],
)
def test_what_cannot_be_asked(
    run: Run, book: Path, options: tuple[str, ...], code: int, said: str
) -> None:
    ran = run("stats", "--on", DAY, *options)
    assert (ran.code, ran.out) == (code, "") and said in ran.err


def test_it_starts_no_screen_and_validates_nothing_again(book: Path) -> None:
    probe = (
        "import sys; from readiness.__main__ import main; "
        f"main(['stats', '--book', {str(book)!r}, '--on', {DAY!r}]); "
        "print([m for m in ('textual', 'pydantic', 'jinja2', 'scipy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert done.stdout.rstrip().endswith("[]")
