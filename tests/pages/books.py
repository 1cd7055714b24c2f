"""Books whose pages are looked at: the demo's, and one in which every name is an attack."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from readiness.__main__ import main
from readiness.desk.demo import build_demo
from tests.cli.small_book import DAY, FEET, Line, sound

LONG = "Strath" + "na" * 55 + "gall"  # as long as a name may be
HOSTILE = {
    "1": "<script>alert('script')</script>",
    "2": '<img src="http://example.invalid/a.png" onerror="alert(1)">',
    "3": "\"><svg onload=alert('svg')>",
    "4": "{{ 7 * 7 }}{% raw %}",
    "5": "</style></head><body hidden><style>*{display:none}",
    "6": "' onmouseover='alert(2)",
    "7": "&lt;b&gt; &amp; <b>bold</b>",
    "8": "<!-- <a href='javascript:alert(3)'>",
    "9": "=1+1",
    "10": LONG,
    "11": "\u202egnorw\u202c شارف\u0007\u0000\u200b",
    "12": "牛" * 60,
    "13": "]]></title><base href='http://example.invalid/'>",
}
"""Tag → name."""


def hostile_lines() -> list[Line]:
    """A farm, a group, bulls, notes, products and people that are all meant to break a page."""
    farm, group = "<iframe src=//example.invalid>", "</table></main><h1>&"
    lines: list[Line] = [
        {"kind": "group", "on": "2026-01-10", "group": group, "turnout": "2026-04-09", "farm": farm}
    ]
    for tag, name in HOSTILE.items():
        lines += [
            {"kind": "bull", "on": "2026-01-10", "bull": tag, "name": name, "breed": name,
             "farm": farm, "pen": name, "temper": "dangerous"},
            {"kind": "join", "on": "2026-01-11", "bull": tag, "group": group},
            *sound(tag)[1:],
            {"kind": "feet", "on": DAY, "bull": tag, "by": name, "note": name, "lifted": FEET,
             "findings": [{"foot": "LH", "claw": "both", "code": "SU", "zone": 4, "severity": 3},
                          {"foot": "RF", "claw": "outer", "code": "XX", "severity": 2}],
             "work": [{"foot": "LH", "claw": "inner", "act": "pare"}]},
            {"kind": "treatment", "on": DAY, "bull": tag, "given_by": name, "product": name,
             "reason": name},
        ]  # fmt: skip
    return lines


def written(path: Path, lines: Sequence[Line]) -> Path:
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
    return path


def hostile_book(folder: Path) -> Path:
    book, lines = folder / "hostile.duckdb", written(folder / "h.jsonl", hostile_lines())
    assert main(["--book", str(book), "import", str(lines)]) == 0
    return book


def spaced(source: str) -> str:
    """A page's text with plain spaces in its days and before its units, too."""
    return source.replace("\N{NO-BREAK SPACE}", " ")


def demo_book(folder: Path, on: str = DAY) -> Path:
    return build_demo(folder / "demo.duckdb", date.fromisoformat(on)).path


def page(book: Path, target: Path, *command: str, on: str = DAY) -> Path:
    """Have a command write its page."""
    code = main(["--book", str(book), "--on", on, *command, "--html", str(target)])
    assert code == 0
    return target
