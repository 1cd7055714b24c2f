"""The one place where errors become exit codes and words on stderr."""

from __future__ import annotations

import gc
import os
import sys
from argparse import Namespace
from collections.abc import Sequence

from readiness.cli.context import context_of
from readiness.cli.output import Output
from readiness.cli.parser import command_module, parser
from readiness.errors import CannotWrite, ReadinessError

INTERRUPTED = 130
FAULT = 70


def run(arguments: Sequence[str]) -> int:
    """Parse and run one command line; its exit code."""
    gc.disable()  # a command is over before there is anything to collect: 12 ms of a cold board
    try:
        code = _run(arguments)
        sys.stdout.flush()
    except ReadinessError as problem:
        return _fail(str(problem), problem.exit_code)
    except BrokenPipeError:
        _let_go_of_stdout()
        return 0  # who reads has read enough
    except KeyboardInterrupt:
        return _fail("Stopped.", INTERRUPTED)
    except OSError as problem:
        why = problem.strerror or str(problem)
        where = f" ({problem.filename})" if problem.filename else ""
        return _fail(f"The system refused: {why}{where}.", CannotWrite.exit_code)
    except Exception as fault:
        if sys.flags.dev_mode:
            raise
        return _fail(_fault_words(fault), FAULT)
    finally:
        gc.enable()
    return code


def _run(arguments: Sequence[str]) -> int:
    try:
        options: Namespace = parser().parse_args(arguments)
    except SystemExit as stop:  # --help and --version have printed what was asked for
        return int(stop.code or 0)
    output = Output.of(no_color=getattr(options, "no_color", False))
    return command_module(options.command).run(options, context_of(options), output)


def _fail(text: str, code: int) -> int:
    from readiness.plain import plain

    try:
        sys.stdout.flush()  # what was said before the failure comes before it
    except OSError:
        _let_go_of_stdout()
    print(f"readiness: {plain(text)}", file=sys.stderr)
    return code


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


def _let_go_of_stdout() -> None:
    """Point stdout to nowhere, so that its last flush at exit finds a reader."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
