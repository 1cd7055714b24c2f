"""The rules that come with the program: complete, sourced, and all of them in use."""

from __future__ import annotations

import dataclasses
import re
import subprocess
import sys
import tomllib
from datetime import date
from typing import Any

import pytest

from readiness.rules.load import DEFAULT, default_rules, values_table
from readiness.rules.model import STANDINGS, Limits
from readiness.rules.shapes import all_shapes, finding_rule
from readiness.trade.codes import CODES
from readiness.trade.scales import CONDITION, MOBILITY

RULES = default_rules().common
VALUES = values_table(RULES)


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.id)
def test_every_value_has_unit_standing_source_and_day_checked(value: Any) -> None:
    assert value.unit.strip()
    assert value.standing in STANDINGS
    assert value.source.strip()
    assert date.fromisoformat(value.checked) <= date(2026, 11, 26)
    assert value.text.endswith((".", ")"))
    assert not value.overridden


@pytest.mark.parametrize("value", VALUES, ids=lambda value: value.id)
def test_only_a_project_choice_rests_on_our_own_word(value: Any) -> None:
    ours = re.search(r"\bours\b", value.source) is not None
    if value.standing == "published":
        assert not ours
    if value.standing == "project choice":
        assert ours


def _tables(table: dict[str, Any]) -> list[dict[str, Any]]:
    if "value" in table:
        return [table]
    return [inner for below in table.values() for inner in _tables(below)]


def test_nothing_in_the_file_is_lost_on_the_way() -> None:
    written = _tables(tomllib.loads(DEFAULT.read_text(encoding="utf-8"))["rules"])
    assert len(written) == len(VALUES)
    assert [table["source"] for table in written] == [value.source for value in VALUES]


def test_every_limit_is_the_value_of_its_rule() -> None:
    for field in dataclasses.fields(Limits):
        limit = getattr(RULES.limits, field.name)
        if field.name == "vet_advised_first":
            assert limit == RULES.values["vet.advised"].value[0]
        elif field.name == "vet_advised_last":
            assert limit == RULES.values["vet.advised"].value[1]
        else:
            assert limit == RULES.values[field.name.replace("_", ".", 1)].value
            assert type(limit).__name__ == field.type


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


def test_standing_is_each_value_s_own_where_a_code_has_several() -> None:
    standing = {rule: value.standing for rule, value in RULES.values.items()}
    assert standing["look.days.WLA"] == "from memory"
    assert standing["clear.days.WLA"] == "project choice"
    assert standing["clear.days.SU"] == "published"
    assert standing["finding.SU.vet_from"] == "project choice"
    assert standing["look.days.TU"] == "from memory"
    assert standing["finding.TU.vet_open"] == "project choice"
    assert standing["finding.SW.vet_from"] == "common practice (no source)"


def test_no_rule_id_is_the_beginning_of_another() -> None:
    """Else ``a.b = 1`` and ``a.b.c = 2`` could not stand in one TOML file."""
    ids = list(all_shapes())
    assert not [(a, b) for a in ids for b in ids if b.startswith(f"{a}.")]


def test_same_rules_same_digest() -> None:
    assert RULES.digest == default_rules().common.digest
    assert len(RULES.digest) == len("0" * 64)
    assert RULES.name == "default"


def test_loading_needs_no_pydantic_duckdb_or_textual() -> None:
    probe = (
        "import sys; from readiness.rules.load import default_rules; default_rules();"
        "print([m for m in ('pydantic', 'duckdb', 'textual', 'difflib') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
