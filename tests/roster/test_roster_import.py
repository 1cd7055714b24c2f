"""A roster as people have it goes into the book, or not at all.

The spreadsheet was written by LibreOffice Calc 7.4 from ``files/whinny_bank.fods``, as a person
would have filled it in: a title, an empty row and column, British dates as date cells, one typed
as text, tags as text and as numbers, formulas, a hidden row.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.entries.entry import Entry
from readiness.roster.cells import rows_words
from tests.cli.conftest import Run
from tests.cli.small_book import DAY
from tests.roster.grids import ON, read, read_xlsx, take

WHINNY = Path(__file__).parent / "files" / "whinny_bank.xlsx"


def roster(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def bull(run: Run, tag: str, *options: object) -> dict[str, Any]:
    ran = run("bull", tag, "--json", "--on", DAY, *options)
    assert ran.code == 0, ran.err
    found: dict[str, Any] = ran.json()
    return found


def last(run: Run, tag: str, kind: str) -> dict[str, Any]:
    found: dict[str, Any] = next(
        entry for entry in bull(run, tag)["history"] if entry["kind"] == kind
    )
    return found


def test_a_spreadsheet_made_by_hand_goes_in_first_time(run: Run) -> None:
    ran = run("import", WHINNY, "--on", DAY)
    assert ran.code == 0, ran.err
    assert ran.out.endswith("whinny_bank.xlsx: 6 new, 0 updated, 0 unchanged; 10 entries written\n")
    for tag, born, said in (
        ("UK 700914 100512", "2021-04-03", {"name": "Garth", "origin": "homebred"}),
        ("UK 700914 100519", "2022-02-23", {"temper": "quiet", "heifer_safe": False}),
        ("UK 700914 500523", "2020-05-03", {"origin": "bought", "arrived": "2026-01-12"}),
        ("UK 700914 600531", "2023-11-09", {"name": "Scaur", "heifer_safe": True}),
        ("UK 012345 700077", "2022-07-30", {"temper": "dangerous", "arrived": "2025-10-02"}),
        ("UK 700914 500544", "2024-03-18", {"name": "Whin", "breed": "Aberdeen Angus"}),
    ):
        booked = last(run, tag, "bull")
        assert {"born": born, **said}.items() <= booked.items(), booked
    assert last(run, "UK 700914 100519", "weight")["kg"] == 1048.5
    assert "heifer_safe" not in last(run, "UK 700914 500544", "bull")  # a dash says nothing


def test_what_was_read_as_it_was_not_written_is_said(run: Run) -> None:
    err = run("import", WHINNY, "--on", DAY).err.splitlines()
    assert err == [
        'warning: whinny_bank.xlsx: column B "Ear Tag No.", rows 8-9: 12 digits and no country, '
        "read as UK tags, since their check digits fit",
        'warning: whinny_bank.xlsx: column K "Sire" is not taken in',
        "warning: whinny_bank.xlsx: row 8: hidden, and read all the same",
    ]


def test_the_same_spreadsheet_twice_writes_nothing(run: Run) -> None:
    assert run("import", WHINNY, "--on", DAY).code == 0
    again = run("import", WHINNY, "--on", DAY, "--json").json()
    assert again["written"] == [] and again["skipped"] == []
    assert again["rosters"][0]["unchanged"] == 6
    later = run("import", WHINNY, "--on", "2026-04-20", "--json").json()
    assert later["written"] == []  # a weight without a day of its own is no new weighing


def test_the_csv_that_the_spreadsheet_program_saves_needs_one_word(run: Run) -> None:
    """The days on which bulls were bought can all be read both ways; and the zero is lost."""
    csv = WHINNY.with_suffix(".csv")
    refused = run("import", csv, "--on", DAY)
    assert refused.code == 65
    assert 'column G "Bought on": 12/01/2026 in row 7 is 12 Jan 2026 or 1 Dec 2026' in refused.err
    assert "--dates dmy" in refused.err
    ran = run("import", csv, "--on", DAY, "--dates", "dmy")
    assert ran.code == 0, ran.err
    assert "row 9: 11 digits, read as UK tags whose 0 in front a spreadsheet dropped" in ran.err
    assert last(run, "UK 012345 700077", "bull")["arrived"] == "2025-10-02"
    assert run("import", WHINNY, "--on", DAY, "--json").json()["written"] == []


def test_a_preview_says_how_it_was_read_and_what_changes(run: Run, book: Path) -> None:
    path = roster(
        book.with_name("bulls.csv"),
        "Bull;Name;Born;Pen;Weight kg\n00310;Fenwick;03/04/2021;Bank;812,5\n00999;Wren;23/4/21;;\n"
        "00288;Rowan;;;\n",
    )
    ran = run("import", path, "--check", "--on", DAY)
    assert ran.code == 0, ran.err
    lines = [line.strip() for line in ran.out.splitlines()]
    assert "headings in row 1" in lines
    assert "E Weight kg → weight: as weighed on 3 Apr 2026, the day of the import" in lines
    text = " ".join(lines)
    assert (
        "C Born → day of birth: day first, as 23/4/21 in row 3 shows; years of two digits are the "
        "last such year up to 2026 D Pen → pen" in text
    )
    assert (
        "row 2 updated 00310 Fenwick: day of birth nothing → 3 Apr 2021; pen nothing → Bank; "
        "weight nothing → 812.5 kg" in text
    )
    assert "row 3 new 00999 Wren: name Wren; day of birth 23 Apr 2021" in text
    assert "row 4" not in text
    assert lines[-1] == "bulls.csv: 1 new, 1 updated, 1 unchanged; 3 entries would be written"
    assert run("bull", "00999").code == 66


def test_only_what_differs_is_written_and_nothing_is_erased(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag,name,pen,farm\n00288,Rowan,,SALLOW  FELL\n")
    assert run("import", path, "--on", DAY, "--json").json()["written"] == []
    roster(path, "tag,name,pen,farm\n00288,,Bank,Sallow Fell\n")
    (entry,) = run("import", path, "--on", DAY, "--json").json()["written"]
    said = last(run, "00288", "bull")
    assert said["id"] == entry and said["pen"] == "Bank"
    assert not {"name", "farm"} & said.keys()
    assert bull(run, "00288")["name"] == "Rowan"
    roster(path, "tag,name,pen,farm\n00288,,,\n")
    assert run("import", path, "--on", DAY, "--json").json()["written"] == []


def test_changed_and_changed_back_on_one_day(run: Run, book: Path) -> None:
    path = book.with_name("b.csv")
    for pen in ("Bank", "Shed 2", "Bank"):
        roster(path, f"tag,pen\n00288,{pen}\n")
        assert len(run("import", path, "--on", DAY, "--json").json()["written"]) == 1
        assert last(run, "00288", "bull")["pen"] == pen


def test_what_was_undone_can_be_said_again(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag,pen\n00288,Bank\n")
    assert run("import", path, "--on", DAY).code == 0
    assert run("undo").code == 0
    assert len(run("import", path, "--on", DAY, "--json").json()["written"]) == 1
    assert last(run, "00288", "bull")["pen"] == "Bank"


def test_into_a_group_and_its_reserve(run: Run, book: Path) -> None:
    path = roster(
        book.with_name("b.csv"), "tag,group,role\n00501,hill cows,spare\n00288,Heifers,\n"
    )
    said = run("import", path, "--on", DAY, "--json").json()
    assert len(said["written"]) == 1
    assert (bull(run, "00501")["group"], bull(run, "00501")["role"]) == ("Hill cows", "reserve")
    assert run("import", path, "--on", DAY, "--json").json()["written"] == []
    roster(path, "tag,role\n00501,worker\n")
    assert run("import", path, "--on", DAY).code == 0
    assert bull(run, "00501")["role"] == "worker"


def test_a_farm_for_rows_that_name_none(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag,group\n00777,Heifers\n")
    refused = run("import", path, "--on", DAY)
    assert refused.code == 65
    assert (
        'row 2, column B "group": there is no group Heifers on the farm without a name; there is '
        "one at Sallow Fell: give their farm if they are there; give it a day in a "
        'column headed Turnout, or write it first: readiness group "Heifers" --turnout DATE'
        in refused.err
    )
    ran = run("import", path, "--on", DAY, "--farm", "Sallow Fell")
    assert ran.code == 0, ran.err
    assert bull(run, "00777")["group"] == "Heifers"


def test_every_problem_is_said_by_row_and_column_and_nothing_is_written(
    run: Run, book: Path
) -> None:
    path = roster(
        book.with_name("b.csv"),
        "Ear tag,Born,Arrived,Origin,Heifers,Kg,Group\n"
        "00601,31 Feb 2021,,,,,\n"
        "00602,3 Apr 2027,,,,,\n"
        "00603,3 Apr 1979,,,,,\n"
        "00604,3 Apr 2024,3 Apr 2023,,,,\n"
        "00605,,,bought,,,\n"
        "00606,,,,perhaps,9000,\n"
        "00288,,,,,900,Dairy\n",
    )
    before = run("board", "--json", "--on", DAY).out
    ran = run("import", path, "--on", DAY)
    assert ran.code == 65 and ran.out == ""
    for text in (
        'row 2, column B "Born": "31 Feb 2021": there is no such day in the calendar',
        'row 3, column B "Born": 3 Apr 2027 is after the day of the import, 3 Apr 2026',
        'row 4, column B "Born": the year of "1979-04-03" is not from 1990 to 2100',
        'row 5, column C "Arrived": 3 Apr 2023 is before he was born, 3 Apr 2024',
        'row 6, column C "Arrived": is missing; a bought bull needs the day he arrived',
        'row 7, column E "Heifers": "perhaps" is not understood; write yes or no',
        'row 7, column F "Kg": 9000 is out of range; write 20 to 2500 kg',
        'row 8, column G "Group": there is no group Dairy at Sallow Fell (its groups are Heifers '
        "and Hill cows); give it a day in a column headed Turnout, or write it first: "
        'readiness group "Dairy" --turnout DATE --farm "Sallow Fell"',
    ):
        assert text in ran.err, ran.err
    assert "Nothing was written; mend it and import it again." in ran.err
    assert run("board", "--json", "--on", DAY).out == before


def test_what_is_wrong_is_said_once(run: Run, book: Path) -> None:
    """Neither a bull kept out by his name nor a day that cannot be read is missing besides."""
    path = roster(
        book.with_name("b.csv"),
        f"tag,name,group,origin,arrived\n00777,{'N' * 121},Heifers,,\n00778,Jay,,bought,soon\n",
    )
    err = run("import", path, "--on", DAY, "--farm", "Sallow Fell").err
    assert err.count("row 2,") == 1 and 'row 2, column B "name": is 121 characters long' in err
    assert err.count("row 3,") == 1 and 'row 3, column E "arrived": "soon" is no day' in err


def test_what_the_book_has_wrong_already_bars_no_other_change() -> None:
    book = [
        Entry(ON.toordinal() - 1, "2026-04-02T10:00:00.000000Z", 0, "a", "bull", "00601",
              {"kind": "bull", "on": "2026-04-02", "bull": "00601", "born": "2024-04-01",
               "arrived": "2023-04-01"}),
    ]  # fmt: skip
    rows = [["tag", "pen", "born"], ["00601", "Bank", "2024-04-01"]]
    changes = take(read(rows), book)
    assert changes.problems == [] and [entry.content["pen"] for entry in changes.entries] == [
        "Bank"
    ]


def test_a_number_typed_as_text_has_lost_no_zeros() -> None:
    book: list[Entry] = []
    take(read([["tag"], ["00288"]]), book)
    changes = take(read_xlsx([["tag", "pen"], ["288", "Bank"]]), book)
    assert [row.status for row in changes.rows] == ["new"]
    assert "288 is a new bull; the tag of 00288, who is in the book" in changes.warnings[0][1]


def test_rows_in_words() -> None:
    assert rows_words([4]) == "row 4"
    assert rows_words([9, 4, 5, 6]) == "rows 4-6 and 9"
    assert rows_words([*range(1, 50, 2)]) == (
        "rows 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23 and 13 more"
    )


def test_the_first_problems_and_how_many_more(run: Run, tmp_path: Path) -> None:
    rows = "".join(f"00{n},31 Feb {n + 1900}\n" for n in range(100, 120))
    ran = run("import", roster(tmp_path / "b.csv", f"tag,born\n{rows}"))
    assert ran.code == 65 and "row 9," in ran.err and "row 10," not in ran.err
    assert "and 12 more" in ran.err


def test_a_wrong_check_digit_is_warned_of_by_row(run: Run, tmp_path: Path) -> None:
    """UK 700915 500015: the right digit is 6."""
    path = roster(tmp_path / "b.csv", "tag,name\nUK 700915 500015,Wren\nUK700915600015,Garth\n")
    ran = run("import", path)
    assert ran.code == 0
    (line,) = ran.err.splitlines()
    assert line.startswith("warning: b.csv: row 2: tag UK 700915 500015: the check digit is 5, and")
    assert "UK 700915 600015" in line


def test_a_bull_who_stands_there_twice(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "b.csv", "tag,pen\nUK 700915 600015,1\n\nuk-700915-600015,1\n00601,\n"
                  "00601,2\n")  # fmt: skip
    ran = run("import", path)
    assert ran.code == 65
    assert (
        'row 4, column A "tag": UK 700915 600015 stands in row 2 already, which says the same'
        in (ran.err)
    )
    assert (
        'row 6, column A "tag": 00601 stands in row 5 already, which says other things' in ran.err
    )


def test_the_end_of_anothers_tag_is_said(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag\n00417\n600417\n17\n")
    ran = run("import", path, "--on", DAY)
    assert ran.code == 0
    assert "row 3: 600417 is a new bull; the tag of UK 123450 600417, who is in the book" in ran.err
    assert "row 2: 00417 is a new bull; the tag of UK 123450 600417" in ran.err
    assert "row 4" not in ran.err  # two digits are the same by chance


def test_one_animal_booked_twice_in_one_roster_by_his_tag_and_its_end_is_told(
    run: Run, tmp_path: Path
) -> None:
    text = "tag,name,born\nUK 700914 400347,Ullin,2022-03-01\n400347,Ullin,2022-03-01\n"
    ran = run("import", roster(tmp_path / "x.csv", text))
    assert "row 3: 400347 is booked as a new bull; the tag of UK 700914 400347 ends" in ran.err


def test_zeros_that_a_spreadsheet_dropped_find_the_bull(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag,pen\n288,Bank\n")
    ran = run("import", path, "--on", DAY, "--json")
    assert ran.json()["rosters"][0]["rows"] == [
        {"row": 2, "bull": "00288", "status": "updated", "changes": {"pen": [None, "Bank"]}}
    ]
    assert "288 is read as 00288, who is in the book" in ran.json()["warnings"][0]["text"]


def test_bought_needs_no_day_where_the_book_has_it(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "b.csv", "tag,arrived\n00601,2026-01-05\n")
    assert run("import", path, "--on", DAY).code == 0
    roster(path, "tag,origin\n00601,bought\n")
    assert run("import", path, "--on", DAY).code == 0
    said = last(run, "00601", "bull")
    assert (said["origin"], said["arrived"]) == ("bought", "2026-01-05")


def test_weights_of_a_day_of_their_own(run: Run, book: Path) -> None:
    path = roster(
        book.with_name("b.csv"),
        "tag,kg,date weighed\n00288,900,2026-03-01\n00310,850,\n00501,,2 Apr 2026\n",
    )
    ran = run("import", path, "--on", DAY)
    assert ran.code == 0
    assert (last(run, "00288", "weight")["on"], last(run, "00310", "weight")["on"]) == (
        "2026-03-01",
        DAY,
    )
    assert "row 4: has a day of weighing and no weight: not taken in" in ran.err
    assert run("import", path, "--on", DAY, "--json").json()["written"] == []


def test_a_weight_corrected_and_corrected_back(run: Run, book: Path) -> None:
    path = book.with_name("b.csv")
    for kg in (800, 810, 800):
        roster(path, f"tag,kg,weighed\n00288,{kg},2026-03-01\n")
        assert len(run("import", path, "--on", DAY, "--json").json()["written"]) == 1
        assert last(run, "00288", "weight")["kg"] == kg
        assert run("import", path, "--on", DAY, "--json").json()["written"] == []


def test_a_day_before_what_the_book_says_later(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag,pen\n00288,Bank\n")
    assert run("import", path, "--on", DAY).code == 0
    roster(path, "tag,pen\n00288,Shed 2\n")
    ran = run("import", path, "--on", "2026-03-01")
    assert ran.code == 0
    assert f"row 2: pen is said again on {DAY}, and counts till then" in ran.err


def test_a_groups_name_as_each_farm_spells_it(run: Run, book: Path) -> None:
    low = ("--turnout", "2026-05-01", "--farm", "Low", "--new", "--on", DAY)
    assert run("group", "HILL COWS", *low).code == 0
    path = roster(book.with_name("b.csv"), "tag,farm,group\n00771,Low,HILL COWS\n00772,Sallow fell,"
                  "hill cows\n")  # fmt: skip
    ran = run("import", path, "--on", DAY)
    assert ran.code == 0, ran.err
    assert [bull(run, tag)["group"] for tag in ("00771", "00772")] == ["HILL COWS", "Hill cows"]


def test_a_role_without_a_group(run: Run, book: Path) -> None:
    ran = run("import", roster(book.with_name("b.csv"), "tag,role\n00501,worker\n"), "--on", DAY)
    assert ran.code == 65
    assert 'row 2, column B "role": is given, and he is in no group' in ran.err


def test_the_json_of_a_check_writes_nothing_and_names_the_same_ids(run: Run, book: Path) -> None:
    path = roster(book.with_name("b.csv"), "tag,pen\n00288,Bank\n")
    said = run("import", path, "--check", "--json", "--on", DAY).json()
    assert said["written"] == [] and said["skipped"] == []
    assert said["would_write"] == run("import", path, "--json", "--on", DAY).json()["written"]
    (told,) = said["rosters"]
    assert (told["file"], told["sheet"], told["heading_row"]) == ("b.csv", None, 1)
    assert told["columns"][1] == {"column": "B", "heading": "pen", "field": "pen", "how": None}
    assert (told["new"], told["updated"], told["unchanged"]) == (0, 1, 0)


def test_hostile_text_comes_out_plain(run: Run, tmp_path: Path) -> None:
    name = "=cmd|'/C calc'!A0"
    path = roster(
        tmp_path / "b.csv",
        f'tag,name,"\x1b[31mSire\u202e",note\n00601,"{name}",x,"<script>\x07\u202eabc"\n',
    )
    ran = run("import", path, "--check", "--on", DAY)
    assert ran.code == 0, ran.err
    assert not {"\x1b", "\x07", "\u202e"} & set(ran.out + ran.err)
    assert name in " ".join(ran.out.split())


def test_readonly_takes_nothing_in(run: Run, tmp_path: Path) -> None:
    path = roster(tmp_path / "b.csv", "tag\n00601\n")
    assert run("--readonly", "import", path).code == 73
    assert run("--readonly", "import", path, "--check").code == 0


@pytest.mark.parametrize("option", ["ymd", "31"])
def test_an_order_of_dates_that_there_is_not(run: Run, tmp_path: Path, option: str) -> None:
    assert run("import", tmp_path / "b.csv", "--dates", option).code == 2
