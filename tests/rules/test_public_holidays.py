"""No visit on a public holiday of the country that a farm's rules name.

Held to the days that the library ``holidays`` publishes, and to the turn of the year in Scotland:
1 and 2 January are bank holidays there and New Year's Eve is none (https://www.gov.uk/bank-holidays).
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import holidays
import pytest

from readiness.rules.load import load_rules
from readiness.rules.public_holidays import holidays_of
from readiness.system.errors import RulesError, UsageError
from readiness.visits.asked import Promise, Wishes, asked_of
from tests.cli.conftest import Run, book, run
from tests.cli.small_book import DAY
from tests.cli.test_process import imported

__all__ = ["book", "run"]

SCOTLAND = '[rules]\nvisits.holidays = "GB-SCT"\n'
ON = date(2026, 12, 28).toordinal()


def working(text: str, folder: Path, *farms: str, days: int = 8) -> dict[str, list[str]]:
    """Farm → the days on which it may be visited from 28 December 2026 on, a Monday."""
    (folder / "own.toml").write_text(text, encoding="utf-8")
    asked = asked_of(Wishes(None, days), farms, load_rules(folder / "own.toml"), ON)
    return {
        farm.name: [date.fromordinal(day).strftime("%d %b") for day in farm.days]
        for farm in asked.farms
    }


def test_nobody_comes_on_the_first_days_of_the_year_in_scotland(tmp_path: Path) -> None:
    """Boxing Day is made up for on the 28th, 2 January (a Saturday) on the 4th."""
    everywhere = working("", tmp_path, "Ash")["Ash"]
    assert everywhere == ["28 Dec", "29 Dec", "30 Dec", "31 Dec", "01 Jan", "02 Jan", "04 Jan",
                          "05 Jan"]  # fmt: skip
    assert working(SCOTLAND, tmp_path, "Ash")["Ash"] == ["29 Dec", "30 Dec", "31 Dec", "05 Jan"]


def test_new_years_eve_is_left_out_only_where_the_farm_says_so(tmp_path: Path) -> None:
    own = SCOTLAND + "visits.except = [2026-12-31]\n"
    assert working(own, tmp_path, "Ash")["Ash"] == ["29 Dec", "30 Dec", "05 Jan"]


def test_every_holiday_that_is_listed_is_one_by_its_name() -> None:
    listed = holidays.country_holidays("GB", subdiv="SCT", years=(2026, 2027))
    first, last = (date(year, *day).toordinal() for year, day in ((2026, (1, 1)), (2027, (12, 31))))
    found = holidays_of("GB-SCT", first, last)
    assert {date.fromordinal(day): name for day, name in found.items()} == dict(listed)
    assert found[date(2027, 1, 1).toordinal()] == "New Year's Day"
    assert date(2026, 12, 31).toordinal() not in found


def test_one_farm_s_holidays_are_no_other_farm_s(tmp_path: Path) -> None:
    own = SCOTLAND + '[farm."Beck".rules]\nvisits.holidays = "none"\n'
    days = working(own, tmp_path, "Ash", "Beck", days=4)
    assert "01 Jan" not in days["Ash"] and "01 Jan" in days["Beck"]


def test_no_country_is_taken_for_granted() -> None:
    assert load_rules(None).common.visits.visits_holidays == "none"


def test_a_visit_promised_on_a_holiday_is_refused_with_its_name(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text(SCOTLAND, encoding="utf-8")
    promised = (Promise(date(2027, 1, 1)),)
    with pytest.raises(UsageError, match="Fri 1 Jan 2027 is on New Year's Day, a public holiday"):
        asked_of(Wishes(kept=promised), ["Ash"], load_rules(tmp_path / "own.toml"), ON)


def test_a_visit_moved_to_a_holiday_is_refused_with_its_name(run: Run, book: Path) -> None:
    book.with_name("bulls.toml").write_text(SCOTLAND, encoding="utf-8")
    (first, *_) = run("visits", "--json", "--on", "2026-04-02").json()["visits"]
    ran = run("visits", "--on", "2026-04-02", "--move", first["on"], "2026-04-03")
    assert ran.code == 2
    assert "2026-04-03: that is Good Friday, a public holiday of visits.holidays" in ran.err


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ('"Scotland"', """a code as "GB" or "GB-SCT" is wanted, or "none", not 'Scotland'"""),
        ("true", "not true"),
        ('["GB"]', "not ['GB']"),
        ('"gb"', "not 'gb'"),
    ],
)
def test_what_is_no_code_is_refused_as_it_is_read(tmp_path: Path, code: str, words: str) -> None:
    path = tmp_path / "own.toml"
    path.write_text(f"[rules]\nvisits.holidays = {code}\n", encoding="utf-8")
    with pytest.raises(RulesError) as caught:
        load_rules(path)
    assert str(caught.value).startswith("own.toml: [rules] visits.holidays: ")
    assert words in str(caught.value)


@pytest.mark.parametrize("command", [("visits", "--on", DAY), ("rules", "--check", "bulls.toml")])
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[rules]\nvisits.holidays = "ZZ"\n',
         "bulls.toml: [rules] visits.holidays: the public holidays of ZZ are not known. Write a"),
        ('[farm."Moss".rules]\nvisits.holidays = "GB-XX"\n',
         'bulls.toml: [farm."Moss".rules] visits.holidays: no holidays of XX in GB are known; known'
         " are GB, GB-ENG, GB-NIR, GB-SCT, GB-WLS. Write a code"),
    ],
)  # fmt: skip
def test_a_country_of_which_nothing_is_known_is_refused_before_a_plan(
    run: Run, book: Path, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...], text: str,
    words: str,
) -> None:  # fmt: skip
    monkeypatch.chdir(book.parent)
    book.with_name("bulls.toml").write_text(text, encoding="utf-8")
    ran = run(*command)
    assert ran.code == 78
    assert words in ran.err and ran.err.count("\n") == 1


def test_the_board_does_not_wait_for_the_list_of_holidays(book: Path) -> None:
    book.with_name("bulls.toml").write_text(SCOTLAND, encoding="utf-8")
    assert "holidays" not in imported("board", "--json", "--book", book, "--on", DAY)
