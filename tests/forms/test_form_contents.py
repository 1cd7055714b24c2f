"""What is typed into a form, to an entry's fields and back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from readiness.entries.columns import columns_of
from readiness.entries.models import KINDS as ENTRIES
from readiness.entries.models import own_columns
from readiness.entries.validate import validate
from readiness.forms import (
    FORMS,
    FieldError,
    Form,
    content_of,
    day_typed,
    form_for,
    problem_in,
    typed_of,
    value_of,
)
from readiness.roster.cells import Cell
from readiness.roster.headings import Heading
from readiness.roster.values import reader
from readiness.roster.vet_values import vet_reader
from readiness.shorthand import Scales, read
from readiness.shorthand.grammar import PARTS
from readiness.shorthand.lexicon import RESULTS, ROLES
from readiness.system.errors import DataError
from readiness.trade.numbers import UNIT_OF, UNITS
from tests.entries.samples import FULL
from tests.shorthand.contents import KINDS, contents
from tests.volume import examples

TODAY = date(2026, 11, 25)
OF_ONE_ENTRY = [form for form in FORMS.values() if form.id == form.kind]
COMMON = ("kind", "on", "bull", "by")


def own(content: dict[str, Any]) -> dict[str, Any]:
    """The fields that a form asks for."""
    return {key: value for key, value in content.items() if key not in COMMON}


# ---- there and back ----------------------------------------------------------------------------


@pytest.mark.parametrize("form", OF_ONE_ENTRY, ids=lambda form: form.id)
def test_each_sample_is_typed_and_read_back(form: Form) -> None:
    content = own(FULL[form.kind]) | {"note": "as the vet said"}
    assert content_of(form, typed_of(form, content), TODAY) == content


@pytest.mark.parametrize("form", [f for f in OF_ONE_ENTRY if f.kind in KINDS], ids=lambda f: f.id)
def test_whatever_an_entry_says_is_typed_and_read_back(form: Form) -> None:
    @settings(max_examples=examples(80), suppress_health_check=[HealthCheck.too_slow])
    @given(contents(form.kind))
    def there_and_back(content: dict[str, Any]) -> None:
        said = own(content)
        assert content_of(form, typed_of(form, said), TODAY) == said

    there_and_back()


def words_of_a_line() -> Iterator[tuple[str, str, str, Any]]:
    """Form, field, word and value of each word that a line has for what a form asks, too."""
    for head, part in PARTS.items():
        if part.kind not in FORMS:
            continue
        for slot in filter(None, (part.first, *part.slots)):
            for word, value in slot.words.items():
                if value is not None:
                    yield part.kind, slot.key, word, value
                if slot.negation:
                    yield part.kind, slot.key, f"{slot.negation} {word}", False
        if head in RESULTS:
            yield part.kind, "result", head, RESULTS[head]
    yield from (
        ("treatment", "pain_relief", *said) for said in (("pain", True), ("no pain", False))
    )
    yield from (("join", "role", role, role) for role in ROLES)


@pytest.mark.parametrize(("kind", "key", "word", "value"), words_of_a_line())
def test_a_form_and_a_sheet_take_the_words_of_a_line(
    kind: str, key: str, word: str, value: Any
) -> None:
    field = FORMS[kind].field(key)
    assert field is not None and value_of(field, word, TODAY) == value
    if kind in ("vet-exam", "check"):
        assert vet_reader(Heading(0, "", key))(Cell(word)) == value


NUMBERS = [
    ("38,5", 38.5), ("36.5 cm", 36.5), ("38 cm", 38), ("38cm", 38), ("36,5CM", 36.5),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "value"), NUMBERS)
def test_a_number_is_read_alike_in_form_line_and_sheet(typed: str, value: float) -> None:
    exam = of("vet-exam", outcome="ok", scrotum_cm=typed)
    assert exam == {"outcome": "satisfactory", "scrotum_cm": value}
    said = _line(f"vet ok cm {typed} mot 65")
    assert (said["scrotum_cm"], said["motility_pct"]) == (value, 65)
    assert vet_reader(Heading(0, "Scrotum", "scrotum_cm"))(Cell(typed)) == value


@pytest.mark.parametrize("typed", ["65%", "65 %", "65", "65 per cent"])
def test_a_share_is_read_alike_in_form_line_and_sheet(typed: str) -> None:
    assert of("vet-exam", outcome="1", motility_pct=typed)["motility_pct"] == 65
    said = _line(f"vet ok mot {typed}, norm {typed}; walk 0")
    assert (said["motility_pct"], said["normal_pct"]) == (65, 65)
    assert vet_reader(Heading(0, "Motility", "motility_pct"))(Cell(typed)) == 65


@pytest.mark.parametrize("typed", ["980 kg", "980kg", "980,0", "980", "980 kilos"])
def test_a_weight_is_read_alike_in_form_line_and_roster(typed: str) -> None:
    assert of("weight", kg=typed) == {"kg": 980}
    assert _line(f"kg {typed}; walk 0")["kg"] == 980
    assert reader(Heading(0, "Weight", "kg"))(Cell(typed)) == 980


def test_the_unit_that_a_line_takes_is_the_fields() -> None:
    columns = {**own_columns(ENTRIES["weight"]), **own_columns(ENTRIES["vet-exam"])}
    assert {key: columns[key].unit for key in UNIT_OF} == UNIT_OF
    assert {unit for shape in ENTRIES.values() for unit in units(shape)} <= UNITS.keys()


def units(shape: Any) -> set[str]:
    return {
        c.unit for c in columns_of(shape).values() if c.unit and c.type in ("number", "integer")
    }


def _line(text: str) -> dict[str, Any]:
    return read(text, bull="1", on=TODAY, by=None, scales=Scales("gb0-3", "five"))[0]


names = st.one_of(st.sampled_from(("none", "None", '"none"', "2", "Heifers", "hei")), st.text())


@settings(max_examples=examples(200))
@given(st.lists(names, max_size=12), names, st.none() | st.just("reserve"))
def test_any_groups_name_can_be_chosen_and_read_back(
    groups: list[str], group: str, role: str | None
) -> None:
    given_ = [validate(FULL["join"] | {"group": name})[0] for name in (*groups, group)]
    known = [checked["group"] for checked in given_ if checked]
    for name in (*known, None):
        said = {"group": name} | ({"role": role} if role else {})
        form = form_for("join", groups=known[:-1], content=said)
        assert content_of(form, typed_of(form, said), TODAY) == said


@pytest.mark.parametrize("form", FORMS.values(), ids=lambda form: form.id)
def test_labels_are_short_and_their_own(form: Form) -> None:
    labels = [field.label for field in form.fields]
    assert len(set(labels)) == len(labels)
    assert max(map(len, labels)) <= 15


@pytest.mark.parametrize("form", OF_ONE_ENTRY, ids=lambda form: form.id)
def test_each_form_has_its_day_above_what_one_begins_with(form: Form) -> None:
    assert form.fields[0].key == "on" and form.begin == form.fields[1]
    content = own(FULL[form.kind]) | {"on": "2026-11-24"}
    assert content_of(form, typed_of(form, content), TODAY) == content
    assert "on" not in content_of(form, typed_of(form, own(FULL[form.kind])), TODAY)


def test_a_day_to_come_is_refused_but_for_an_entry_that_lies_ahead() -> None:
    form, typed = FORMS["weight"], {"kg": "980", "on": "26 nov 2026"}
    with pytest.raises(FieldError, match="day: Thu 26 Nov 2026 is still to come"):
        content_of(form, typed, TODAY)
    assert content_of(form, typed, TODAY, date(2026, 11, 26))["on"] == "2026-11-26"
    assert content_of(form, typed | {"on": "26 nov"}, TODAY)["on"] == "2025-11-26"  # the last one


# ---- answers -----------------------------------------------------------------------------------


def of(form_id: str, **typed: str) -> dict[str, Any]:
    return content_of(FORMS[form_id], typed, TODAY)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("1", "satisfactory"), ("2", "deferred"), ("deferred", "deferred"), ("Def", "deferred"),
     (" u ", "unsatisfactory"), ("3", "unsatisfactory")],
)  # fmt: skip
def test_a_choice_by_digit_word_or_beginning(typed: str, meant: str) -> None:
    assert of("vet-exam", outcome=typed) == {"outcome": meant}


@pytest.mark.parametrize(
    ("form_id", "typed", "label", "said"),
    [
        ("vet-exam", {"outcome": "4"}, "outcome", "1 satisfactory, 2 deferred or 3 unsatisf"),
        ("vet-exam", {"outcome": "0"}, "outcome", "none of these"),
        ("vet-exam", {"outcome": "fine"}, "outcome", "none of these"),
        ("vet-exam", {}, "outcome", "needed"),
        ("vet-exam", {"outcome": "  "}, "outcome", "needed"),
        ("vet-exam", {"outcome": "1", "scrotum_cm": "wide"}, "scrotum, cm", "not a number"),
        ("vet-exam", {"outcome": "1", "scrotum_cm": "36 kg"}, "scrotum, cm", "not a number"),
        ("vet-exam", {"outcome": "1", "scrotum_cm": "3 6"}, "scrotum, cm", "not a number"),
        ("vet-exam", {"outcome": "1", "scrotum_cm": "1e2"}, "scrotum, cm", "not a number"),
        ("vet-exam", {"outcome": "1", "scrotum_cm": "٣٦"}, "scrotum, cm", "not a number"),
        ("vet-exam", {"outcome": "1", "feet_seen": "perhaps"}, "feet looked at", "yes nor no"),
        ("vet-exam", {"outcome": "2", "again_on": "09/04"}, "again on", "two ways"),
        ("vet-exam", {"outcome": "1", "examined": "eyes"}, "examined", "can stand seen, felt"),
        ("vet-exam", {"outcome": "1", "examined": "seen legz"}, "examined", "which parts?"),
        ("vet-exam", {"outcome": "1", "libido": "fine"}, "libido", "2 slow, 3 unwilling"),
        ("check", {"check": "tb", "result": "1", "valid_until": "9/4"}, "valid until", "two ways"),
        ("group", {"group": "H", "turnout": "31 feb"}, "turnout", "no such day"),
        ("group", {"group": "H", "turnout": "9 apr", "females": "6.5"}, "females in it", "whole"),
        ("group", {"group": "H"}, "turnout", "needed"),
        ("group", {"group": "H", "turnout": "9 apr", "weeks": "no"}, "season, weeks", "or none"),
        ("vet-look", {"about": "body", "outcome": "well"}, "outcome", "1 fit, 2 unfit or 3 again"),
        ("body", {"part": "eyes", "state": "w"}, "how it is", "wrong or watch"),
        ("moved", {"act": "o", "reason": "r\x1bx"}, "why", '"rx"'),
        ("join", {}, "group", "needed"),
        ("bull", {"born": "03/04/22"}, "born", "two ways"),
        ("bull", {"born": "soon"}, "born", "not a day"),
        ("bull", {"born": "mar 23"}, "born", "or the day with its year"),
    ],
)
def test_what_cannot_be_is_refused_by_the_fields_label(
    form_id: str, typed: dict[str, str], label: str, said: str
) -> None:
    with pytest.raises(DataError) as refused:
        content_of(FORMS[form_id], typed, TODAY)
    assert str(refused.value).startswith(f"{label}: ")
    assert said in str(refused.value)


def test_of_two_that_begin_alike_more_is_asked_for() -> None:
    form = form_for("join", groups=["Heifers", "Heifers late", "Hill cows"])
    assert content_of(form, {"group": "heifers"}, TODAY) == {"group": "Heifers"}
    assert content_of(form, {"group": "hi"}, TODAY) == {"group": "Hill cows"}
    assert content_of(form, {"group": "4"}, TODAY) == {"group": None}
    with pytest.raises(FieldError, match="Heifers or Heifers late") as refused:
        content_of(form, {"group": "he"}, TODAY)
    assert refused.value.key == "group"


def test_a_group_called_none_is_chosen_in_quotes() -> None:
    form = form_for("join", groups=["none"])
    assert content_of(form, {"group": "1"}, TODAY) == {"group": "none"}
    assert content_of(form, {"group": '"none"'}, TODAY) == {"group": "none"}
    assert content_of(form, {"group": "None"}, TODAY) == {"group": None}


def test_an_own_check_is_chosen_from_the_farms_names() -> None:
    form = form_for("check", checks=["bvd-test", "dung-sample"])
    assert content_of(form, {"check": "2", "result": "f"}, TODAY) == {
        "check": "dung-sample", "result": "fail",
    }  # fmt: skip
    with pytest.raises(DataError, match="1 bvd-test or 2 dung-sample"):
        content_of(form, {"check": "tb", "result": "pass"}, TODAY)
    corrected = form_for("check", checks=["bvd-test"], content={"check": "old-test"})
    assert content_of(corrected, {"check": "old", "result": "1"}, TODAY)["check"] == "old-test"


@pytest.mark.parametrize(("typed", "meant"), [("y", True), ("YES", True), ("n", False)])
def test_yes_and_no(typed: str, meant: bool) -> None:
    assert of("bull", heifer_safe=typed) == {"heifer_safe": meant}


def test_numbers_keep_their_one_form() -> None:
    assert of("weight", kg="980.0") == {"kg": 980}
    assert of("weight", kg=" 980.5 ") == {"kg": 980.5}


def test_what_is_left_empty_of_a_group_is_kept_and_none_takes_it_away() -> None:
    kept = of("group", group="H", turnout="9 apr", weeks="", females=" ")
    assert kept == {"group": "H", "turnout": "2027-04-09"}
    taken = of("group", group="H", turnout="9 apr", weeks="none", females="None", **{"class": "n"})
    assert taken == {**kept, "weeks": None, "females": None, "class": None}
    assert problem_in(FORMS["group"], taken, TODAY) is None
    assert content_of(FORMS["group"], typed_of(FORMS["group"], taken), TODAY) == taken


def test_a_group_called_none_keeps_its_name() -> None:
    assert of("group", group="none", turnout="9 apr")["group"] == "none"


def test_a_first_group_has_nothing_to_take_away() -> None:
    with pytest.raises(FieldError, match=r"females in it: .* as in 60$"):
        of("first-group", group="G", females="none")


@pytest.mark.parametrize(("typed", "said"), [("", {}), ("y", {"pain_relief": True}),
                                             ("n", {"pain_relief": False})])  # fmt: skip
def test_pain_relief_is_yes_no_or_not_said(typed: str, said: dict[str, bool]) -> None:
    drug = {"given_by": "vet", "product": "drops"}
    assert of("treatment", **drug, pain_relief=typed) == drug | said


def test_what_a_look_or_a_body_part_needs_is_told_by_the_fields_label() -> None:
    with pytest.raises(FieldError, match=r"^outcome: it is needed"):
        of("vet-look", about="foot")
    for form, said, label in (
        ("vet-look", {"about": "foot", "outcome": "fit", "again_on": "2027-05-03"}, "again on"),
        ("vet-look", {"about": "illness", "outcome": "fit", "foot": "LF"}, "which foot"),
        ("vet-look", {"about": "lame", "outcome": "fit", "part": "eyes"}, "which part"),
        ("body", {"part": "eyes", "state": "wrong", "limb": "LF"}, "limb"),
        ("bull", {"origin": "hired"}, "arrived"),
    ):
        problem = problem_in(FORMS[form], said, TODAY)
        assert problem is not None
        assert str(problem).startswith(f"{label}: ")


# ---- days --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "next_one", "last_one"),
    [
        ("9 apr", date(2027, 4, 9), date(2026, 4, 9)),
        ("24 nov", date(2027, 11, 24), date(2026, 11, 24)),
        ("25 Nov", date(2026, 11, 25), date(2026, 11, 25)),
        ("26 november", date(2026, 11, 26), date(2025, 11, 26)),
        ("9 apr 2028", date(2028, 4, 9), date(2028, 4, 9)),
        (" 2027-04-09 ", date(2027, 4, 9), date(2027, 4, 9)),
    ],
)
def test_a_day_without_a_year_is_the_next_or_of_the_past_the_last(
    typed: str, next_one: date, last_one: date
) -> None:
    assert day_typed(typed, TODAY) == next_one
    assert day_typed(typed, TODAY, past=True) == last_one


def test_arrived_is_of_the_past_and_turnout_to_come_and_of_a_birth_the_year_is_asked() -> None:
    assert of("bull", arrived="1 dec") == {"arrived": "2025-12-01"}
    with pytest.raises(FieldError, match=r"^born: .* has no year"):
        of("bull", born="14 mar")
    assert of("group", group="H", turnout="14 mar")["turnout"] == "2027-03-14"


def test_a_birth_by_month_year_or_age_fills_both_its_fields_and_stands_in_the_form_again() -> None:
    for typed, first, last in (
        ("mar 2023", "2023-03-01", "2023-03-31"), ("2023", "2023-01-01", "2023-12-31"),
        ("3", "2022-11-26", "2023-11-25"),
    ):  # fmt: skip
        said = of("bull", born=typed)
        assert said == {"born": last, "born_from": first}
        assert problem_in(FORMS["bull"], said, TODAY) is None
        assert content_of(FORMS["bull"], typed_of(FORMS["bull"], said), TODAY) == said
    assert of("bull", born="14/3/23") == {"born": "2023-03-14"}


@pytest.mark.parametrize("typed", ["", "soon", "31 feb", "03/04", "9 apr or so", "2027-13-01"])
@pytest.mark.parametrize("past", [False, True])
def test_what_is_no_day_is_refused(typed: str, past: bool) -> None:
    with pytest.raises(DataError):
        day_typed(typed, TODAY, past=past)


# ---- what the entries' validation says ---------------------------------------------------------


def test_ranges_and_what_must_fit_are_told_by_the_fields_label() -> None:
    bought = problem_in(FORMS["bull"], {"origin": "bought"}, TODAY)
    assert bought is not None
    assert (bought.key, str(bought)[:9]) == ("arrived", "arrived: ")
    wide = problem_in(FORMS["vet-exam"], {"outcome": "deferred", "scrotum_cm": 360}, TODAY)
    assert wide is not None
    assert str(wide).startswith("scrotum, cm: 360 is out of range")
    twice = content_of(FORMS["vet-exam"], {"outcome": "1", "examined": "seen legs legs"}, TODAY)
    legs = problem_in(FORMS["vet-exam"], twice, TODAY)
    assert legs is not None and str(legs) == "examined: legs seen stands there twice; say it once"
    assert problem_in(FORMS["weight"], {"kg": 980}, TODAY) is None
    assert problem_in(FORMS["group"], {"group": "H", "turnout": "2027-04-09"}, TODAY) is None


def test_a_bulls_place_in_his_group_is_offered_in_plain_words_and_taken_in_the_books() -> None:
    """The book's word is "worker": nobody says that of a bull."""
    form = form_for("join", groups=("Cows",))
    role = form.field("role")
    assert role is not None and role.words[:2] == ("reserve", "working")
    for typed in ("working", "2", "w", "Worker"):
        assert content_of(form, {"group": "Cows", "role": typed}, TODAY)["role"] == "worker", typed
    assert typed_of(form, {"group": "Cows", "role": "worker"})["role"] == "working"


@pytest.mark.parametrize(
    ("form_id", "field", "typed"),
    [
        ("treatment", "given_by", {"given_by": "Root", "product": "x"}),
        ("vet-exam", "examiner", {"outcome": "satisfactory", "examiner": "ROOT "}),
    ],
)
def test_an_account_is_no_person_who_gave_or_examined(
    form_id: str, field: str, typed: dict[str, str]
) -> None:
    problem = problem_in(FORMS[form_id], of(form_id, **typed), TODAY)
    assert problem is not None and problem.key == field
    assert "root is an account and no person; write a name" in str(problem)
