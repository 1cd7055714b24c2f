"""What ``bull`` says of wraps, of his body, and of what is fit to work though not gone."""

from __future__ import annotations

from pathlib import Path

from tests.cli.conftest import Run
from tests.cli.small_book import Line, bull, write

ON = "2026-04-03"


def told(kind: str, on: str, **fields: object) -> Line:
    return {"kind": kind, "on": on, "bull": "7", **fields}


def test_wraps_body_and_what_is_not_gone_stand_on_his_card(run: Run, tmp_path: Path) -> None:
    heel = {"foot": "LH", "claw": "outer", "code": "SH"}
    entries = [
        *bull("7", "Merrow"),
        told("feet", "2026-02-01", lifted=["LH"], findings=[{**heel, "severity": 2}]),
        told("feet", "2026-03-20", lifted=["LH"], healed=[{**heel, "stable": True}]),
        told("feet", "2026-04-01", lifted=["RF"], work=[{"foot": "RF", "act": "wrap"}]),
        told("body", "2026-04-01", part="joint", limb="LH", state="wrong"),
        told("body", "2026-04-02", part="eyes", state="watch"),
    ]
    assert run("import", write(tmp_path / "one.jsonl", entries)).code == 0
    said = run("bull", "7", "--json", "--on", ON).json()
    (wrap,) = said["wraps"]
    assert (wrap["foot"], wrap["on"], wrap["off_by"]) == ("RF", "2026-04-01", "2026-04-06")
    assert [(b["part"], b["limb"], b["state"], b["since"]) for b in said["body"]] == [
        ("joint", "LH", "wrong", "2026-04-01"),
        ("eyes", None, "watch", "2026-04-02"),
    ]
    text = " ".join(run("bull", "7", "--on", ON).out.split())
    assert "RF: wrapped since 1 Apr" in text
    assert "LH outer: sole haemorrhage, fit to work though not gone said on 20 Mar" in text
    assert "joint LH wrong since 1 Apr: the vet decides" in text
