"""A process with the shim in it, all modules read, that forks a child for each trial: a command
there costs what the command itself costs, not the start of Python.

It takes a request as a line of JSON, and answers with one: what became of each command.
"""

from __future__ import annotations

import contextlib
import importlib
import io
import json
import os
import pkgutil
import signal
import subprocess
import sys
import time
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from tests.faults.processes import ROOT, pipe
from tests.faults.shim import Fault, Shim, compiled

ROOMS = (
    "book",
    "cli",
    "desk",
    "entries",
    "export",
    "herd",
    "report",
    "roster",
    "rules",
    "settings",
)
PATIENCE = 300
"""Seconds after which a child that does not end is a hang: salvage gives each file 120."""


class Ran(NamedTuple):
    """What one command did. ``code``: its exit code, negative where a signal ended it (as
    ``subprocess`` says it); None where it was not begun. ``calls``: counted by the shim."""

    code: int | None
    out: str
    err: str
    calls: int = 0

    def json(self) -> Any:
        return json.loads(self.out)


class Server:
    """The process, from the side of the tests."""

    def __init__(self, folder: Path) -> None:
        """``folder``: where the shim and what commands print is put; not where books are."""
        self.folder = folder
        environment = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith("READINESS") and name not in ("LOGNAME", "NO_COLOR")
        }
        environment |= {
            "LD_PRELOAD": str(compiled(folder)),
            "USER": "sam",
            "XDG_DATA_HOME": str(folder / "data"),
            "XDG_CONFIG_HOME": str(folder / "config"),
            "TZ": "UTC",
        }
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.server", str(folder)],
            cwd=ROOT,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def run(
        self,
        *commands: Sequence[object],
        folder: Path,
        fault: Fault | None = None,
        at: int = -1,
        log: Path | None = None,
        ahead: int = 0,
        zone: str = "UTC",
        seed: int = 0,
    ) -> list[Ran]:
        """Run command lines one after the other in one child, in ``folder``, which is watched.

        ``fault`` strikes at call ``at`` of the first; ``log``: where all that reaches the disk is
        written down; ``ahead``: seconds by which the clock is; ``zone``: as TZ has it.
        A command line that begins with "tests." is a function there: it is given the rest.
        """
        request = {
            "commands": [[str(word) for word in command] for command in commands],
            "folder": str(folder),
            "fault": [fault.how, at, fault.error, int(fault.kinds)] if fault else None,
            "log": str(log) if log else None,
            "ahead": ahead,
            "zone": zone,
            "seed": seed,
        }
        process = self._process
        assert process.stdin is not None
        process.stdin.write(json.dumps(request) + "\n")
        process.stdin.flush()
        answer = pipe(process.stdout).readline()
        assert answer, "the server of the trials has ended"
        return [Ran(*ran) for ran in json.loads(answer)]

    def close(self) -> None:
        self._process.communicate()


@contextmanager
def serving(folder: Path) -> Iterator[Server]:
    server = Server(folder)
    try:
        yield server
    finally:
        server.close()


# ---- inside the process --------------------------------------------------------------------------


def _warm() -> None:
    """Everything that a command would import, and nothing that starts a thread."""
    for room in ROOMS:
        package = importlib.import_module(f"readiness.{room}")
        for module in pkgutil.iter_modules(package.__path__, f"readiness.{room}."):
            with contextlib.suppress(ImportError):  # an optional part that is not installed
                importlib.import_module(module.name)
    from readiness.book.views import views
    from readiness.cli.parser import parser
    from readiness.entries.validate import validate
    from readiness.rules.load import load_rules

    views()
    load_rules(None)
    parser()
    for kind in ("bull", "feet", "mobility"):
        validate({"kind": kind, "on": "2026-04-01", "bull": "1"})


def _serve(folder: Path) -> None:
    shim = Shim()
    _warm()
    for line in sys.stdin:
        print(json.dumps(_trial(shim, folder, json.loads(line))), flush=True)


def _trial(shim: Shim, folder: Path, request: Mapping[str, Any]) -> list[Any]:
    results = folder / "results"
    results.write_bytes(b"")
    for name in ("out", "err"):
        (folder / name).write_bytes(b"")
    child = os.fork()
    if child == 0:
        code = 70
        try:
            os.setsid()
            _child(shim, folder, request)
            code = 0
        except BaseException:
            traceback.print_exc()
            sys.stderr.flush()
        finally:
            os._exit(code)
    status = _ended(child)
    done = [json.loads(line) for line in results.read_text("utf-8").splitlines()]
    missing = len(request["commands"]) - len(done)
    if missing:
        texts = [(folder / name).read_text("utf-8", "replace") for name in ("out", "err")]
        done.append([os.waitstatus_to_exitcode(status), *texts, 0])
        done += [[None, "", "", 0]] * (missing - 1)
    return done


def _ended(child: int) -> int:
    """Its status; killed where it hangs (then it is told as a SIGALRM)."""
    end = time.monotonic() + PATIENCE
    pause = 0.001
    while True:
        found, status = os.waitpid(child, os.WNOHANG)
        if found:
            return status
        if time.monotonic() > end:
            os.killpg(child, signal.SIGKILL)
            os.waitpid(child, 0)
            return signal.SIGALRM
        time.sleep(pause)
        pause = min(pause * 1.5, 0.01)


def _child(shim: Shim, folder: Path, request: Mapping[str, Any]) -> None:
    import random

    random.seed(request["seed"])
    os.environ["TZ"] = request["zone"]
    time.tzset()
    os.chdir(request["folder"])
    os.environ["READINESS_BOOK"] = os.path.join(request["folder"], "bulls.duckdb")
    shim.watch(request["folder"])
    if request["ahead"]:
        shim.clock(request["ahead"])
    if request["log"]:
        shim.log(os.open(request["log"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_APPEND))
    if request["fault"]:
        shim.arm(*request["fault"])
    for command in request["commands"]:
        streams = [_stream(folder, name, number) for number, name in ((1, "out"), (2, "err"))]
        sys.stdout, sys.stderr = streams
        code = _function(command)() if command[0].startswith("tests.") else _command(command)
        calls = shim.calls()
        shim.arm(0, -1, 0, 0)
        shim.log(-1)
        for stream in streams:
            stream.flush()
        texts = [(folder / name).read_text("utf-8", "replace") for name in ("out", "err")]
        with (folder / "results").open("a", encoding="utf-8") as told:
            told.write(json.dumps([code, *texts, calls]) + "\n")


def _stream(folder: Path, name: str, number: int) -> io.TextIOWrapper:
    """A new file in the place of a stream of the process."""
    fresh = os.open(folder / name, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_APPEND, 0o600)
    os.dup2(fresh, number)
    os.close(fresh)
    return open(number, "w", encoding="utf-8", closefd=False)


def _command(words: list[str]) -> int:
    from readiness.__main__ import main

    return main(words)


def _function(words: list[str]) -> Callable[[], int]:
    module, _, name = words[0].rpartition(".")
    function = getattr(importlib.import_module(module), name)
    return lambda: int(function(*words[1:]) or 0)


if __name__ == "__main__":
    _serve(Path(sys.argv[1]))
