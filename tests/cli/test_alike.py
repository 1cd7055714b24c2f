"""Very many messages of a kind, and the line that says how far something is."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from readiness.cli.alike import FEW, KINDS_MOST, in_short
from readiness.cli.bar import Bar, bar_line
from tests.cli.conftest import Run
from tests.cli.small_book import DAY


def test_of_alike_warnings_the_first_few_are_told_and_the_rest_counted() -> None:
    alike = [(f"id-{n}", f"healed: LF ulcer of {n} mm: none was open") for n in range(1200)]
    said = [*in_short("a.jsonl", [*alike[:3], ("", "tag 7: read it again"), *alike[3:]])]
    assert said[:4] == [
        *(f"a.jsonl: id-{n}: healed: LF ulcer of {n} mm: none was open" for n in range(3)),
        "a.jsonl: tag 7: read it again",
    ]
    assert said[4 + FEW - 3 :] == [
        f"a.jsonl: {1200 - FEW} more like this: {alike[0][1]}",
        "a.jsonl: --json tells each of them",
    ]


def test_few_warnings_are_all_told_and_nothing_besides() -> None:
    alike = [("", f"odd {n}") for n in range(FEW)]
    assert [*in_short("a", alike)] == [f"a: odd {n}" for n in range(FEW)]


def test_a_file_odd_altogether_does_not_fill_the_screen_kind_by_kind() -> None:
    kinds = [("", "so " * n + "odd") for n in range(KINDS_MOST + 30)]
    said = [*in_short("a", kinds)]
    assert len(said) == KINDS_MOST + 2
    assert said[-2:] == ["a: 30 more of other kinds", "a: --json tells each of them"]


def test_the_json_of_an_import_keeps_every_warning(run: Run, book: Path, tmp_path: Path) -> None:
    odd = {"kind": "feet", "on": DAY, "bull": "288", "lifted": ["LF"]}
    healed = {"foot": "LF", "claw": "outer", "code": "WLF"}
    tag = run("bull", "288", "--json", "--on", DAY).json()["bull"]
    lines = [{**odd, "bull": tag, "note": f"seen {n}", "healed": [healed]} for n in range(FEW + 7)]
    file = tmp_path / "many.jsonl"
    file.write_text("".join(f"{json.dumps(line)}\n" for line in lines))
    ran = run("import", file, "--check", "--json")
    assert ran.code == 0, ran.err
    assert len(ran.json()["warnings"]) == len(lines)
    assert f"{len(lines) - FEW} more like this" in ran.err
    assert len(ran.err.splitlines()) == FEW + 2


# ---- how far it is -----------------------------------------------------------------------------


@pytest.mark.parametrize("width", [20, 80])
@pytest.mark.parametrize("at", [-1.0, 0.5, 2.0])
def test_the_bar_is_one_line_that_never_fills_a_row(width: int, at: float) -> None:
    line = bar_line("import a-very-long-name.jsonl", at, width, marks=True)
    assert len(line) < width
    assert f"{min(max(int(100 * at), 0), 100)} %" in line


def test_a_bar_says_how_far_it_is() -> None:
    assert bar_line("verify", 0.5, 80, marks=False) == f"verify  {'#' * 12}{'.' * 12}   50 %"


def test_in_a_pipe_there_is_no_bar(capfd: pytest.CaptureFixture[str]) -> None:
    with Bar("verify") as bar:
        bar.tell(1, 2)
    assert capfd.readouterr() == ("", "")


def test_a_bar_is_written_only_where_it_has_moved_and_is_gone_at_the_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    written: list[str] = []
    monkeypatch.setattr("readiness.cli.bar._write", written.append)
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    monkeypatch.setenv("TERM", "xterm")
    with Bar("verify") as bar:
        for done in (1, 1, 2):
            bar.tell(done, 4)
            bar.draw()
    assert [text.count("%") for text in written] == [1, 1, 0]
    assert written[-1] == "\r\x1b[K"
