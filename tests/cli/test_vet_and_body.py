"""What the vet and the eye said of a bull, from the command line to sheet, card, page and export;
and looks of older books, which say no outcome."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from readiness.book import Book
from readiness.entries.entry import NewEntry
from readiness.system.clock import SystemClock
from tests.cli.conftest import Run
from tests.cli.small_book import DAY
from tests.pages.books import spaced

TAG = "00288"
LINE = (
    "vetlook foot fit lf; vetlook lame again 3 may rh; vetlook body unfit joint lh; "
    "body penis wrong; body joint lh watch; vet ok cm 30 stands; lf unwrap; "
    "given vet: drops no pain"
)
SAID = (
    "Vet looked at the foot LF: fit.",
    "Vet looked at lameness on RH: sees him again on 3 May.",
    "Vet looked at the joint LH: unfit.",
    "Penis: wrong.",
    "Joint LH: to watch.",
    "Vet examination satisfactory: scrotum 30 cm, the vet stands by it.",
    "LF: unwrapped.",
    "Given by vet: drops, no pain relief.",
)
OLD_LOOK = {"kind": "vet-look", "on": DAY, "bull": TAG, "about": "foot", "foot": "LF"}


@pytest.fixture
def logged(run: Run, book: Path) -> str:
    """What ``log`` printed."""
    ran = run("log", TAG, LINE, "--on", DAY)
    assert ran.code == 0, ran.err
    return ran.out


def test_log_reads_back_what_was_said(logged: str) -> None:
    assert [said for said in SAID if said not in logged] == []


@pytest.mark.usefixtures("logged")
def test_all_of_it_stands_on_the_day_sheet_with_the_wrap_counted(run: Run) -> None:
    sheet = " ".join(run("sheet", "--on", DAY).out.split())
    assert [said for said in SAID if said not in sheet] == []
    assert "unwrapped: 1 foot of 1 bull" in sheet


@pytest.mark.usefixtures("logged")
def test_all_of_it_stands_in_his_history(run: Run) -> None:
    history = " ".join(run("bull", TAG, "--on", DAY).out.split())
    assert [said for said in SAID if said not in history] == []


@pytest.mark.usefixtures("logged")
def test_a_part_of_the_body_stands_beside_the_vets_words_on_his_page(
    run: Run, tmp_path: Path
) -> None:
    page = tmp_path / "bull.html"
    assert run("bull", TAG, "--html", page, "--on", DAY).code == 0
    text = spaced(page.read_text(encoding="utf-8"))
    of_the_vet = text.split("Examinations, treatments, illness and hurts")[1].split("<h2")[0]
    assert [said for said in (*SAID[:6], SAID[7]) if said not in of_the_vet] == []


def test_a_hired_bull_is_booked_with_his_day_or_refused(run: Run, book: Path) -> None:
    ran = run("book-in", "00901", "--origin", "hired", "--on", DAY)
    assert ran.code == 65
    assert "a hired bull needs the day he arrived" in ran.err
    ran = run("book-in", "00901", "--origin", "hired", "--arrived", "2026-03-30", "--on", DAY)
    assert ran.code == 0
    assert "hired, arrived 30 Mar" in ran.out


@pytest.fixture
def old(book: Path) -> Path:
    """A book that holds a look without an outcome, as it was written before there was one."""
    look = NewEntry("0195f2a0-0000-7000-8000-000000000002", OLD_LOOK)
    Book(book, SystemClock()).append([look], "")
    return book


@pytest.mark.parametrize(
    "command",
    [("board",), ("board", "--json"), ("board", "--csv"), ("bull", TAG), ("bull", TAG, "--json"),
     ("sheet",), ("diary",), ("diary", "--json"), ("visits",), ("stats",), ("verify",),
     ("log", TAG, "vetlook foot fit lf")],
    ids=" ".join,
)  # fmt: skip
@pytest.mark.usefixtures("old")
def test_no_command_stumbles_over_a_look_without_an_outcome(
    run: Run, command: tuple[str, ...]
) -> None:
    ran = run(*command, "--on", DAY)
    assert (ran.code, ran.err) == (0, "")


@pytest.mark.usefixtures("old")
def test_a_look_without_an_outcome_is_said_so_and_exported_as_it_is(
    run: Run, tmp_path: Path
) -> None:
    said = "Vet looked at the foot LF: outcome not said."
    assert said in " ".join(run("bull", TAG, "--on", DAY).out.split())
    assert run("export", tmp_path / "out", "--on", DAY).code == 0
    with (tmp_path / "out" / "csv" / "vet_looks.csv").open(encoding="utf-8", newline="") as handle:
        (row,) = csv.DictReader(handle)
    assert (row["about"], row["outcome"], row["foot"]) == ("foot", "", "LF")


@pytest.mark.usefixtures("old")
def test_its_line_of_an_export_is_refused_with_what_to_write(run: Run, tmp_path: Path) -> None:
    """An outcome that nobody said is not made up: the person writes it into the line."""
    run("export", tmp_path / "out", "--on", DAY)
    ran = run("import", tmp_path / "out" / "entries.jsonl", "--book", tmp_path / "new.duckdb")
    assert ran.code == 65
    assert "outcome: is missing" in ran.err and "write one of fit, unfit, again" in ran.err
