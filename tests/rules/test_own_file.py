"""A farm's own rules file lies over the default."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from readiness.report.look import Look
from readiness.report.rules_text import own_rules, rules_text
from readiness.rules.load import load_rules, values_table
from readiness.rules.model import OwnCheck, RuleBook

Load = Callable[[str], RuleBook]


@pytest.fixture
def load(tmp_path: Path) -> Load:
    def read(text: str) -> RuleBook:
        path = tmp_path / "hillend.toml"
        path.write_bytes(text.encode())
        return load_rules(path)

    return read


def test_no_file_is_the_default() -> None:
    assert load_rules(None) == load_rules(None)


def test_an_empty_file_changes_nothing_but_the_name(load: Load) -> None:
    rules = load("").common
    assert rules.name == "hillend"
    assert rules.digest == load_rules(None).common.digest
    assert rules.values == load_rules(None).common.values


@pytest.mark.parametrize(
    "text",
    [
        '[rules]\n"feet.oldest" = 100\n',
        "[rules]\nfeet.oldest = 100\n",
        "[rules.feet]\noldest = 100\n",
        "[rules]\nfeet.oldest = { value = 100 }\n",
        "[rules.feet.oldest]\r\nvalue = 100\r\nunit = 'days'\r\n",
        "\ufeff[rules]\nfeet.oldest = 100\n",
    ],
    ids=["quoted", "dotted", "nested", "table", "crlf", "bom"],
)
def test_a_bare_value_is_the_farm_s_own_choice(load: Load, text: str) -> None:
    rules = load(text).common
    value = rules.values["feet.oldest"]
    assert rules.limits.feet_oldest == value.value == 100
    assert value.overridden
    assert value.default == 120
    assert value.standing == "project choice"
    assert value.source == "farm's own rule, hillend.toml"
    assert value.unit == "days"
    assert value.checked == ""
    assert value.text == load_rules(None).common.values["feet.oldest"].text
    assert rules.digest != load_rules(None).common.digest
    assert [v.id for v in rules.values.values() if v.overridden] == ["feet.oldest"]


def test_a_value_may_bring_its_own_standing_source_and_day(load: Load) -> None:
    value = load(
        '[rules]\nlame.long = { value = 10, standing = "common practice (no source)", '
        'source = "our vet", checked = 2026-11-20 }\n'
    ).common.values["lame.long"]
    assert (value.standing, value.source, value.checked) == (
        "common practice (no source)", "our vet", "2026-11-20",
    )  # fmt: skip


def test_the_table_keeps_the_order_of_the_default(load: Load) -> None:
    before = [value.id for value in values_table(load_rules(None).common)]
    rules = load("[rules]\ntight.days = 3\nfinding.HHE.vet_from = 3\nfeet.due = 8\n").common
    assert [value.id for value in values_table(rules)] == [*before, "finding.HHE.vet_from"]


def test_pairs_bands_lists_and_switches_can_be_changed(load: Load) -> None:
    rules = load(
        """
        [rules]
        vet.advised = 20
        vet.required = false
        look.slack = 0
        condition.hold.five = [2.25, 4]
        look.days.SU = [14, 28]
        clear.days.SU = 42
        finding.DD.holds_stages = ["M1", "M2"]
        scrotum.least = [[24, 33], ["over", 35]]
        """
    ).common
    assert rules.limits.vet_advised == 20
    assert rules.limits.vet_required is False
    assert rules.limits.look_slack == 0
    assert rules.condition["five"].hold == (2.25, 4.0)
    assert rules.findings["SU"].looks == (14, 28)
    assert rules.findings["SU"].clear == (42, 42, 42)
    assert not rules.findings["DD"].holds(3, "M4.1")
    assert rules.findings["DD"].holds(1, None)
    assert rules.scrotum == ((24, 33.0), (None, 35.0))


def test_a_finding_that_never_holds_can_be_made_to_hold(load: Load) -> None:
    rules = load(
        "[rules]\nfinding.HHE.holds_from = 3\nlook.days.HHE = 28\nclear.days.HHE = 28\n"
    ).common
    assert rules.findings["HHE"].holds(3, None)
    assert not rules.findings["HHE"].holds(2, None)
    looks = rules.values["look.days.HHE"]
    assert looks.overridden
    assert looks.default is None
    assert looks.unit == "days"
    assert looks.text == rules.values["look.days.SU"].text


@pytest.mark.parametrize("written", ["Hollow end", "HOLLOW END", "Hollow  End"])
def test_a_farm_s_own_check_is_dropped_over_a_capital_letter(load: Load, written: str) -> None:
    book = load('[[farm."Hollow End".check]]\nname = "tb-test"\nwho = "vet"\nfrom = 60\n')
    assert [check.name for check in book.for_farm(written).checks] == ["tb-test"]
    assert book.for_farm("Hollow").checks == ()


def test_a_farm_s_section_is_for_that_farm_alone(load: Load) -> None:
    book = load(
        """
        [rules]
        feet.oldest = 100
        tight.days = 5
        [farm."Hill End".rules]
        feet.oldest = 90
        [farm."Hill End".scales]
        mobility = "five1-5"
        [[farm."Hill End".check]]
        name = "fence"
        who = "farmer"
        from = 10
        to = 0
        """
    )
    farm = book.for_farm("Hill End")
    assert (farm.limits.feet_oldest, farm.limits.tight_days) == (90, 5)
    assert farm.values["feet.oldest"].default == 120
    assert farm.values["feet.oldest"].source == "farm's own rule, hillend.toml"
    assert (farm.default_mobility, farm.default_condition) == ("five1-5", "five")
    assert [check.name for check in farm.checks] == ["fence"]
    assert farm.name == "hillend, Hill End"
    for other in (book.for_farm("Low Farm"), book.for_farm(None), book.common):
        assert other.limits.feet_oldest == 100
        assert other.default_mobility == "gb0-3"
        assert other.checks == ()
    assert farm.digest != book.common.digest


def test_an_own_check_says_its_window_and_is_a_value_with_a_source(load: Load) -> None:
    rules = load(
        """
        [[check]]
        name = "dung-sample"
        who = "vet"
        from = 42
        to = 14
        lag = 3
        applies = "bought"
        text = "Worm egg count is back"
        [[check]]
        name = "fence"
        who = "farmer"
        from = 3
        to = 3
        [[check]]
        name = "ring"
        who = "trimmer"
        from = "ever"
        applies = "hired"
        """
    ).common
    assert rules.checks == (
        OwnCheck("dung-sample", "vet", 42, 14, 3, "bought", "Worm egg count is back"),
        OwnCheck("fence", "farmer", 3, 3, 0, "all", "fence"),
        OwnCheck("ring", "trimmer", None, 0, 0, "hired", "ring"),
    )
    value = rules.values["check.dung-sample"]
    assert (value.value, value.unit) == ((42, 14, 3), "days before turnout: from, to, lag")
    assert value.text == "Worm egg count is back (vet; bought bulls)"
    assert (value.standing, value.overridden) == ("project choice", True)
    assert value.source == "farm's own check, hillend.toml"
    assert rules.values["check.ring"].value == ("ever", 0, 0)


def test_a_check_that_holds_for_so_many_days_needs_no_from(load: Load) -> None:
    file = load('[[check]]\nname = "tb"\nwho = "vet"\nvalid = 60\nto = 7\n')
    (check,) = file.common.checks
    assert check == OwnCheck("tb", "vet", None, 7, 0, "all", "tb", 60)
    value = file.common.values["check.tb"]
    assert (value.value, value.unit) == (("ever", 7, 0, 60), "days: from, to, lag, valid")
    text = rules_text(file.common, Look(width=200))
    assert "check.tb = from ever, to 7, lag 0, valid 60 (days)" in text
    longer = load('[[check]]\nname = "tb"\nwho = "vet"\nvalid = 61\nto = 7\n')
    assert longer.common.digest != file.common.digest


def test_the_rules_in_words_name_each_day_of_an_own_check(load: Load) -> None:
    text = rules_text(
        load(
            '[[check]]\nname = "dung-sample"\nwho = "vet"\nfrom = 42\nto = 14\nlag = 3\n'
            '[[check]]\nname = "ring"\nwho = "trimmer"\nfrom = "ever"\napplies = "hired"\n'
        ).common,
        Look(width=200),
    )
    assert "check.dung-sample = from 42, to 14, lag 3 (days before turnout)" in text
    assert "check.ring = from ever, to 0, lag 0 (days before turnout)" in text
    assert "ring (trimmer; hired bulls)" in text


@pytest.mark.parametrize(
    "line",
    [
        "vet.required = yes",
        "lame.lift_worst = 1 day",
        "mobility.lame.gb0-3 = score 2",
        "condition.hold.five = score 2.5 to 4",
        "look.days.DD = after 3, 7 and 28 days, then every 28 days",
        "clear.days.SU = slight 25 days, moderate 33 days, severe 42 days",
        "clear.days.TU = 42 days, however severe",
        "finding.AC.holds_from = severity 0 (never)",
        "finding.DD.holds_stages = M1, M2, M4.1",
        "look.slack = 0.25 of the interval",
        "visits.except = none",
        "scrotum.least = up to 15 months 30 cm, up to 18 months 31 cm, up to 21 months 32 cm, "
        "up to 24 months 33 cm, older 34 cm",
    ],
)
def test_each_value_reads_as_a_person_writes_it(load: Load, line: str) -> None:
    """The ages are inside their steps, as the reader of ``shapes.by_age`` has them."""
    assert line in rules_text(load("").common, Look(width=400)).splitlines()


def test_an_own_value_and_the_one_it_replaces_are_said_alike(load: Load) -> None:
    own = load('[rules]\nscrotum.least = [[24, 33], ["over", 35]]\ncondition.hold.five = [2, 4]\n')
    text = rules_text(own.common, Look(width=400))
    assert "condition.hold.five = score 2 to 4 (your own; the program's is score 2.5 to 4)" in text
    [line] = own_rules(own)
    assert "scrotum.least up to 24 months 33 cm, older 35 cm instead of up to 15 months" in line
    short = load('[rules]\nlook.days.SU = 1\nscrotum.least = [["over", 34]]\n')
    assert "SU after 1 day, then every 1 day instead of after 28 days, " in own_rules(short)[0]
    assert "scrotum.least at any age 34 cm instead of up to" in own_rules(short)[0]


def test_a_rule_says_the_day_of_its_comparison_only_where_there_was_one(load: Load) -> None:
    text = rules_text(
        load(
            "[rules]\nlame.long = { value = 10, source = 'our vet', checked = 2026-11-20 }\n"
        ).common,
        Look(width=200),
    )
    assert text.count("compared with it") == 1
    assert "project choice: our vet (compared with it on 2026-11-20)" in text


def test_what_decides_changes_the_digest_and_words_do_not(load: Load) -> None:
    check = '[[check]]\nname = "fence"\nwho = "farmer"\nfrom = 9\nto = {}\ntext = "{}"\n'
    one, again, other = (
        load(check.format(*parts)).common.digest for parts in ((0, "a"), (0, "b"), (1, "a"))
    )
    assert one == again != other


def test_words_of_a_farm_are_made_plain(load: Load) -> None:
    rules = load(
        '[rules]\ntight.days = { value = 3, source = "vet\\u001b[31m \\u202esaid" }\n'
    ).common
    assert rules.values["tight.days"].source == "vet[31m said"
