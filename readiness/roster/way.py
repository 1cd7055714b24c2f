"""How the options of ``import``, and other commands, are said where a file is taken in."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import NamedTuple

from readiness.system.locations import usual_book


class Way(NamedTuple):
    """By the command its options are said, and other commands given. On a screen one can only name
    the file: there ``program`` and ``file`` are of the command that does it instead."""

    program: str = "readiness"
    file: str = ""

    def option(self, words: str) -> str:
        """To give an option: "say --dates dmy"."""
        return self._instead(f"import {self.file} {words}") if self.file else f"say {words}"

    def takes(self, option: str) -> str:
        """That an option takes what is meant all the same."""
        instead = self._instead(f"import {self.file} {option}")
        return f"where it is meant, {instead}" if self.file else f"{option} takes it"

    def group(self, arguments: str) -> str:
        """To write a group first, by the command with these arguments."""
        if not self.file:
            return f"{self.program} group {arguments}"
        instead = self._instead(f"group {arguments}")
        return f"on its own page, with no tag on the page after it, then this file; or {instead}"

    def _instead(self, arguments: str) -> str:
        return f"leave the program and run `{self.program} {arguments}`"


COMMAND = Way()


def on_screen(book: Path, file: Path) -> Way:
    """The way of a screen over a book, which a command has to be told where it is not the usual."""
    told = "" if book == usual_book() else f" --book {shlex.quote(str(book))}"
    return Way(f"readiness{told}", shlex.quote(str(file)))
