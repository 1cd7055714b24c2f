"""How a bull stands before anything is said of him, from his book."""

from __future__ import annotations

from datetime import date

from readiness.crush.before import Before, Open, before_of
from readiness.report.bull_text import bull_text
from readiness.report.look import Look
from readiness.shorthand import Scales
from tests.build import lift, said, ulcer
from tests.crush.cards import card

ON = "2026-04-03"
TODAY = date.fromisoformat(ON)


def stands(*entries: dict[str, object]) -> Before:
    return before_of(card(ON, *entries), TODAY)


def spot(foot: str, claw: str, code: str, **more: object) -> dict[str, object]:
    return {"foot": foot, "claw": claw, "code": code, **more}


def test_a_bull_without_a_history_has_nothing_to_ask_for() -> None:
    bare = stands()
    assert (bare.open, bare.blocks) == ((), ())
    assert bare.scales == Scales("gb0-3", "five")


def test_a_finding_that_is_open_is_said_in_words_with_its_first_day() -> None:
    again = lift("2026-03-20", findings=[spot("LH", "outer", "SU", severity=3)])
    [found] = stands(lift("2026-03-01", findings=ulcer(2)), again).open
    assert found == Open(
        "LH", "outer", "SU", 3, False, True, "sole ulcer, severe, LH outer, open since 1 Mar", 4
    )


def test_what_holds_comes_first_then_the_oldest() -> None:
    first = lift("2026-03-01", "RF", findings=[spot("RF", "outer", "HHE", severity=1)])
    second = lift("2026-03-05", "LH", findings=ulcer(1))
    third = lift("2026-03-03", "RH", findings=[spot("RH", "inner", "WLA", severity=1)])
    found = stands(first, second, third).open
    assert [(each.foot, each.code, each.holds) for each in found] == [
        ("RH", "WLA", True), ("LH", "SU", True), ("RF", "HHE", False),
    ]  # fmt: skip


def test_both_claws_are_two_findings_and_digital_dermatitis_goes_by_stages() -> None:
    both = lift("2026-03-01", "LH", findings=[spot("LH", "both", "SU", severity=2)])
    assert [each.claw for each in stands(both).open] == ["inner", "outer"]
    [skin] = stands(lift("2026-03-01", findings=[spot("LH", "skin", "DD", stage="M2")])).open
    assert (skin.staged, skin.holds) == (True, True)
    assert skin.words.startswith("digital dermatitis M2, ")


def test_what_was_said_too_early_to_count_is_told_beside_what_stands() -> None:
    """A stage of digital dermatitis seen two days after it was found does not count yet: whoever
    looks again has to know what was seen last, in the crush as on his page."""
    found = lift("2026-03-28", findings=[spot("LH", "skin", "DD", stage="M2")])
    early = lift("2026-03-30", findings=[spot("LH", "skin", "DD", stage="M3")])
    [skin] = stands(found, early).open
    since = "digital dermatitis M2, LH skin, open since 28 Mar"
    told = "said stage M3 on 30 Mar, too early to count"
    assert skin.words == f"{since} ({told})"
    page = " ".join(bull_text(card(ON, found, early), TODAY.toordinal(), Look(80)).split())
    assert f"last looked at 30 Mar; {told}" in page

    gone = lift("2026-03-31", healed=[spot("LH", "skin", "DD")])
    [skin] = stands(found, early, gone).open
    assert skin.words == f"{since} (said healed on 31 Mar, too early to count)"
    again = lift("2026-04-01", findings=[spot("LH", "skin", "DD", stage="M2")])
    [skin] = stands(found, early, gone, again).open
    assert skin.words == since


def test_what_was_seen_healed_is_not_open() -> None:
    """Lischer et al. 2001, slight: 25 days. Found 1 March, seen healed on the 33rd day."""
    healed = lift("2026-04-02", "LH", healed=[spot("LH", "outer", "SU")])
    assert stands(lift("2026-03-01", findings=ulcer(1)), healed).open == ()


def test_a_block_is_on_from_fitting_until_it_is_off_or_lost() -> None:
    fitted = [
        said("block-on", "2026-03-01", foot=foot, claw="inner") for foot in ("LH", "RF", "LF")
    ]
    off = said("block-off", "2026-03-29", foot="LH", claw="inner")
    lost = said("block-off", "2026-03-29", foot="RF", claw="inner", lost=True)
    assert stands(*fitted, off, lost).blocks == (("LF", "inner"),)


def test_a_finding_is_known_by_its_whole_place_and_of_both_claws_the_worse() -> None:
    found = [spot("LH", "outer", "SU", severity=3), spot("LH", "inner", "SU", severity=1)]
    bull = stands(lift("2026-03-01", "LH", findings=found))
    severities = {
        claw: (known := bull.known("LH", claw, "SU")) and known.severity
        for claw in ("outer", "inner", "both")
    }
    assert severities == {"outer": 3, "inner": 1, "both": 3}
    assert bull.known("RH", "outer", "SU") is bull.known("LH", "outer", "BU") is None


def test_a_finding_that_was_never_graded_says_so_where_that_matters() -> None:
    """White line fissure holds from moderate, so that a severity not said holds; heel horn erosion
    never holds."""
    lifted = lift(
        "2026-03-01", "LF", findings=[spot("LF", "outer", "WLF"), spot("LF", "inner", "HHE")]
    )
    fissure, erosion = stands(lifted).open
    assert (fissure.severity, fissure.holds) == (None, True)
    assert fissure.words == "white line fissure, severity not said, LF outer, open since 1 Mar"
    assert (erosion.severity, erosion.holds) == (None, False)
    assert erosion.words == "heel horn erosion, LF inner, open since 1 Mar"


def test_a_wrap_that_is_on_is_known_by_its_day() -> None:
    wrapped = lift("2026-04-01", "LF", work=[{"foot": "LF", "act": "wrap"}])
    assert stands(wrapped).wraps == {"LF": date(2026, 4, 1).toordinal()}
    assert stands(wrapped, lift("2026-04-02", "LF")).wraps == {}


def test_what_is_wrong_beside_his_feet_is_known_by_its_part_and_limb() -> None:
    hurt = said("body", "2026-04-01", part="joint", limb="LH", state="wrong")
    watched = said("body", "2026-04-01", part="eyes", state="watch")
    assert stands(hurt, watched).wrong == (("joint", "LH"),)
