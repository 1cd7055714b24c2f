"""A wrong rules file: one paragraph that names file, table and key, and says what to do."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from readiness.rules import load as load_module
from readiness.rules.build import all_shapes
from readiness.rules.load import DEFAULT, load_rules
from readiness.rules.model import Value
from readiness.rules.values import own_value
from readiness.rules.where import Where
from readiness.system.errors import NotFound, RulesError

CHECK = 'name = "fence"\nwho = "farmer"\nfrom = 9\nto = 0\n'


def refused(tmp_path: Path, text: str) -> str:
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RulesError) as caught:
        load_rules(path)
    said = str(caught.value)
    assert caught.value.exit_code == 78
    assert said.startswith(("own.toml: ", f"{path}: "))
    assert said.endswith((".", "?"))
    assert "\n" not in said.replace(str(path), "")
    return said


@pytest.mark.parametrize(
    ("line", "words"),
    [
        # what is not known
        ("feet.oldset = 100", "feet.oldset: there is no such rule. Did you mean feet.oldest?"),
        ("look.days.ZZ = 28", "look.days.ZZ: there is no such rule"),
        ("finding.DD.holds_from = 2", "finding.DD.holds_from: there is no such rule"),
        ("finding.SU.holds_stages = ['M1']", "finding.SU.holds_stages: there is no such rule"),
        ("mobility.lame.five = 3", "mobility.lame.five: there is no such rule"),
        ("feet = 100", "feet: there is no such rule"),
        (
            "tight.days = {value = 3, sauce = 'x'}",
            "[rules.tight.days] sauce: this key is not known",
        ),
        ("tight.days = {source = 'x'}", "tight.days: its value is missing"),
        # wrong type
        ("feet.oldest = '100'", "a whole number is wanted, not '100'"),
        ("feet.oldest = 100.0", "a whole number is wanted, not 100.0"),
        ("feet.oldest = true", "a whole number is wanted, not true"),
        ("vet.required = 1", "true or false is wanted, not 1"),
        ("condition.hold.five = 3", "a list of two is wanted, not 3"),
        ("look.slack = 'x'", "a number is wanted, not 'x'"),
        ("look.days.SU = {value = {a = 1}}", "a number or a list is wanted, not a table"),
        ("clear.days.SU = [1, 2]", "three numbers are wanted (slight, moderate, severe), not 2"),
        # out of range
        ("feet.oldest = -1", "-1 is out of range: 0 to 3650"),
        ("look.slack = 1", "1 is out of range: from 0 to less than 1"),
        ("look.slack = -0.1", "-0.1 is out of range: 0 to 1"),
        ("look.slack = nan", "nan is out of range"),
        ("clear.days.SU = [33, 25, 42]", "the days must not fall from slight to severe"),
        ("look.days.SU = [28, 28]", "the days must rise: [28, 28]"),
        ("look.days.SU = []", "the list is empty"),
        ("finding.DD.holds_stages = []", "the list is empty"),
        ("finding.DD.holds_stages = ['M9']", "'M9' is none of M0, M1"),
        ("finding.DD.holds_stages = ['M1', 'M1']", "a stage is named twice"),
        ("finding.SU.holds_from = 4", "4 is out of range: 0 to 3"),
        ("rename.anew = ['ZZ']", "'ZZ' is no finding's code"),
        ("rename.anew = [['TU']]", "['TU'] is no finding's code"),
        ("rename.anew = ['TU', 'TU']", "a code is named twice"),
        ("condition.hold.five = [4.0, 2.5]", "the lower number goes first"),
        ("condition.hold.five = [0.5, 4]", "0.5 is out of range: 1 to 5"),
        ("mobility.lame.gb0-3 = 4", "4 is out of range: 0 to 3"),
        ("scrotum.least = [[24, 33]]", 'the last pair must be ["over", cm]'),
        ("scrotum.least = [[24, 33], [18, 31], ['over', 34]]", "the ages must rise"),
        ("scrotum.least = [[24, 33], ['over', 30]]", "must not fall with age"),
        # standing, source, unit, day
        ("tight.days = {value = 3, standing = 'gospel'}", "'gospel' is no standing. Write one of"),
        ("tight.days = {value = 3, standing = 'published'}", "published, but no source is named"),
        ("tight.days = {value = 3, source = ' '}", "[rules.tight.days] source: some words"),
        ("tight.days = {value = 3, unit = 'weeks'}", "its unit is days, not 'weeks'"),
        ("tight.days = {value = 3, checked = 'today'}", "checked must be a day, not 'today'"),
        # one against another
        ("block.least = 50", "block.least: 50 is more than block.most, which is 42"),
        ("lame.lift = 0", "lame.lift_worst: 1 is more than lame.lift, which is 0"),
        ("feet.due = 121", "feet.due: 121 is more than feet.oldest, which is 120"),
        ("finding.HHE.holds_from = 2", "look.days.HHE: this value is missing, and the finding"),
        ("mobility.lame.gb0-3 = 0", "every bull would be lame"),
        ("mobility.advise.gb0-3 = 3", "is more than mobility.lame.gb0-3, which is 2"),
        ("condition.target.five = [2, 3]", "it reaches outside condition.hold.five"),
        ("'tight.days' = 3\ntight.days = 4", "tight.days: this value is given twice"),
    ],
)
def test_a_wrong_value_is_refused(tmp_path: Path, line: str, words: str) -> None:
    said = refused(tmp_path, f"[rules]\n{line}\n")
    assert "[rules" in said
    assert words in said


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("feet.oldest = 3", "feet: this key is not known. Known here: rules, check, scales, farm."),
        ("[rulez]", "rulez: this key is not known. Did you mean rules?"),
        ("rules = 3", "rules: a table is wanted, not 3"),
        ("scales = 3", "scales: a table is wanted, not 3"),
        ("farm = 3", "farm: a table is wanted, not 3"),
        ("[farm]\nx = 3", 'farm."x": a table is wanted, not 3'),
        ("[farm.x.y]", '[farm."x"] y: this key is not known'),
        ('[farm.x.rules]\n[farm." x".rules]', "this farm has two sections"),
        ("[farm.x.rules]\n[farm.X.rules]", "this farm has two sections"),
        ("[farm.x.rules]\nblock.most = 20", '[farm."x".rules] block.least: 28 is more than'),
        ("[farm.x.rules]\nblock.mist = 20", '[farm."x".rules] block.mist: there is no such rule'),
        ("[scales]\nwalk = 'gb0-3'", "[scales] walk: this key is not known"),
        ("[scales]\nmobility = 'five'", "'five' is no scale. Write one of gb0-3, five1-5, nz0-3."),
        ("[scales]\ncondition = []", "[] is no scale"),
        ("[rules", "this is not valid TOML: "),
        (f"[rules]\nfeet.due = {'9' * 5000}", "too many digits"),
        ("[rules]\na = 1\na = 2", "(at line 3, column 6)"),
    ],
)
def test_a_wrong_table_is_refused(tmp_path: Path, text: str, words: str) -> None:
    assert words in refused(tmp_path, text)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (CHECK.replace('"fence"', '"Vet-Exam"'), "name: Vet-Exam is a word of the program"),
        (CHECK.replace('"fence"', '"turnout"'), "name: turnout is a word of the program"),
        (CHECK.replace('"fence"', '"two words"'), "Use letters A-Z, digits and hyphens"),
        (CHECK.replace('"fence"', '"clôture"'), "Use letters A-Z, digits and hyphens"),
        (CHECK.replace('"fence"', f'"{"x" * 121}"'), "120 at most"),
        (CHECK.replace('"fence"', "3"), "name: some words are wanted, not 3"),
        (CHECK.replace('"farmer"', '"dog"'), "who: 'dog' is not known. Write one of trimmer"),
        (CHECK.replace("to = 0", "to = 10"), "the window runs backwards, 9 to 10 days"),
        (CHECK.replace("to = 0", "to = -1"), "to: -1 is out of range"),
        (CHECK.replace("from = 9", ""), "from: this key is missing"),
        (CHECK.replace("from = 9", ""), "valid may stand in the place of from"),
        (CHECK + "valid = 'ever'", "valid: a whole number is wanted, not 'ever'"),
        (CHECK + "valid = 3\nlag = 4", "valid: the window runs backwards, 3 to 4 days"),
        (CHECK.replace("from = 9", "from = 'once'"), "Give whole days before turnout, or ever"),
        (CHECK.replace("to = 0", "to = 'ever'"), "to: a whole number is wanted, not 'ever'"),
        (CHECK + "lag = 10", "the window runs backwards, 9 to 10 days before turnout (lag)"),
        (
            CHECK + "applies = 'some'",
            "applies: 'some' is not known. Write one of all, bought, hired, homebred.",
        ),
        (CHECK + "colour = 'red'", "colour: this key is not known"),
        (CHECK + "[[check]]\n" + CHECK.replace("fence", "Fence"), "there is a check fence already"),
    ],
)
def test_a_wrong_check_is_refused(tmp_path: Path, text: str, words: str) -> None:
    said = refused(tmp_path, f"[[check]]\n{text}\n")
    assert "[check " in said
    assert words in said


def test_checks_must_be_a_list(tmp_path: Path) -> None:
    assert "check: a list of checks is wanted" in refused(tmp_path, f"[check]\n{CHECK}")


def test_a_farm_may_not_say_a_common_check_again(tmp_path: Path) -> None:
    text = f"[[check]]\n{CHECK}[[farm.x.check]]\n{CHECK}"
    said = refused(tmp_path, text)
    assert '[farm."x".check 1] name: there is a check fence already' in said


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match="there is no such rules file"):
        load_rules(tmp_path / "gone.toml")


def test_a_directory(tmp_path: Path) -> None:
    with pytest.raises(RulesError, match=r"this is a folder\. Give a file of rules"):
        load_rules(tmp_path)


def test_not_utf8(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_bytes(b"[rules]\n# caf\xe9\n")
    with pytest.raises(RulesError, match="not UTF-8"):
        load_rules(path)


def test_lists_without_end(tmp_path: Path) -> None:
    assert "too deep" in refused(tmp_path, "[rules]\nfeet.oldest = " + "[" * 5000)


BLOCK = """[rules.tight.days]
value = 7
unit = "days"
standing = "project choice"
"""


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("unit", "unit_", "tight.days: it must say value, unit, standing, source, text"),
        ('"days"', '"weeks"', "tight.days: its unit is days, not 'weeks'"),
        ('"project choice"', '"folklore"', "tight.days: 'folklore' is no standing"),
        ("[rules.tight.days]", "[rules.tight.dais]", "tight.dais: there is no such rule"),
        ('"days"', '"days"\nchecked = "May"', "tight.days: checked must be a day, not 'May'"),
        ('"days"', '"days"\nseen = 1', "tight.days: it must say value, unit, standing"),
    ],
)
def test_the_default_itself_is_read_as_strictly(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, old: str, new: str, words: str
) -> None:
    path = tmp_path / "default.toml"
    text = DEFAULT.read_text(encoding="utf-8")
    assert BLOCK in text
    path.write_text(text.replace(BLOCK, BLOCK.replace(old, new)), encoding="utf-8")
    monkeypatch.setattr(load_module, "DEFAULT", path)
    with pytest.raises(RulesError) as caught:
        load_rules(None)
    assert words in str(caught.value)


def test_a_value_missing_from_the_default_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "default.toml"
    text = DEFAULT.read_text(encoding="utf-8")
    start = text.index("[rules.tight.days]")
    end = text.index("[rules.heavy.kg]")
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    monkeypatch.setattr(load_module, "DEFAULT", path)
    with pytest.raises(RulesError, match=r"tight\.days: this value is missing"):
        load_rules(None)


JUNK = (
    "0", "-1", "7", "1e999", "nan", "true", "''", "'over'", "[]", "[[]]", "[1, [2]]", "{}",
    "{value = {}}", "{value = 1, unit = []}", "{value = 1, standing = {}}", "[{a = 1}]",
    "2026-01-01", "[['over', 1]]", "[[1, 2, 3]]", "{value = 1, source = 3}",
)  # fmt: skip


@pytest.mark.parametrize("rule", sorted(all_shapes()))
def test_whatever_is_written_is_read_or_refused(rule: str) -> None:
    shape, where = all_shapes()[rule], Where("own.toml", "rules")
    before = Value(rule, None, shape.unit, "", "", "")
    refused = 0
    for junk in JUNK:
        said = tomllib.loads(f"said = {junk}")["said"]
        try:
            own = own_value(before, said, shape, where)
        except RulesError as error:
            assert str(error).startswith("own.toml: [rules")
            refused += 1
        else:
            assert isinstance(own.value, (int, float, tuple))
    assert refused >= len(JUNK) - 4
