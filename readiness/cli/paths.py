"""Files on the command line."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

STDOUT = Path("-")
"""The path that means standard output."""


def path_argument(text: str) -> Path:
    """A file's path. An empty one, as an unset variable leaves, is refused: the program would work
    on some other file than was meant."""
    if not text:
        raise argparse.ArgumentTypeError("no file is named; write its path")
    return at_home(text)


def at_home(text: str) -> Path:
    """The path with ~ as the user's own folder: a shell leaves it as it is in quotes and behind
    an equals sign."""
    return Path(os.path.expanduser(text))
