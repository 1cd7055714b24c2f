"""What is published over many farms: the figures are those of the books together, and nothing of a
small group can be read or worked out of them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from itertools import chain
from pathlib import Path
from typing import Any

import pytest

from readiness.fleet.figures import GO_BY
from readiness.fleet.sources import sources
from readiness.fleet.task import Job, _book, reading_of
from readiness.herd.stats.lifts import FootLift, foot_lifts
from readiness.herd.stats.results import BY
from readiness.settings.settings import NONE_SET
from tests.build import made_once
from tests.cli.conftest import Run
from tests.fleet.farms import ON, books
from tests.promises.test_schemas import holds

pytestmark = [pytest.mark.usefixtures("alone"), pytest.mark.long]
SEEDS = (3, 11, 19)
PARTED = ("foot", "breed", "age", "year")


def stats(run: Run, out: Path, room: Path, least: int) -> Any:
    rules = room / f"least{least}.toml"
    rules.write_text(f"[rules]\npublish.least = {least}\n", encoding="utf-8")
    ran = run("fleet", "stats", out, "--json", "--rules", rules)
    assert ran.code == 0, ran.err
    assert ran.json()["least"] == least
    holds("fleet-stats", ran.json())
    return ran.json()


@pytest.fixture
def out(run: Run, tmp_path: Path) -> Path:
    farms = books(run, tmp_path, SEEDS, bulls=14, entries=10)

    def made() -> None:
        for on in ("2026-03-25", "2026-04-01", "2026-04-03"):
            assert run("fleet", farms, "--out", tmp_path / "out", "--on", on).code == 0

    made_once(tmp_path, "farms done on three days", made)
    return tmp_path / "out"


def by_group(rows: Iterable[Mapping[str, Any]]) -> dict[tuple[str, str | None], Any]:
    return {(row["by"], row["value"] and row["value"].casefold()): row for row in rows}


def test_the_figures_are_those_of_stats_over_the_books_together(
    run: Run, out: Path, tmp_path: Path
) -> None:
    told = stats(run, out, tmp_path, 3)
    n: Counter[tuple[str, str]] = Counter()
    of: Counter[tuple[str, str]] = Counter()
    lifted: Counter[str] = Counter()
    for seed in SEEDS:
        book = tmp_path / "farms" / f"Farm {seed}.duckdb"
        mine = run("stats", "--json", "--book", book, "--on", ON).json()
        lifted.update(mine["lifted"])
        for row in mine["rows"]:
            key = row["by"], row["value"].casefold()
            n[key] += row["n"]
            of[key] += row["of"]
    assert told["lifted"] == dict(lifted) and told["farms"] == len(SEEDS)
    alike = [(key, row) for key, row in by_group(told["rows"]).items() if key[1] is not None]
    assert len(alike) > 30 and {by for (by, _), _ in alike} == {*BY}
    for (by, value), row in alike:
        key = by, value or ""
        claws = 2 if (by, row["unit"]) == ("zone", "claws") else 1
        assert row["of"] == (of[key] if by in PARTED else lifted["feet"] * claws), key
        if row["n"] is not None:
            assert (row["n"], row["share"]) == (n[key], n[key] / row["of"])
    assert {by for (by, _), row in alike if row["n"]} > {"code", "foot", "claw", "zone", "breed"}


def test_bulls_go_by_farm_breed_age_and_week(run: Run, out: Path, tmp_path: Path) -> None:
    told = stats(run, out, tmp_path, 3)
    boards: dict[str, list[Any]] = {}
    for seed in SEEDS:
        for on in ("2026-03-25", "2026-04-01", "2026-04-03"):
            ran = run("fleet", "board", out, "--farm", f"Farm {seed}", "--on", on)
            boards[on] = [*boards.get(on, []), ran.json()["bulls"]]
    last = boards["2026-04-03"]
    assert told["go"] == {"n": go(chain(*last)), "of": len([*chain(*last)])}
    shares = by_group(told["shares"])
    farms = sorted((-len(bulls), -go(bulls)) for bulls in last)
    assert [(-shares["farm", str(at)]["of"], -shares["farm", str(at)]["n"])
            for at in range(1, len(SEEDS) + 1)] == farms  # fmt: skip
    for week, on in (("2026-w13", "2026-03-25"), ("2026-w14", "2026-04-03")):
        row = shares["week", week]
        assert (row["n"], row["of"]) == (go(chain(*boards[on])), len([*chain(*boards[on])]))
    for by in GO_BY[:3]:
        mine = [row for (kind, _), row in shares.items() if kind == by]
        assert sum(row["of"] for row in mine) == told["go"]["of"]
        assert sum(row["n"] for row in mine) == told["go"]["n"]


def go(bulls: Iterable[Mapping[str, Any]]) -> int:
    return sum(bull["status"] == "GO" for bull in bulls)


def lifts_of(farms: Path) -> list[FootLift]:
    """Each with his farm's name before the bull's key."""
    found = []
    for source in sources(farms):
        job = Job(source, farms, ON, None, NONE_SET)
        reading = reading_of(job, _book(source))
        for lift in foot_lifts(reading.shelf.standing, reading.rules, reading.on):
            found.append(lift._replace(bull=f"{source.farm} {lift.bull}"))
    return found


@pytest.mark.parametrize("least", [3, 5, 8, 10, 15, 40])
def test_no_small_group_is_told_of_or_can_be_worked_out(
    run: Run, out: Path, tmp_path: Path, least: int
) -> None:
    told = stats(run, out, tmp_path, least)
    groups: dict[tuple[str, str], set[str]] = defaultdict(set)
    bore: dict[tuple[str, str], set[str]] = defaultdict(set)
    for lift in lifts_of(tmp_path / "farms"):
        values = {"foot": lift.foot, "age": lift.age, "breed": lift.breed or "unknown",
                  "year": str(date.fromordinal(lift.day).year)}  # fmt: skip
        for by, value in values.items():
            groups[by, value.casefold()].add(lift.bull)
        for each in lift.found:
            bore["code", each.code.casefold()].add(lift.bull)
            bore["claw", each.claw].add(lift.bull)
    rows = by_group(told["rows"])
    if told["lifted"]["feet"] is None:
        assert rows == {} and least == 40
        return
    for by in PARTED:
        mine = {value: row for (kind, value), row in rows.items() if kind == by}
        named = [value for value in mine if value is not None]
        assert all(len(groups[by, value]) >= least for value in named)
        rest = {value for kind, value in groups if kind == by} - {*named}
        together = set().union(*(groups[by, value] for value in rest))
        assert (None in mine) == bool(rest)
        assert not rest or len(together) >= least  # else the rest is the whole less what is named
        whole = told["lifted"]["feet"] * (2 if by in ("breed", "age") else 1)
        assert sum(row["of"] for row in mine.values()) == whole
    for by in ("code", "claw"):
        for (kind, told_of), row in rows.items():
            if kind == by and row["n"] is not None:
                assert row["bulls"] == len(bore[by, told_of or ""])
                assert row["bulls"] == 0 or row["bulls"] >= least
    for by in BY:
        mine_ = [row for (kind, _), row in rows.items() if kind == by]
        hidden = [row for row in mine_ if row["n"] is None]
        shown = [row for row in mine_ if row["n"]]
        assert len(hidden) != 1 or not shown, by  # one alone is the whole less the others
        if by in ("code", "claw") and shown and hidden:
            assert sum(len(bore[by, row["value"].casefold()]) for row in hidden) >= least


def test_no_name_and_no_tag_is_in_it(run: Run, out: Path, tmp_path: Path) -> None:
    stats(run, out, tmp_path, 3)
    asked = ("fleet", "stats", out, "--rules", tmp_path / "least3.toml")
    boards = [run("fleet", "board", out, "--farm", f"Farm {seed}").json() for seed in SEEDS]
    bulls = [*chain(*(board["bulls"] for board in boards))]
    names = {bull[key] for bull in bulls for key in ("bull", "name", "farm", "group")} - {None}
    for told in (run(*asked).out, run(*asked, "--json").out):
        assert not [name for name in names | {"Farm 3", "Farm 11"} if name in told]


def test_the_text_shows_every_table_and_what_is_withheld(
    run: Run, out: Path, tmp_path: Path
) -> None:
    told = run("fleet", "stats", out).out
    whole = run("fleet", "stats", out, "--json").json()["go"]
    bulls = f"{whole['of']} bulls, {whole['n']} GO"
    assert f"3 farms, each on its last day up to Fri 3 Apr 2026: {bulls}" in told
    assert "GO by week" in told and "the others together" in told and "Withheld: " in told
    assert max(map(len, told.splitlines())) <= 80
