"""Nothing is fetched and nothing is told: every command and every screen runs where a process that
opens an Internet socket is ended, by Python and by the system, whatever library it is in. The
processes of a fleet speak to each other, on this machine."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from readiness.cli.parser import COMMANDS
from readiness.tui.app import _SCREENS
from tests.faults.offline import OFFLINE, commands
from tests.faults.processes import ROOT


def offline(room: Path, *more: str) -> subprocess.CompletedProcess[str]:
    kept = {"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), "TMPDIR": str(room / "tmp")}
    names = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")
    homes = {name: str(room / "home") for name in names}
    (room / "tmp").mkdir()
    return subprocess.run(
        [sys.executable, "-m", "tests.faults.offline", str(room), *more], cwd=room,
        env={**kept, **homes}, stdin=subprocess.DEVNULL, capture_output=True, text=True,
        check=False, timeout=300,
    )  # fmt: skip


@pytest.mark.at_length
def test_no_command_and_no_screen_asks_for_a_network(tmp_path: Path) -> None:
    ran = offline(tmp_path)
    assert ran.returncode == 0, ran.stderr[-2000:]
    assert "Traceback" not in ran.stderr and "network:" not in ran.stderr
    told = re.findall(r"^command \((.*)\) (\d+)$", ran.stderr, re.MULTILINE)
    failed = [words for words, code in told if code != "0"]
    assert len(failed) == 1 and "'strike'" in failed[0]  # of an entry that is not there
    seen = set(re.findall(r"^screen (\w+)$", ran.stderr, re.MULTILINE))
    assert {made for _, made in _SCREENS.values()} | {"BoardScreen"} <= seen
    assert list((tmp_path / "tmp").iterdir()) == []


def test_every_command_is_among_those_that_run_where_there_is_no_network(tmp_path: Path) -> None:
    run = {word for words in commands(tmp_path) for word in words}
    assert set(COMMANDS) - run == {"fleet"}


@pytest.mark.long
def test_the_processes_of_a_fleet_speak_over_this_machine_s_own_loopback_alone(
    tmp_path: Path,
) -> None:
    ran = offline(tmp_path, "--fleet")
    assert ran.returncode == 0, ran.stderr[-2000:]
    assert "network:" not in ran.stderr
    assert re.findall(r"^command \('fleet', .*\) (\d+)$", ran.stderr, re.MULTILINE) == ["0"] * 3


@pytest.mark.parametrize("how", ["--try", "--try-below"])
def test_whoever_opens_a_socket_is_ended(tmp_path: Path, how: str) -> None:
    ran = offline(tmp_path, how)
    if "system True" not in ran.stderr and how == "--try-below":
        pytest.skip("this system cannot forbid it")
    assert ran.returncode == (OFFLINE if how == "--try" else -signal.SIGSYS), ran.stderr
