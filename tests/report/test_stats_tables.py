"""The figures for programs: JSON as DEVELOPERS.md has it, CSV by RFC 4180."""

from __future__ import annotations

import csv
import io
import json

import pytest
from scipy.stats import binomtest

from readiness.report.as_json import stats_json
from readiness.report.csv_table import STATS, stats_csv
from tests.build import booked, found
from tests.herd.lifted import feet, figures_of
from tests.herd.test_figures import HERD
from tests.promises.stated import keys


def test_the_json_has_the_promised_keys() -> None:
    """And the intervals are Wilson's 95 %, as scipy's."""
    made = json.loads(json.dumps(stats_json(figures_of(*HERD)), allow_nan=False))
    assert set(made) >= keys("`stats`")
    assert all(set(row) >= keys("row of figures") for row in made["rows"])
    assert made["on"] == "2026-04-03" and made["since"] is None
    assert made["lifted"] == {"feet": 11, "bulls": 3}
    assert {row["by"] for row in made["rows"]} == {
        "code", "foot", "claw", "zone", "breed", "age", "year",
    }  # fmt: skip
    for row in [*made["rows"], *made["cells"]]:
        low, high = binomtest(row["n"], row["of"]).proportion_ci(method="wilson")
        assert row["share"] == row["n"] / row["of"]
        assert (row["low"], row["high"]) == pytest.approx((low, high), abs=1e-12)
        assert row["few"] is True
    [ulcer] = [row for row in made["rows"] if (row["by"], row["value"]) == ("code", "SU")]
    assert (ulcer["n"], ulcer["of"], ulcer["bulls"], ulcer["unit"]) == (2, 11, 1, "feet")


def test_nothing_lifted_is_no_rows_and_no_division() -> None:
    made = stats_json(figures_of(booked()))
    assert made["lifted"] == {"feet": 0, "bulls": 0} and made["rows"] == made["cells"] == []
    assert stats_csv(figures_of(booked())) == ",".join(STATS) + "\r\n"


def test_the_csv_reads_back_and_a_breed_is_no_formula() -> None:
    """RFC 4180, section 2: CRLF, every record has as many fields, quotes doubled."""
    breeds = ("=1+1", 'Quote " and, comma', "\u200b@x")
    told = [booked(f"B{at}", breed=breed) for at, breed in enumerate(breeds)]
    told += [{**feet("2026-01-05", found("LF", "skin", "DD", 10)), "bull": f"B{at}"}
             for at in range(len(breeds))]  # fmt: skip
    of = figures_of(*told)
    text = stats_csv(of)
    assert text.endswith("\r\n") and text.count("\n") == text.count("\r\n") == len(of.rows) + 1
    table = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    assert tuple(table[0]) == STATS
    named = [record["value"] for record in table if record["by"] == "breed"]
    assert sorted(named) == sorted(["'=1+1", 'Quote " and, comma', "'@x"])
    for record, row in zip(table, of.rows, strict=True):
        assert (int(record["n"]), int(record["of"])) == (row.part.n, row.part.of)
        assert float(record["low"]) == pytest.approx(row.part.low, abs=1e-6)
