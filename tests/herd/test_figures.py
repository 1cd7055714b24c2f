"""What is counted, of what: by hand, by a plain recount, and as properties."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from readiness.herd.stats.figures import figures
from readiness.herd.stats.lifts import AGES, FootLift, Listing
from readiness.herd.stats.results import BY, CLAWS_LIFTED, Figures, wilson
from readiness.rules.load import load_rules
from readiness.trade.codes import CODES
from readiness.trade.feet import FEET
from tests.build import booked, found, said
from tests.herd.lifted import ON, counts, feet, figures_of, lifts_of, row
from tests.reference.books import random_book
from tests.volume import examples

HERD: tuple[dict[str, Any], ...] = (
    booked(breed="Luing", born="2022-04-03", farm="Sallow Fell"),
    booked("00122", breed="luing", farm="Low Sand"),
    booked("00093"),
    feet("2025-11-02", found("LH", "outer", "SU", 4), found("LH", "outer", "WLF", 2)),
    feet(
        "2026-03-01", found("LH", "outer", "SU", 4), found("RF", "both", "HHE"), lifted=("LH", "RF")
    ),
    {**feet("2026-03-02", found("RH", "skin", "DD", 10, stage="M2")), "bull": "00122"},
    {**feet("2026-03-02", lifted=("LF",)), "bull": "00093"},
)
"""Three bulls: 11 feet lifted, of which 4 bore something; 22 claws, of which 4 did."""


def test_each_way_of_counting_by_hand() -> None:
    all_of = figures_of(*HERD)
    assert (all_of.feet, all_of.bulls) == (11, 3)
    assert all_of.found is not None and (all_of.found.n, all_of.found.bulls) == (4, 2)
    assert counts(all_of, "code") == {"SU": (2, 11), "WLF": (1, 11), "HHE": (1, 11), "DD": (1, 11)}
    assert counts(all_of, "foot") == {"LF": (0, 3), "RF": (1, 3), "LH": (2, 3), "RH": (1, 2)}
    assert counts(all_of, "claw") == {"outer": (3, 11), "inner": (1, 11), "skin": (1, 11)}
    assert counts(all_of, "zone") == {
        "2": (1, 22), "4": (2, 22), "not said": (2, 22), "skin 10": (1, 11),
    }  # fmt: skip
    assert counts(all_of, "breed") == {"Luing": (4, 20), "unknown": (0, 2)}
    assert counts(all_of, "age") == {"36 months to 6 years": (4, 12), "unknown": (0, 10)}
    assert counts(all_of, "year") == {"2025": (1, 4), "2026": (3, 7)}
    assert row(all_of, "code", "SU").bulls == 1


def test_what_was_never_found_has_its_row_too() -> None:
    all_of = figures_of(*HERD)
    assert [row.value for row in all_of.by("code")] == list(CODES)
    assert row(all_of, "code", "TN").n == 0
    assert {str(zone) for zone in (1, 2, 3, 4, 5, 6, 7, 8, 11, 12)} < {
        row.value for row in all_of.by("zone")
    }


def test_places_are_of_the_lifts_of_their_foot() -> None:
    places = {
        (cell.foot, cell.claw, cell.zone): (cell.part.n, cell.part.of)
        for cell in figures_of(*HERD).cells
    }
    assert places == {
        ("RF", "outer", None): (1, 3),
        ("RF", "inner", None): (1, 3),
        ("LH", "outer", 2): (1, 3),
        ("LH", "outer", 4): (2, 3),
        ("RH", "skin", 10): (1, 2),
    }


def test_one_farm_is_where_he_was_that_day_and_since_is_a_day_that_counts() -> None:
    moved = (*HERD, booked(on="2026-01-10", farm="Low Sand"))
    assert figures_of(*moved, farm="Low Sand").feet == 6
    assert figures_of(*moved, farm="Sallow Fell").feet == 4
    assert figures_of(*moved, farm="").feet == 1
    assert figures_of(*moved).farms == ("", "Low Sand", "Sallow Fell")
    day = date(2026, 3, 1).toordinal()
    assert figures_of(*HERD, since=day).feet == 7
    assert figures_of(*HERD, since=day + 1).feet == 5
    none = figures_of(*HERD, since=ON.toordinal())
    assert (none.feet, none.bulls, none.found, none.rows, none.cells) == (0, 0, None, (), ())


def test_few_are_lifts_and_not_claws() -> None:
    """``stats.few`` speaks of feet lifted: two claws of one foot do not make two."""
    lifts = [FootLift("A", 1, "LF", "", "Luing", AGES[0], frozenset())] * 29
    for count, few in ((29, True), (30, False)):
        of = figures((lifts * 2)[:count], on=1, few=30)
        assert {row.part.few for row in of.rows} == {few}
        assert {row.part.of for row in of.by("breed")} == {2 * count}


def test_what_is_few_is_a_rule_that_a_farm_can_change(tmp_path: Any) -> None:
    path = tmp_path / "own.toml"
    path.write_text('[rules]\nstats.few = 10\n[farm."Low Sand".rules]\nstats.few = 50\n')
    rules = load_rules(path)
    assert rules.common.stats.stats_few == 10
    assert rules.for_farm("Low Sand").stats.stats_few == 50
    assert rules.common.values["stats.few"].overridden


# ---- properties --------------------------------------------------------------------------------

listings = st.builds(
    Listing,
    st.sampled_from(("outer", "inner", "skin")),
    st.sampled_from(sorted(CODES)),
    st.none() | st.integers(0, 12),
)
some_lifts = st.lists(
    st.builds(
        FootLift,
        st.sampled_from("ABCDE"),
        st.integers(date(2023, 1, 1).toordinal(), ON.toordinal()),
        st.sampled_from(FEET),
        st.sampled_from(("", "Sallow Fell", "Low Sand")),
        st.sampled_from(("", "Luing", "LUING", "Unknown", "Angus")),
        st.sampled_from(AGES),
        st.frozensets(listings, max_size=4),
    ),
    max_size=30,
)


@settings(max_examples=examples(40))
@given(some_lifts, st.integers(0, 80))
def test_every_row_is_a_part_and_partitions_add_up(lifts: list[FootLift], few: int) -> None:
    of = figures(lifts, on=ON.toordinal(), few=few)
    for part in [each.part for each in of.rows] + [cell.part for cell in of.cells]:
        assert 0 <= part.n <= part.of > 0
        assert part.bulls <= min(part.n, of.bulls) and (part.bulls > 0) == (part.n > 0)
        assert (part.share, part.low, part.high) == (part.n / part.of, *wilson(part.n, part.of))
    with_any = sum(bool(lift.found) for lift in lifts)
    claws = sum(len({each.claw for each in lift.found} - {"skin"}) for lift in lifts)
    for by in ("foot", "year"):
        assert _sums(of, by) == (with_any, len(lifts))
    for by in ("breed", "age"):
        assert _sums(of, by) == (claws, 2 * len(lifts))
        assert {row.unit for row in of.by(by)} <= {CLAWS_LIFTED}
    horn = [row.part for row in of.by("claw") if row.unit == CLAWS_LIFTED]
    assert (sum(p.n for p in horn), sum(p.of for p in horn)) == (claws, 2 * len(lifts))
    assert [row.by for row in of.rows] == sorted((r.by for r in of.rows), key=BY.index)


def _sums(of: Figures, by: str) -> tuple[int, int]:
    return sum(row.part.n for row in of.by(by)), sum(row.part.of for row in of.by(by))


@pytest.mark.parametrize("seed", range(4))
def test_a_plain_recount_of_a_random_book_agrees(seed: int) -> None:
    """Against counting (entry, foot) pairs straight from the lines, without the program's history:
    every code but DD, whose stage may come from an earlier line."""
    told = random_book(seed, 12, 40, ON)
    of = figures(lifts_of(*told), on=ON.toordinal(), few=30)
    struck = {line["entry"] for line in told if line["kind"] == "strike"}
    gone: set[str] = set()
    feet_of: Counter[str] = Counter()
    with_code: Counter[str] = Counter()
    for line in sorted(told, key=lambda each: each["on"]):
        tag = "".join(line.get("bull", "").split()).upper()
        if line["on"] > ON.isoformat() or line["id"] in struck or tag in gone:
            continue
        if line["kind"] == "moved" and line["act"] == "left":
            gone.add(tag)
        elif line["kind"] == "feet":
            feet_of.update(line["lifted"])
            places = {(f["foot"], f["code"]) for f in line.get("findings", ())}
            with_code.update(code for _, code in places)
    assert {row.value: row.part.of for row in of.by("foot")} == dict(feet_of)
    got = {row.value: row.part.n for row in of.by("code") if row.part.n and row.value != "DD"}
    assert got == {code: n for code, n in with_code.items() if code != "DD"} != {}


def test_a_bull_said_to_be_gone_and_struck_again_counts() -> None:
    left = said("moved", "2026-01-01", act="left", id="slip")
    assert figures_of(left, *HERD).feet == 9  # what Corran's later lift lists is not taken in
    assert figures_of(left, said("strike", "2026-01-02", entry="slip"), *HERD).feet == 11
