"""The rules that come with the program: complete, sourced, and all of them in use."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from typing import Any, get_origin, get_type_hints

import pytest

from readiness.rules.build import all_shapes, finding_rule
from readiness.rules.limits import Limits
from readiness.rules.load import DEFAULT, load_rules, values_table
from readiness.rules.model import STANDINGS
from readiness.trade.codes import CODES
from readiness.trade.scales import CONDITION, MOBILITY

RULES = load_rules(None).common
VALUES = values_table(RULES)


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.id)
def test_every_value_has_unit_standing_and_source(value: Any) -> None:
    assert value.unit.strip()
    assert value.standing in STANDINGS
    assert value.source.strip()
    assert value.text.endswith((".", ")"))
    assert not value.overridden


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.id)
def test_only_a_project_choice_has_no_source(value: Any) -> None:
    if "no source is known" in value.source:
        assert value.standing == "project choice"


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.id)
def test_what_is_not_published_says_in_its_source_what_it_rests_on(value: Any) -> None:
    """Beside a standing that leans on memory the word stands, too; a published one leans on it for
    a part at most, and says for which."""
    if value.standing == "from memory":
        assert value.source.startswith("from memory")
    if value.standing == "published":
        assert not value.source.startswith("from memory")


def test_what_it_rests_on_is_told_once() -> None:
    said = {value.id: value.rests_on for value in VALUES}
    assert not [text for text in said.values() if text.count("from memory: from memory")]
    assert said["vet.again"].startswith("from memory: about 60 days")
    assert said["feet.oldest"].split(": ")[0] in STANDINGS


def test_no_value_claims_a_comparison_with_its_source() -> None:
    """Nobody has held one against the source itself: whoever does gives the value its day, and
    takes it out of this list."""
    assert [value.id for value in VALUES if value.checked] == []


STANDING = {
    "block.least": "project choice",
    "block.most": "published",
    "feet.oldest": "project choice",
    "feet.due": "published",
    "feet.advised": "published",
    "lame.long": "published",
    "vet.lame_days": "from memory",
    "vet.after_illness": "published",
    "vet.again": "from memory",
    "age.least": "project choice",
    "illness.settle": "project choice",
    "incident.settle": "project choice",
    "incident.settle_back": "published",
    "wrap.most": "published",
    "look.days.WLA": "from memory",
    "clear.days.WLA": "project choice",
    "look.days.SU": "published",
    "clear.days.SU": "published",
    "finding.SU.vet_from": "project choice",
    "finding.CC.holds_from": "published",
    "finding.SC.holds_from": "published",
    "finding.SW.vet_from": "common practice (no source)",
    **dict.fromkeys(
        ("look.days.BU", "clear.days.BU", "finding.BU.vet_from", "finding.BU.holds_from"),
        "project choice",
    ),
    **{
        rule.format(code): "project choice"
        for code in ("TU", "TN")
        for rule in (
            "finding.{}.holds_from", "look.days.{}", "clear.days.{}", "finding.{}.vet_from",
            "finding.{}.vet_open",
        )
    },
}  # fmt: skip


@pytest.mark.parametrize(("rule", "standing"), STANDING.items())
def test_a_value_claims_no_more_than_is_known_of_its_source(rule: str, standing: str) -> None:
    assert RULES.values[rule].standing == standing


@pytest.mark.parametrize("rule", ["feet.due", "feet.advised", "lame.long", "lame.transport"])
def test_a_published_value_says_which_part_of_it_nobody_published(rule: str) -> None:
    assert RULES.values[rule].source.endswith("a project choice")


def _tables(table: dict[str, Any]) -> list[dict[str, Any]]:
    if "value" in table:
        return [table]
    return [inner for below in table.values() for inner in _tables(below)]


def test_nothing_in_the_file_is_lost_on_the_way() -> None:
    written = _tables(tomllib.loads(DEFAULT.read_text(encoding="utf-8"))["rules"])
    assert len(written) == len(VALUES)
    assert [table["source"] for table in written] == [value.source for value in VALUES]


def test_every_limit_is_the_value_of_its_rule() -> None:
    for name, kind in get_type_hints(Limits).items():
        limit = getattr(RULES.limits, name)
        assert limit == RULES.values[name.replace("_", ".", 1)].value
        assert type(limit) is (get_origin(kind) or kind)


def test_every_finding_field_is_the_value_of_its_rule_or_says_never() -> None:
    said = 0
    for code, rule in RULES.findings.items():
        for name in (
            "holds_from", "holds_stages", "looks", "clear", "vet_from", "vet_open", "advise_look",
        ):  # fmt: skip
            value = RULES.values.get(finding_rule(code, name))
            assert getattr(rule, name) in ([value.value] if value else [0, ()])
            said += value is not None
    of_findings = ("finding.", "look.days.", "clear.days.")
    assert said == sum(value.id.startswith(of_findings) for value in VALUES)


def test_every_scale_is_there_with_its_bounds() -> None:
    for scale, walk in RULES.mobility.items():
        assert (walk.low, walk.worst) == (MOBILITY[scale].low, MOBILITY[scale].high)
        assert walk.lame == RULES.values[f"mobility.lame.{scale}"].value
        assert walk.advise == RULES.values[f"mobility.advise.{scale}"].value
    for scale, condition in RULES.condition.items():
        assert condition.step == CONDITION[scale].step
        assert condition.hold == RULES.values[f"condition.hold.{scale}"].value
        assert condition.target == RULES.values[f"condition.target.{scale}"].value
    assert (set(RULES.mobility), set(RULES.condition)) == (set(MOBILITY), set(CONDITION))
    assert (RULES.default_mobility, RULES.default_condition) == ("gb0-3", "five")


def test_every_code_of_the_trade_has_its_rule() -> None:
    assert list(RULES.findings) == list(CODES)


def test_no_rule_id_is_the_beginning_of_another() -> None:
    """Else ``a.b = 1`` and ``a.b.c = 2`` could not stand in one TOML file."""
    ids = list(all_shapes())
    assert not [(a, b) for a in ids for b in ids if b.startswith(f"{a}.")]


def test_same_rules_same_digest() -> None:
    assert RULES.digest == load_rules(None).common.digest
    assert len(RULES.digest) == len("0" * 64)
    assert RULES.name == "default"


def test_loading_needs_no_pydantic_duckdb_or_textual() -> None:
    probe = (
        "import sys; from readiness.rules.load import load_rules; load_rules(None);"
        "print([m for m in ('pydantic', 'duckdb', 'textual', 'difflib') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
