"""An entry's fields are stated once: one that is added in one place is everywhere."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

# In a process of its own, before anything has been made of the models.
SCRIPT = """
import csv, json, os, sys
from typing import Annotated

from annotated_types import Interval

from readiness.entries import models
from readiness.entries.fields import About

GIRTH = Annotated[float, Interval(ge=100, le=320), About("Round the chest", "cm", label="girth")]
class Weight(models.Weight, total=False):
    girth_cm: GIRTH
class Measure(models.Measure, total=False):
    girth_cm: GIRTH
class Feet(models.Feet, total=False):
    measures: list[Measure]
models.KINDS |= {"weight": Weight, "feet": Feet}

import duckdb
from readiness.__main__ import main
from readiness.entries.validate import validate
from readiness.forms import FORMS

NAME = "girth_cm"
of = {"on": "2026-04-03", "bull": "1"}
weight = {"kind": "weight", **of, "kg": 900, NAME: 210.0}
measures = [{"foot": "LF", "claw": "outer", "wall_mm": 90, NAME: 110.5}]
bull, feet = {"kind": "bull", **of}, {"kind": "feet", **of, "lifted": ["LF"], "measures": measures}
with open("said.jsonl", "w") as file:
    file.writelines(json.dumps(entry) + "\\n" for entry in (bull, weight, feet))
assert main(["import", "said.jsonl", "--on", "2026-04-03"]) == 0
assert main(["export", "out", "--on", "2026-04-03"]) == 0
tables = ("weights", "measures")
with duckdb.connect("bulls.duckdb", read_only=True) as con:
    views, files = ({
        name: [str(con.execute(f"SELECT typeof({NAME}) FROM {source}").fetchone()[0]),
               *con.execute(f"SELECT {NAME} FROM {source}").fetchone()]
        for name, source in sources
    } for sources in ([(name, name) for name in tables],
                      [(name, f"'out/parquet/{name}.parquet'") for name in tables]))
package = json.load(open("out/datapackage.json"))
fields = {
    resource["name"]: field for resource in package["resources"]
    for field in resource["schema"]["fields"] if field["name"] == NAME
}
entry = json.load(open("out/entries.schema.json"))["$defs"]
json.dump({
    "refused": [str(problem) for problem in validate({**weight, NAME: 99})[1]],
    "schema": [entry[name]["properties"][NAME] for name in ("Weight", "Measure")],
    "views": views,
    "parquet": files,
    "csv": {name: [row[NAME] for row in csv.DictReader(open(f"out/csv/{name}.csv"))]
            for name in tables},
    "fields": fields,
    "form": FORMS["weight"].field(NAME)[:4],
}, open("found.json", "w"))
"""


def test_a_field_added_in_one_place_is_checked_shown_exported_and_asked_for(tmp_path: Path) -> None:
    place = {"READINESS_BOOK": str(tmp_path / "bulls.duckdb"), "XDG_DATA_HOME": str(tmp_path)}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=False, cwd=tmp_path,
        env={**os.environ, **place, "PYTHONPATH": os.pathsep.join(sys.path)}, timeout=60,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = json.loads((tmp_path / "found.json").read_text())
    shape = {
        "description": "Round the chest (cm)", "maximum": 320, "minimum": 100,
        "title": "Girth Cm", "type": "number",
    }  # fmt: skip
    field = {
        "name": "girth_cm", "type": "number", "description": "Round the chest (cm)", "unit": "cm",
        "constraints": {"minimum": 100, "maximum": 320},
    }  # fmt: skip
    assert found == {
        "refused": ["girth_cm: 99 is out of range; write 100 to 320 cm"],
        "schema": [shape, shape],
        "views": {"weights": ["DOUBLE", 210.0], "measures": ["DOUBLE", 110.5]},
        "parquet": {"weights": ["DOUBLE", 210.0], "measures": ["DOUBLE", 110.5]},
        "csv": {"weights": ["210"], "measures": ["110.5"]},
        "fields": {"weights": field, "measures": field},
        "form": ["girth_cm", "girth, cm", "may stay empty", "number"],
    }
