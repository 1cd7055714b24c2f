"""Numbers on the command line."""

from __future__ import annotations

import argparse


def whole(text: str) -> int:
    """A whole number, 0 or more."""
    if not (text.isascii() and text.isdigit()):
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number; write 0 or more")
    return int(text)
