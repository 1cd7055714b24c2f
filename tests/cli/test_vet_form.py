"""The vet's form from a line to the bull's card: what was said stands as it was said, what was not
said is named, and a test that is out of date asks again."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tests.cli.small_book import bull, write

ON = ("--on", "2026-04-03")
DONE = ("--on", "2026-01-01")
LAB = '[[check]]\nname = "bvd-test"\nwho = "vet"\nvalid = 60\nto = 7\n'


@pytest.fixture
def rules(run: Run, tmp_path: Path) -> tuple[str, str]:
    assert run("import", write(tmp_path / "one.jsonl", bull("7", "Merrow"))).code == 0
    (tmp_path / "own.toml").write_text(LAB)
    return "--rules", str(tmp_path / "own.toml")


def card(run: Run, *more: str) -> str:
    return " ".join(run("bull", "7", *more).out.split())


def test_all_that_was_said_stands_on_his_card_and_what_was_not_is_named(
    run: Run, rules: tuple[str, str], tmp_path: Path
) -> None:
    line = "vet ok cm 36 av mot 55 computer norm 78 seen eyes legs felt testes stands by J. Hart"
    said = run("log", "7", line, "--on", "2026-03-10", "--by", "R. Hale")
    assert "semen with an artificial vagina, motile 55 %, motility by computer" in said.out
    text = card(run, *ON)
    assert (
        "The vet's last examination examined: 10 Mar examined by: J. Hart written down by: R. Hale "
        "the vet's word: satisfactory, and he stands by it semen: with an artificial vagina "
        "scrotum: 36 cm, least 34 motility: 55 %, least 60, computer normal sperm: 78 %, least 70 "
        "parts examined: looked at eyes and legs; felt testes "
        "not written down: libido, feet"
    ) in text
    page = tmp_path / "seven.html"
    assert run("bull", "7", *ON, "--html", str(page)).code == 0
    assert '<th scope="row">examined by</th><td>J. Hart</td>' in page.read_text()


def test_a_figure_of_an_examination_before_says_when_it_was_measured(
    run: Run, rules: tuple[str, str]
) -> None:
    run("log", "7", "vet again cm 33 mot 70", "--on", "2026-03-01")
    run("log", "7", "vet ok mot 80 no morph unseen", "--on", "2026-03-20")
    text = card(run, *ON)
    assert "scrotum: 33 cm, least 34, measured 1 Mar" in text
    assert "motility: 80 %, least 60 morphology: not done libido: not seen" in text


def test_a_test_that_is_out_of_date_by_turnout_is_asked_for_again(
    run: Run, rules: tuple[str, str]
) -> None:
    group = ("group", "Hill", "--turnout", "2026-05-01", "--farm", "Sallow Fell", *DONE)
    assert run(*group).code == run("log", "7", "join Hill", *DONE).code == 0
    line = 'done bvd-test lab Sike Laboratories says "negative, 1:20"'
    run("log", "7", line, "--on", "2026-02-20", *rules)
    text = card(run, *ON, *rules)
    assert (
        "bvd-test: passed 20 Feb, tested by Sike Laboratories, negative, 1:20 holds until" in text
    )
    assert "holds until 21 Apr, in 18 days" in text
    assert "vet: bvd-test again check.bvd-test" in text
    (told,) = run("bull", "7", "--json", *ON, *rules).json()["tests"]
    assert told.pop("entry")
    assert told == {
        "check": "bvd-test", "on": "2026-02-20", "result": "pass", "holds_until": "2026-04-21",
    }  # fmt: skip
    assert "out of date: held until 21 Apr" in card(run, "--on", "2026-04-22", *rules)
    run("log", "7", "done bvd-test until 30 apr", "--on", "2026-04-02", *rules)
    text = card(run, *ON, *rules)
    assert "bvd-test again" in text and "holds until 30 Apr" in text
    run("log", "7", "done bvd-test until 1 may", "--on", "2026-04-03", *rules)
    assert "bvd-test again" not in card(run, *ON, *rules)
