"""The one place where errors become exit codes and words on stderr."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TextIO

from readiness.cli.arguments import settled
from readiness.cli.context import context_of
from readiness.cli.output import Output, to_stdout
from readiness.cli.parser import command_module, parser, writes
from readiness.settings.settings import LIGHT
from readiness.system.clock import SystemClock
from readiness.system.errors import FAULT, CannotWrite, NoMemory, ReadinessError
from readiness.system.plain import plain

INTERRUPTED = 130
NO_MEMORY = (
    "There is not memory enough for this. What was in the book before is whole: close other "
    "programs, or do it in smaller parts."
)
MESSAGE_MOST = 4_000
"""Letters: what was given stands in a message, and may be a whole file pasted in."""


def run(arguments: Sequence[str]) -> int:
    """Parse and run one command line; its exit code."""
    gc.disable()  # a command is over before there is anything to collect: 12 ms of a cold board
    try:
        _fill_streams()
        code = _run(arguments)
        with to_stdout():
            sys.stdout.flush()
    except ReadinessError as problem:
        return _fail(str(problem), problem.exit_code)
    except BrokenPipeError:
        _let_go_of(sys.stdout)
        return 0  # who reads has read enough
    except KeyboardInterrupt:
        return _fail("Stopped.", INTERRUPTED)
    except OSError as problem:
        why = problem.strerror or str(problem)
        where = f" ({problem.filename})" if problem.filename else ""
        text = f"The system refused: {why}{where}. See to the path, the disk and the permission."
        return _fail(text, CannotWrite.exit_code)
    except MemoryError:
        return _fail(NO_MEMORY, NoMemory.exit_code)
    except Exception as fault:
        if sys.flags.dev_mode:
            raise
        return _fail(_fault_words(fault), FAULT)
    finally:
        gc.enable()
        _flush_stderr()
    return code


def _flush_stderr() -> None:
    """What cannot be said on stderr can be said nowhere: the exit code still tells."""
    try:
        sys.stderr.flush()
    except OSError:
        _let_go_of(sys.stderr)


def _fill_streams() -> None:
    """Open to nowhere each stream that was closed before we began.

    Else the next file opened, the book, would have the number of a stream, and whatever is
    written to that stream would go into the book.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115


def _run(arguments: Sequence[str]) -> int:
    try:
        asked = parser().parse_args(arguments)
        options = settled(asked, SystemClock().today, writes=writes(asked))
    except SystemExit as stop:  # --help and --version have printed what was asked for
        return int(stop.code or 0)
    context = context_of(options)
    output = Output.of(
        no_color=getattr(options, "no_color", False),
        on_light=lambda: context.settings.theme == LIGHT,
    )
    return command_module(options.command).run(options, context, output) or 0


def _fail(text: str, code: int) -> int:
    try:
        sys.stdout.flush()  # what was said before the failure comes before it
    except OSError:
        _let_go_of(sys.stdout)
    with suppress(OSError):
        print(f"readiness: {_short(plain(text))}", file=sys.stderr, flush=True)
    return code


def _short(text: str) -> str:
    """A message short enough to be read: of a longer one how it begins, and what it says to do."""
    half = MESSAGE_MOST // 2
    return text if len(text) <= MESSAGE_MOST else f"{text[:half]} … {text[-half:]}"


def _fault_words(fault: Exception) -> str:
    """A fault of ours, in one paragraph: where it is, for whoever mends it."""
    trace = fault.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = f"{trace.tb_frame.f_code.co_filename}:{trace.tb_lineno}" if trace else "unknown place"
    return (
        f"A fault of this program: {type(fault).__name__}: {fault} ({where}). "
        "What was in the book before is whole. Run `python -X dev -m readiness` with the same "
        "arguments to see all of it, and report it."
    )


def _let_go_of(stream: TextIO) -> None:
    """Point a stream to nowhere, so that its last flush at exit finds a reader: else the exit code
    would be another."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
