"""Stdout and stderr, each with one owner: results on the one, messages on the other."""

from __future__ import annotations

import io
import os
import re
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from readiness.report.look import Look, can_show
from readiness.system.errors import CannotWrite
from readiness.system.plain import plain, plain_lines

if TYPE_CHECKING:
    from readiness.desk.writing import Outcome
    from readiness.entries.entry import Entry

_COLOUR = re.compile(r"(\x1b\[[0-9;]*m)")
NARROWEST, WIDEST, DEFAULT_WIDTH = 60, 160, 80


@contextmanager
def to_stdout() -> Iterator[None]:
    """While a result is written: what stands in the way is said as what it is, so that nobody
    takes a writing into the book for undone. A reader that went away is another matter."""
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as problem:
        raise CannotWrite(
            f"The result cannot be written to stdout: {problem.strerror or problem}. A command "
            "that writes into the book has done so all the same: look there first."
        ) from problem


@dataclass
class Output:
    """Where a command's results and messages go, and how text is drawn there."""

    look: Look
    _passing: bool = False

    @classmethod
    def of(cls, *, no_color: bool, on_light: Callable[[], bool] = bool) -> Output:
        """The process's own streams. Colour only on a terminal, and only where it is wanted;
        ``on_light`` is asked then whether its ground is light."""
        for stream in (sys.stdout, sys.stderr):
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors="replace")  # a name it cannot show is no fault
        screen = sys.stdout.isatty()
        dumb = os.environ.get("TERM") == "dumb"
        wanted = screen and not no_color and not os.environ.get("NO_COLOR") and not dumb
        width = shutil.get_terminal_size((DEFAULT_WIDTH, 24)).columns
        return cls(
            Look(
                width=max(NARROWEST, min(width, WIDEST)),
                marks=can_show(sys.stdout.encoding),
                colour=wanted,
                light=wanted and on_light(),
            )
        )

    def say(self, text: str) -> None:
        """A result in words."""
        with to_stdout():
            print(self.look.plain_marks(self._made_plain(text)))

    def note(self, text: str) -> None:
        """A message beside the result."""
        with suppress(OSError):  # there is no other place to say so
            print(plain_lines(text), file=sys.stderr, flush=True)

    def _made_plain(self, text: str) -> str:
        """Whatever a tag, a file or a book is called drives no terminal: our own colours alone."""
        if not self.look.colour:
            return plain_lines(text)
        return "".join(
            part if _COLOUR.fullmatch(part) else plain_lines(part) for part in _COLOUR.split(text)
        )

    def passing(self, what: str, done: int, most: int) -> None:
        """How long something takes that cannot say how far it is, from the first second on."""
        if done and sys.stderr.isatty():
            self._passing = True
            print(f"{what}: {done} of at most {most}; Ctrl+C stops it", end="\r", file=sys.stderr,
                  flush=True)  # fmt: skip

    def passed(self) -> None:
        """It is over: its line goes away."""
        if self._passing:
            self._passing = False
            print("\x1b[2K", end="\r", file=sys.stderr, flush=True)

    def json(self, value: Any) -> None:
        """A result for programs: one line, ASCII, so that no stream can spoil it. An object says
        which format it is of; a list has no room for that."""
        from readiness.report.as_json import FORMAT, as_line

        told = {"format": FORMAT, **value} if isinstance(value, dict) else value
        with to_stdout():
            print(as_line(told))

    def pieces(self, parts: Iterable[bytes]) -> None:
        """A result too large for one text, piece by piece."""
        with to_stdout():
            sys.stdout.flush()
            for part in parts:
                sys.stdout.buffer.write(part)

    def raw(self, text: str) -> None:
        """A file's bytes: UTF-8, line ends as they stand in ``text``."""
        with to_stdout():
            sys.stdout.flush()
            sys.stdout.buffer.write(text.encode("utf-8"))

    def warn(self, texts: Iterable[str]) -> None:
        """Warnings, each on a line of stderr."""
        for text in texts:
            self.note(f"warning: {plain(text)}")


# ---- what was written ----------------------------------------------------------------------------


def entry_words(entry: Entry) -> str:
    """An entry in words, with its bull, day and id."""
    from readiness.shorthand import words

    whose = f"{entry.body['bull']}, " if entry.bull else ""
    return plain(f"{whose}{entry.body['on']}: {words(entry.body)} ({entry.id})")


def report(outcome: Outcome, output: Output, *, as_json: bool, words: str, **more: object) -> None:
    """The outcome: what was saved, in words and by id, on stdout; what is odd on stderr, without
    the id, which a person who wrote one line knows nothing by.

    ``more``: what else programs are told."""
    output.warn(dict.fromkeys(warning.text for warning in outcome.warnings))
    if as_json:
        from readiness.report.as_json import outcome_json

        output.json({**outcome_json(outcome), "words": words, **more})
        return
    output.say(plain(words))
    for entry in outcome.written:
        output.say(f"saved {entry}")
