"""A vet's sheet: a row a bull or a test, taken in whole or not at all."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from readiness.entries.models import KINDS, own_columns
from readiness.roster.headings import SORTS
from readiness.roster.vet_headings import VET_SPELLINGS
from tests.cli.small_book import Line, bull, write
from tests.roster.conftest import Run
from tests.roster.grids import Rows, csv_bytes, read, xlsx_bytes

ON = ("--on", "2026-04-03")
HEAD = (
    "Ear tag", "Name", "Date", "Outcome", "Scrotum cm", "Semen by", "Motility %", "Motility method",
    "Morphology", "Normal %", "Libido", "Parts examined", "Feet", "Examined by", "Notes",
)  # fmt: skip
MERROW = (
    "00417", "Merrow", "13 Mar 2026", "passed", "37,5", "Electro", "70 %", "individual",
    "yes", 82, "not tested", "seen eyes, legs; felt testes", "no", "J. Hart", "in the yard",
)  # fmt: skip
SAID: Line = {
    "kind": "vet-exam", "on": "2026-03-13", "bull": "00417", "by": "R. Hale",
    "outcome": "satisfactory", "scrotum_cm": 37.5, "collection": "electro-ejaculation",
    "motility_pct": 70, "motility_by": "individual", "morphology": True, "normal_pct": 82,
    "libido": "not-seen",
    "examined": [{"part": "eyes", "how": "seen"}, {"part": "legs", "how": "seen"},
                 {"part": "testes", "how": "felt"}],
    "feet_seen": False, "examiner": "J. Hart", "note": "in the yard",
}  # fmt: skip
TEST_HEAD = ("Tag", "Test", "Result", "Lab", "Reading", "Sampled on", "Valid until")
BVD = ("00417", "BVD test", "pass", "Sike Laboratories", "negative, 1:20", "2026-03-01", "1 Mar 27")


@pytest.fixture
def here(run: Run, tmp_path: Path) -> Path:
    booked = [*bull("00417", "Merrow"), *bull("00388", "Gorse"), *bull("10388", "Rowan")]
    assert run("import", write(tmp_path / "bulls.jsonl", booked)).code == 0
    return tmp_path


def sheet(folder: Path, *rows: Any, name: str = "vet.csv") -> str:
    make = xlsx_bytes if name.endswith("xlsx") else csv_bytes
    (folder / name).write_bytes(make(rows))
    return str(folder / name)


def told(run: Run, kind: str, tag: str = "00417") -> list[Line]:
    """What the book holds of his entries of a kind, without what an import adds."""
    kept = ("id", "recorded", "position", "batch", "device", "who")
    history = run("bull", tag, "--json", *ON).json()["history"]
    return [{k: v for k, v in e.items() if k not in kept} for e in history if e["kind"] == kind]


@pytest.mark.parametrize("name", ["vet.csv", "vet.xlsx"])
def test_every_column_of_an_examination_goes_into_its_entry(
    run: Run, here: Path, name: str
) -> None:
    ran = run("import", sheet(here, HEAD, MERROW, name=name), *ON, "--by", "R. Hale")
    assert ran.out.endswith("1 new, 0 updated, 0 unchanged; 1 entry written\n"), ran.err
    assert "a vet's sheet, " in ran.out
    assert told(run, "vet-exam") == [SAID]


def test_a_row_may_hold_an_examination_and_a_test_and_a_bull_several_rows(
    run: Run, here: Path
) -> None:
    head = (*HEAD[:4], *TEST_HEAD[1:])
    exam = ("00417", "", "13 Mar 2026", "ok")
    rows = [(*exam, *BVD[1:]), ("417", "", "13 Mar 2026", "", "lepto", "failed")]
    ran = run("import", sheet(here, head, *rows), *ON, "--json").json()
    assert len(ran["written"]) == 3
    assert ran["rosters"][0]["sort"] == "vet"
    (done,) = told(run, "vet-exam")
    assert (done["on"], done["outcome"]) == ("2026-03-13", "satisfactory")
    lepto, bvd = sorted(told(run, "check"), key=lambda entry: str(entry["on"]), reverse=True)
    assert (lepto["on"], lepto["check"], lepto["result"]) == ("2026-03-13", "lepto", "fail")
    assert bvd | {"by": ""} == {
        "kind": "check", "on": "2026-03-01", "bull": "00417", "by": "", "check": "BVD-test",
        "result": "pass", "laboratory": "Sike Laboratories", "reading": "negative, 1:20",
        "valid_until": "2027-03-01",
    }  # fmt: skip


def test_the_same_sheet_taken_in_again_by_another_writes_nothing(run: Run, here: Path) -> None:
    file = sheet(here, HEAD, MERROW)
    assert run("import", file, *ON, "--by", "R. Hale").code == 0
    again = run("import", file, "--on", "2026-04-05", "--by", "T. Ines")
    assert again.out.endswith("0 new, 0 updated, 1 unchanged; 0 entries written\n")
    struck = run("undo").code
    assert struck == 0 and told(run, "vet-exam") == []
    assert run("import", file, *ON).out.endswith("1 entry written\n")


def test_another_examination_of_that_day_is_said(run: Run, here: Path) -> None:
    assert run("log", "00417", "vet ok", "--on", "2026-03-13").code == 0
    ran = run("import", sheet(here, HEAD, MERROW), *ON)
    assert "row 2: the book has another examination of his on 13 Mar 2026: both stand" in ran.err
    assert len(told(run, "vet-exam")) == 2


WRONG: list[tuple[dict[str, object], str]] = [
    ({"Ear tag": "999"}, 'column A "Ear tag": 999 is not in the book; correct the tag'),
    ({"Ear tag": "388"}, 'column A "Ear tag": 388 may be 00388 or 10388; write the whole tag'),
    ({"Date": ""}, 'column C "Date": no day is said'),
    ({"Date": "3/4/26"}, "is 3 Apr 2026 or 4 Mar 2026"),
    ({"Date": "2099-03-13"}, "13 Mar 2099 is still to come: nobody has seen him then"),
    ({"Outcome": ""}, 'column D "Outcome": is missing; a vet-exam entry needs it'),
    ({"Outcome": "fine"}, '"fine" is not understood; write satisfactory, deferred or unsatisf'),
    ({"Scrotum cm": 375}, 'column E "Scrotum cm": 375 is out of range; write 10 to 70 cm'),
    ({"Scrotum cm": "wide"}, '"wide" is not a number; write it in cm'),
    ({"Semen by": "none"}, 'column G "Motility %": is said, and no semen'),
    ({"Motility method": "eye"}, '"eye" is not understood; write gross, individual or computer'),
    ({"Morphology": "82"}, "a share of normal sperm goes into a column headed Normal sperm"),
    ({"Morphology": "no"}, 'column J "Normal %": is said, and morphology was not done'),
    ({"Libido": "so so"}, "write keen, slow, unwilling or not-seen"),
    ({"Parts examined": "eyes"}, 'column L "Parts examined": "eyes" is not known here'),
    ({"Parts examined": "seen eyes eyes"}, "eyes seen stands there twice; say it once"),
    ({"Feet": "some"}, '"some" is neither yes nor no'),
]


@pytest.mark.parametrize(("change", "text"), WRONG)
def test_what_is_wrong_is_told_by_row_and_column_and_nothing_is_written(
    run: Run, here: Path, change: dict[str, object], text: str
) -> None:
    wrong = [change.get(head, said) for head, said in zip(HEAD, MERROW, strict=True)]
    right = ["10388", "Rowan", *MERROW[2:]]
    ran = run("import", sheet(here, HEAD, right, wrong), *ON)
    assert ran.code == 65
    assert text in ran.err and "row" in ran.err
    assert told(run, "vet-exam", "10388") == []


def test_a_tag_that_is_not_in_the_book_hides_nothing_else_that_is_wrong(
    run: Run, here: Path
) -> None:
    change: dict[str, object] = {"Ear tag": "999", "Scrotum cm": 375, "Date": "2099-03-13"}
    wrong = [change.get(head, said) for head, said in zip(HEAD, MERROW, strict=True)]
    ran = run("import", sheet(here, HEAD, wrong), *ON)
    for text in ("999 is not in the book", "375 is out of range", "is still to come"):
        assert text in ran.err


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"Result": "negative"}, "what the laboratory wrote goes into a column headed Reading"),
        ({"Result": "fail"}, 'column G "Valid until": goes with pass only'),
        ({"Result": ""}, 'column C "Result": is missing'),
        ({"Test": ""}, 'column B "Test": is missing'),
        ({"Test": "mobility"}, "is a name of the program's own"),
        ({"Sampled on": "soon"}, '"soon" is no day that can be read'),
    ],
)
def test_a_wrong_test_is_told_by_row_and_column(
    run: Run, here: Path, change: dict[str, object], text: str
) -> None:
    row = [change.get(head, said) for head, said in zip(TEST_HEAD, BVD, strict=True)]
    ran = run("import", sheet(here, TEST_HEAD, row), *ON)
    assert (ran.code, text in ran.err) == (65, True), ran.err
    assert told(run, "check") == []


def test_of_two_rows_with_one_examination_one_is_kept(run: Run, here: Path) -> None:
    ran = run("import", sheet(here, HEAD, MERROW, MERROW), *ON)
    assert ran.code == 65
    assert "row 2 has an examination of his on 13 Mar 2026 already; keep one" in ran.err


def test_a_name_that_is_not_his_and_a_row_that_says_nothing_are_said(run: Run, here: Path) -> None:
    empty = ["10388", "", "", *[""] * 11, "a good walker"]
    ran = run("import", sheet(here, HEAD, ["00417", "Alder", *MERROW[2:]], empty), *ON)
    assert ran.code == 0
    assert "row 2: the sheet calls him Alder, the book Merrow: is it he?" in ran.err
    assert "row 3: says nothing of an examination or a test" in ran.err


def test_it_stands_on_the_days_sheet_and_check_shows_it_first(run: Run, here: Path) -> None:
    file = sheet(here, HEAD, MERROW)
    shown = " ".join(run("import", file, "--check", *ON).out.split())
    assert "row 2 new 00417 Merrow: day examined 13 Mar 2026; note in the yard" in shown
    assert "scrotum 37.5 cm; how semen was got electro-ejaculation; motility 70 %" in shown
    assert told(run, "vet-exam") == []
    assert run("import", file, *ON).code == 0
    assert "Vet examination satisfactory" in run("sheet", "--on", "2026-03-13").out


def test_a_share_that_the_spreadsheet_shows_in_per_cent_is_read_as_it_is_shown(
    run: Run, here: Path
) -> None:
    def as_percent(page: Any) -> None:
        page["D2"].number_format = "0%"

    rows: Rows = [("Tag", "Date", "Outcome", "Motility"), ("00417", date(2026, 3, 13), "ok", 0.65)]
    (here / "shown.xlsx").write_bytes(xlsx_bytes(rows, as_percent))
    assert run("import", str(here / "shown.xlsx"), *ON).code == 0
    assert told(run, "vet-exam")[0]["motility_pct"] == 65
    (here / "bare.xlsx").write_bytes(xlsx_bytes(rows))
    assert "0.65 may be 65 % or less than 1 %; write it as 65" in " ".join(
        run("import", str(here / "bare.xlsx"), *ON).err.replace('"', "").split()
    )


# ---- which sheet it is ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heading", "field"),
    [(said, field) for field, spellings in VET_SPELLINGS.items() for said in spellings],
)
def test_no_heading_of_a_vets_sheet_means_two_things(heading: str, field: str) -> None:
    telling = [one for one in (("test", "check"), ("outcome", "outcome")) if one[1] != field]
    found = read([["tag", f" {heading.title()}: ", *(said for said, _ in telling)], ["00601"]])
    assert field in [column.field for column in found.head.columns]
    assert found.head.sort == "vet"


def test_a_roster_with_a_column_for_results_stays_a_roster() -> None:
    rows = [["tag", "born", "breed", "temper", "test", "notes"], ["00601", "", "", "", "", ""]]
    found = read(rows)
    assert found.head.sort == "roster"
    assert 'column E "test" is not taken in' in [text for _, text in found.warnings]


def test_a_result_of_no_test_is_the_vets_word() -> None:
    found = read([["tag", "date", "result", "scrotum"], ["00601", "", "", ""]])
    assert [column.field for column in found.head.columns] == [
        "bull", "on", "outcome", "scrotum_cm",
    ]  # fmt: skip


def test_every_field_of_an_examination_and_a_test_has_a_column() -> None:
    fields = {*own_columns(KINDS["vet-exam"]), *own_columns(KINDS["check"]), "note"}
    assert fields <= SORTS["vet"].keys()
