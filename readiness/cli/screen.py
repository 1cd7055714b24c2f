"""``readiness`` without a command: the screen."""

from __future__ import annotations

import os
import sys
from argparse import Namespace

from readiness.cli.context import Context, demo_of
from readiness.cli.output import Output
from readiness.system.errors import UsageError
from readiness.system.locations import DEMO
from readiness.system.throwaway import throw_away


def run(options: Namespace, context: Context, output: Output) -> int:
    """Open the screen on the book; only on a terminal that can show it."""
    if not can_show_screen():
        raise UsageError(
            "The screen needs a terminal, and this is none that can show it. `readiness board` "
            "prints the board as text; `readiness --help` shows every command."
        )
    return open_screen(context)


def can_show_screen() -> bool:
    """Whether both streams are a terminal that can place text."""
    return sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM") != "dumb"


def open_screen(context: Context) -> int:
    """Run the screen until it is left; its exit code."""
    from readiness.tui import run as run_screen

    settings = context.settings
    with throw_away() as place:
        demo = lambda: demo_of(context, place() / DEMO).desk()  # noqa: E731
        return run_screen(context.desk, demo, settings)
