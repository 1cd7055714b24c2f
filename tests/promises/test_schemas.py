"""The published JSON Schema of every result holds for what the commands say, and leaves out nothing
that they say."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from readiness.cli.parser import COMMANDS
from readiness.report.schemas.results import NAMES, SCHEMAS, schema_of
from tests.build import made_once
from tests.promises.conftest import Run
from tests.promises.stated import PAPER

ON = "2026-04-28"
Ask = Callable[..., Any]


@pytest.fixture
def ask(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ask:
    """A command's JSON on the demo book of ``ON``, its codes 0 and 1 alone."""
    book = tmp_path / "demo.duckdb"
    made_once(tmp_path, "the demo for its schemas", lambda: run("demo", "--book", book, "--on", ON))
    monkeypatch.setenv("READINESS_BOOK", str(book))
    monkeypatch.chdir(tmp_path)

    def asked(*command: object) -> Any:
        ran = run(*command, "--json", "--on", ON)
        assert ran.code == 0, ran.err
        return ran.json()

    return asked


def closed(schema: Any) -> Any:
    """The same, in which no key may stand that it does not name: the published ones leave room for
    keys to come."""
    if isinstance(schema, list):
        return [closed(each) for each in schema]
    if not isinstance(schema, dict) or schema.get("$id") == "urn:readiness:entry":
        return schema
    said = {key: closed(each) for key, each in schema.items()}
    return said | {"additionalProperties": False} if "properties" in said else said


def holds(name: str, result: Any) -> None:
    schema = closed(schema_of(name))
    Draft202012Validator.check_schema(schema)
    judge = Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)
    assert [
        f"{error.json_path}: {error.message[:200]}" for error in judge.iter_errors(result)
    ] == []


ROSTER = "tag,name,farm\nUK 700914 400347,Ullin,Low Sandwath\n"
RESULTS: list[tuple[str, tuple[str, ...]]] = [
    ("guide", ("guide",)),
    ("guide", ("guide", "crush")),
    ("board", ("board",)),
    ("board", ("board", "--turnout", "2026-06-10", "--farm", "Low Sandwath")),
    ("bull", ("bull", "388")),
    ("bull", ("bull", "405")),
    ("log", ("log", "388", "lh o su@4/2; walk 2 lh")),
    ("book-in", ("book-in", "UK 700914 400347")),
    ("group", ("group", "Late", "--turnout", "2026-06-20")),
    ("import", ("import", "bulls.csv", "--check")),
    ("import", ("import", "bulls.csv")),
    ("diary", ("diary",)),
    ("diary", ("diary", "--visits")),
    ("sheet", ("sheet",)),
    ("visits", ("visits",)),
    ("cover", ("cover",)),
    ("turnout", ("turnout", "Shore cows", "--farm", "Low Sandwath")),
    ("stats", ("stats",)),
    ("rules", ("rules",)),
    ("settings", ("settings",)),
    ("export", ("export", "out")),
    ("backup", ("backup", "copy.duckdb")),
    ("verify", ("verify",)),
    ("schema", ("schema",)),
    ("completion", ("completion", "bash")),
    ("man", ("man",)),
    ("demo", ("demo", "--book", "another.duckdb")),
]  # fmt: skip


@pytest.mark.parametrize(("name", "command"), RESULTS, ids=[" ".join(c) for _, c in RESULTS])
def test_a_result_is_as_its_schema_says(
    ask: Ask, tmp_path: Path, name: str, command: tuple[str, ...]
) -> None:
    (tmp_path / "bulls.csv").write_text(ROSTER, encoding="utf-8")
    if name == "sheet":
        ask("log", "388", "lh o su@4/2 pare; kg 900")
    result = ask(*command)
    holds(name, result)
    assert isinstance(result, list) or result["format"] == 1


def test_what_is_written_taken_back_and_brought_back(ask: Ask, tmp_path: Path) -> None:
    written = ask("log", "388", "kg 900")
    holds("log", ask("turnout", "Heifers", "--farm", "Kestrel Rigg", "--let-out"))
    holds("undo", ask("undo"))
    holds("strike", ask("strike", written["written"][0], "--why", "another bull"))
    ask("backup", "copy.duckdb")
    holds("restore", ask("restore", "copy.duckdb", "--book", "back.duckdb"))


def test_what_only_some_results_say_is_in_them_here(ask: Ask, tmp_path: Path) -> None:
    """Else a schema would be held by results that leave out what it says of them."""
    (tmp_path / "bulls.csv").write_text(ROSTER, encoding="utf-8")
    said = {name: schema_of(name) for name in SCHEMAS}
    left = {name: said[name].get("properties", {}).keys() - said[name].get("required", ())
            for name in SCHEMAS}  # fmt: skip
    for name, command in RESULTS:
        if left[name]:
            left[name] -= ask(*command).keys()
    day = ask("visits")["visits"][0]["on"]
    farm = ask("visits")["visits"][0]["farm"]
    dropped = ask("visits", "--without", f"{day} {farm}")
    holds("visits", dropped)
    left["visits"] -= dropped.keys()
    assert dropped["changes"] and not any(left.values()), left


@pytest.mark.parametrize("name", NAMES)
def test_a_result_that_lacks_a_key_is_refused(name: str) -> None:
    """A schema that everything fits would say nothing."""
    schema = schema_of(name)
    Draft202012Validator.check_schema(schema)
    wrong: Any = {} if schema.get("type") != "array" else [{}]
    assert not Draft202012Validator(schema).is_valid(wrong)
    assert not Draft202012Validator(schema).is_valid(3)


def test_every_command_has_its_schema_and_takes_json(run: Run) -> None:
    assert set(SCHEMAS) == set(COMMANDS)
    for command in COMMANDS:
        assert "--json" in run(command, "--help").out


def test_the_schemas_are_published(run: Run) -> None:
    names = run("schema").out.split()
    assert names == list(NAMES) == run("schema", "--json").json()["schemas"]
    for name in names:
        assert json.loads(run("schema", name).out) == schema_of(name)
        assert run("schema", name, "--json").out.count("\n") == 1
    refused = run("schema", "bord")
    assert refused.code == 2 and "Did you mean board?" in refused.err


def promised() -> Iterator[tuple[str, str]]:
    """(command, key) of each row of DEVELOPERS.md that is of whole results."""
    for row in re.findall(r"^\| (`[^|]*`) \| (.*) \|$", PAPER.read_text("utf-8"), re.MULTILINE):
        flat = re.sub(r"\([^)]*\)|;.*|as a group of .*?,", "", row[1])
        for name in re.findall(r"`([\w-]+)`", row[0]):
            if name in SCHEMAS:
                yield from ((name, key) for key in re.findall(r"`(\w+)`", flat))


def test_no_key_that_is_promised_is_missing_from_a_schema() -> None:
    found = list(promised())
    assert len({name for name, _ in found}) > 20
    for name, key in found:
        schema = schema_of(name)
        keys = schema.get("properties") or schema["items"]["properties"]
        assert key in keys, (name, key)
