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
from tests.volume import sampled

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


ROSTER = (
    "tag,name,farm,born,group,turnout\n"
    "UK 700914 400347,Ullin,Low Sandwath,26/08/2022,Young heifers,2026-06-20\n"
)
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


@sampled(("name", "command"), RESULTS, of=[RESULTS[2], RESULTS[4], RESULTS[6], RESULTS[15]],
         ids=[" ".join(c) for _, c in RESULTS])  # fmt: skip
def test_a_result_is_as_its_schema_says(
    ask: Ask, tmp_path: Path, name: str, command: tuple[str, ...]
) -> None:
    (tmp_path / "bulls.csv").write_text(ROSTER, encoding="utf-8")
    if name == "sheet":
        ask("log", "388", "lh o su@4/2 pare; kg 900")
    result = ask(*command)
    holds(name, result)
    assert isinstance(result, list) or result["format"] == 1


@pytest.mark.long
def test_what_is_written_taken_back_and_brought_back(ask: Ask, tmp_path: Path) -> None:
    written = ask("log", "388", "kg 900")
    holds("log", ask("turnout", "Heifers", "--farm", "Kestrel Rigg", "--let-out"))
    holds("undo", ask("undo"))
    holds("strike", ask("strike", written["written"][0], "--why", "another bull"))
    holds("retag", ask("retag", "388", "UK 700914 300389"))
    ask("undo")
    ask("backup", "copy.duckdb")
    ask("log", "388", "kg 905", "--book", "copy.duckdb")
    holds("merge", ask("merge", "copy.duckdb", "--check"))
    holds("merge", ask("merge", "copy.duckdb"))
    holds("undo", ask("undo"))
    holds("restore", ask("restore", "copy.duckdb", "--book", "back.duckdb"))
    holds("salvage", ask("salvage", "copy.duckdb", "--book", "anew.duckdb"))


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
            if name in NAMES:
                yield from ((name, key) for key in re.findall(r"`(\w+)`", flat))


def test_no_key_that_is_promised_is_missing_from_a_schema() -> None:
    found = list(promised())
    assert len({name for name, _ in found}) > 20
    for name, key in found:
        schema = schema_of(name)
        keys = schema.get("properties") or schema["items"]["properties"]
        assert key in keys, (name, key)


def reached(schema: Any, result: Any, at: str = "$") -> Iterator[str]:
    """The places of a schema at which a result says something."""
    for each in schema.get("anyOf", [schema]):
        if isinstance(result, dict) and "properties" in each:
            for key, inner in each["properties"].items():
                if result.get(key) is not None:
                    yield f"{at}.{key}"
                    yield from reached(inner, result[key], f"{at}.{key}")
        elif isinstance(result, list) and "items" in each:
            for one in result:
                yield from reached(each["items"], one, f"{at}[]")


def places(schema: Any, at: str = "$") -> Iterator[str]:
    """All of them."""
    for each in schema.get("anyOf", [schema]):
        for key, inner in each.get("properties", {}).items():
            yield f"{at}.{key}"
            yield from places(inner, f"{at}.{key}")
        if "items" in each:
            yield from places(each["items"], f"{at}[]")


MORE: list[tuple[str, tuple[str, ...], str]] = [
    ("board", ("board", "--turnout", "2026-07-10", "--farm", "Kestrel Rigg"), ON),
    ("visits", ("visits", "--days", "3"), ON),
    ("bull", ("bull", "388"), ON),
    ("bull", ("bull", "412"), ON),
    ("bull", ("bull", "424"), ON),
    ("log", ("log", "388", "rh o tu/3"), ON),
    ("book-in", ("book-in", "388"), ON),
    ("group", ("group", "Later", "--turnout", "2026-06-20", "--farm", "Low Sandwth"), ON),
    ("settings", ("settings",), ON),
    ("log", ("log", "388", "lh o su healed"), ON),
    ("group", ("group", "Latr", "--turnout", "2026-06-20", "--farm", "Low Sandwath", "--females",
               "30", "--weeks", "8"), ON),
    ("turnout", ("turnout", "Heifers", "--farm", "Kestrel Rigg"), "2026-05-20"),
    ("cover", ("cover", "--females", "400"), ON),
    ("stats", ("stats", "--farm", "Low Sandwath", "--since", "2026-01-01"), ON),
    ("diary", ("diary",), "2026-06-20"),
    ("cover", ("cover",), "2026-05-20"),
    ("cover", ("cover",), "2026-09-20"),
]  # fmt: skip
SAID = (
    "lh o su@4/2 pare wrap; body joint lf wrong; body eyes watch",
    "lf s dd:m2@10; lf o hhe; cond 3; kg 901; done bvd-test until 2027-03-01",
)


NOT_HERE = frozenset(
    f"{name}: $.{place}"
    for name, places in {
        "strike": ("warnings[].entry", "warnings[].text"),
        "bull": ("advice[].claw", "advice[].code", "advice[].foot", "open_findings[].size_mm"),
        "import": ("rosters[].sheet",),
        "diary": ("overdue[].advised_by",),
        "fleet": (  # in tests/fleet
            "format", "out", "farms", "failed", "processes", *(f"farms[].{key}" for key in
            ("farm", "path", "entries", "bulls", "go", "skipped")),
            *(f"failed[].{key}" for key in ("farm", "path", "why", "code")),
            *(f"processes[].{key}" for key in ("process", "farms", "peak_mb")),
        ),
        "turnout": ("out[].earliest_ready", "out[].hold"),
        "salvage": (  # of a damaged book, in tests/cli/test_salvage.py
            "damaged_lines[].file", "damaged_lines[].line", *(f"lost[].{key}" for key in
            ("id", "bull", "day", "kind", "recorded", "batch", "who", "said")),
        ),
        "cover": (
            "after_season[].back", "after_season[].out_again", "after_season[].rest_until",
            *(f"after_season[].lost[].{key}" for key in
              ("what", "before", "before_on", "now", "now_on")),
            *(f"after_season[].troubles[].{key}" for key in ("what", "on")),
            *(f"seasons[].stand_ins[].{key}" for key in ("bull", "name", "ready", "place")),
            "seasons[].working[].condition_lost", "seasons[].working[].kg_lost",
            "put_off[].with_moves",
        ),
    }.items()
    for place in places
) | {"rules: $[].checked", "rules: $[].default"}  # fmt: skip
"""What is null or empty in all the results here."""


GORSE = "UK 700914 300388"


@pytest.mark.long
def test_every_place_of_every_schema_holds_something_here(
    run: Run, ask: Ask, tmp_path: Path
) -> None:
    """Else a schema would be held by results that leave out what it says of them."""
    (tmp_path / "bulls.csv").write_text(ROSTER, encoding="utf-8")
    left = {name: set(places(schema_of(name))) for name in SCHEMAS}
    settings = tmp_path / "config" / "readiness" / "readiness.toml"
    settings.parent.mkdir(parents=True)
    settings.write_text('farm = "Low Sandwath"\n', encoding="utf-8")

    def take(name: str, result: Any) -> None:
        holds(name, result)
        left[name] -= set(reached(schema_of(name), result))

    ask("book-in", "UK 700914 300388", "--pen", "4")
    for line in SAID:
        ask("log", "388", line)
    take("turnout", ask("turnout", "Heifers", "--farm", "Kestrel Rigg"))
    first = ask("visits")["visits"][0]
    take("visits", ask("visits", "--without", f"{first['on']} {first['farm']}"))
    for name, command in RESULTS:
        take(name, ask(*command))
    take("log", ask("turnout", "Heifers", "--farm", "Kestrel Rigg", "--let-out"))
    for name, command, on in MORE:
        ran = run(*command, "--json", "--on", on)
        assert ran.code == 0, ran.err
        take(name, ran.json())
    struck = ask("log", "388", "kg 902")["written"][0]
    take("strike", ask("strike", struck, "--why", "another bull"))
    take("strike", ask("strike", ask("log", "388", "kg 903")["written"][0]))
    take("undo", ask("undo"))
    take("retag", ask("retag", GORSE, "UK 700914 300389"))
    ask("undo")
    take("restore", ask("restore", "copy.duckdb", "--book", "back.duckdb"))
    ask("log", GORSE, "kg 904")  # by his whole tag: in the book another is tagged 388
    ask("log", GORSE, "kg 905", "--book", "copy.duckdb")
    ask("group", "Late", "--turnout", "2026-06-21", "--book", "copy.duckdb")
    take("merge", ask("merge", "copy.duckdb", "--check"))
    take("merge", ask("merge", "copy.duckdb"))
    take("undo", ask("undo"))
    take("salvage", ask("salvage", "copy.duckdb", "--book", "anew.duckdb"))
    assert {f"{name}: {each}" for name, what in left.items() for each in what} == NOT_HERE
