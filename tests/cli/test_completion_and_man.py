"""What shells complete and ``man`` shows is what the commands take."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from readiness.cli.completion import SHELLS
from readiness.cli.parser import COMMANDS, built, parser
from tests.cli.conftest import Run

ASK = """
eval "$SCRIPT"
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
how=$(complete -p readiness); how=${how##*-F }
COMPREPLY=(); ${how%% *} readiness "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
printf '%s\\n' "${COMPREPLY[@]}"
"""


def completed(run: Run, tmp_path: Path, *words: str) -> set[str]:
    """What bash offers for the last word."""
    bash = shutil.which("bash")
    assert bash
    script = run("completion", "bash").out
    ran = subprocess.run(
        [bash, "-c", ASK, "bash", "readiness", *words], env={"SCRIPT": script, "PATH": "/bin"},
        cwd=tmp_path, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return set(ran.stdout.split())


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (("bo",), {"board", "book-in"}),
        (("board", "--la"), {"--large-print"}),
        (("guide", "cr"), {"crush"}),
        (("schema", "ent"), {"entry"}),
        (("diary", "--who", ""), {"trimmer", "farmer", "vet"}),
        (("import", "ro"), {"roster.csv"}),
        (("export", "fo"), {"folder"}),
        (("export", "ro"), set()),
    ],
)
def test_bash_offers_what_fits(
    run: Run, tmp_path: Path, words: tuple[str, ...], offered: set[str]
) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "roster.csv").touch()
    assert completed(run, tmp_path, *words) == offered


@pytest.mark.parametrize("shell", SHELLS)
def test_every_command_and_option_is_in_the_script(run: Run, shell: str) -> None:
    script = run("completion", shell).out
    options = {
        option
        for each in built(parser()).values()
        for action in each._actions
        for option in action.option_strings
    }
    names = {option.lstrip("-") for option in options if option.startswith("--")}
    assert {each for each in (*COMMANDS, *names) if each not in script} == set()
    if found := shutil.which(shell):
        check = [found, "-n"]
        ran = subprocess.run(check, input=script, text=True, capture_output=True, check=False)
        assert (ran.returncode, ran.stderr) == (0, "")


def test_the_manual_page_has_every_command_option_and_word_of_help(run: Run) -> None:
    page = run("man").out
    assert page.startswith('.TH READINESS "1"')
    flat = " ".join(re.sub(r"\\f[BIR]|\\[,/]|\\", "", page).split())
    for name, command in built(parser()).items():
        assert f"readiness {name}" in flat
        for action in command._actions:
            if action.dest != "help":
                assert all(option in flat for option in action.option_strings), name
                assert action.help is not None
                assert " ".join(action.help.split()) in flat, (name, action.dest)


def test_what_any_command_takes_is_said_once(run: Run) -> None:
    page = run("man").out.replace("\\", "")
    assert page.count("else READINESS_BOOK") == 1


@pytest.mark.skipif(shutil.which("man") is None, reason="no man here")
def test_man_shows_the_page_without_a_complaint(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "readiness.1"
    file.write_text(run("man").out, encoding="utf-8")
    ran = subprocess.run(
        ["man", "--warnings", "-l", str(file)], capture_output=True, text=True, check=True,
        env={"MANWIDTH": "80", "PATH": "/bin:/usr/bin", "LC_ALL": "C.UTF-8", "MANPAGER": "cat"},
    )  # fmt: skip
    assert ran.stderr == "" and "READINESS(1)" in ran.stdout
