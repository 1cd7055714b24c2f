"""The command line's grammar. A command's own options are read from its module when it is used."""

from __future__ import annotations

from argparse import SUPPRESS, ArgumentParser, Namespace, _SubParsersAction
from collections.abc import Sequence
from importlib import import_module
from typing import Any, NoReturn, Protocol

from readiness import __version__
from readiness.cli.arguments import (
    argument,
    flag,
    own_day_argument,
    path_argument,
    person_argument,
)
from readiness.cli.context import Context
from readiness.cli.output import Output, to_stdout
from readiness.system.errors import UsageError

COMMANDS: dict[str, tuple[str, str]] = {
    "demo": ("demo", "build and show the demo book: an invented estate with 36 bulls"),
    "guide": ("guide", "what a reader needs to know, by topics"),
    "board": ("board", "who can go, who can't, what next"),
    "bull": ("bull", "one bull: why, what is outstanding, his history"),
    "log": ("log", "write what was seen or done, in shorthand"),
    "book-in": ("book_in", "write a bull down, or say more of him"),
    "group": ("group", "write a group and its turnout"),
    "undo": ("undo", "take back what was last written on this device"),
    "import": ("import_files", "take in files of entries"),
    "merge": ("merge", "take in another copy of the book: another person's day, an older one"),
    "strike": ("strike", "take one entry back"),
    "retag": ("retag", "a bull under another tag: misread, or lost and replaced"),
    "diary": ("diary", "what is due, by day and by whom"),
    "sheet": ("sheet", "the day sheet left at the farm: seen, done, and what comes next"),
    "visits": ("visits", "the fewest return visits that cover what is outstanding"),
    "cover": ("cover", "are the bulls enough for the females, and which moves mend a shortage"),
    "turnout": ("turnout", "who of a group goes out, who stays and why; lets them out"),
    "stats": ("stats", "how often what was found, by code, foot, claw, zone, breed, age, year"),
    "rules": ("rules", "the rules in force, with their sources"),
    "export": ("export", "everything in the book as files for other programs"),
    "fleet": ("fleet", "many farms' books at once, on all cores or a cluster; figures over them"),
    "schema": ("schema", "the JSON Schema of each result of --json, and of an entry"),
    "settings": ("settings", "your own settings, checked; makes their file at first"),
    "backup": ("backup", "write a consistent copy of the book"),
    "restore": ("restore", "bring a backup back, into a new place"),
    "salvage": ("salvage", "what can be read of a damaged book, into a new one; what is lost"),
    "verify": ("verify", "check every entry of the book"),
    "completion": ("completion", "what a shell needs to complete command lines"),
    "man": ("man", "the manual page, for man"),
}
"""Command → (its module in this package, what it does)."""

WRITING = {"log", "book-in", "group", "undo", "import", "merge", "strike", "retag"}
"""The commands that write what was said, seen or done."""
WRITING_OPTIONS = ("let_out", "take")
"""With one of these others write it, too."""

NO_COMMAND = "screen"
COMMON = "on any command"


class Command(Protocol):
    """What a command's module offers."""

    def arguments(self, parser: ArgumentParser) -> None:
        """Add the command's own arguments."""

    def run(self, options: Namespace, context: Context, output: Output) -> int | None:
        """Do it; the exit code, None for 0."""


def writes(options: Namespace) -> bool:
    """Whether a command line asks to write what was said, seen or done."""
    asked = (getattr(options, option, False) for option in WRITING_OPTIONS)
    return options.command in WRITING or any(asked)


def command_module(command: str) -> Command:
    """The module of a command, imported now."""
    module: Any = import_module(f"readiness.cli.{COMMANDS.get(command, (command,))[0]}")
    return module  # type: ignore[no-any-return]


class _Parser(ArgumentParser):
    """Raises instead of printing usage and leaving: errors are one paragraph, said in one place."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{message}. `{self.prog} --help` shows how.")

    def _print_message(self, message: str, file: Any = None) -> None:
        """Help and version, which the parent drops without a word where they cannot be written."""
        with to_stdout():
            print(message, end="", file=file, flush=True)


class CommandParser(_Parser):
    """A command's parser, which is built when it is first used: a command needs no other's."""

    def __init__(self, command: str, **settings: Any) -> None:
        self._unbuilt: tuple[str, dict[str, Any]] | None = (command, settings)

    def parse_known_args(  # type: ignore[override]
        self, args: Sequence[str] | None = None, namespace: Namespace | None = None
    ) -> tuple[Namespace, list[str]]:
        self.build()
        return super().parse_known_args(args, namespace)

    def build(self) -> None:
        """Give it the arguments that every command has, and its own."""
        if self._unbuilt is not None:
            (command, settings), self._unbuilt = self._unbuilt, None
            super().__init__(parents=[_common()], allow_abbrev=False, **settings)
            self.set_defaults(command=command)
            command_module(command).arguments(self)


def parser() -> ArgumentParser:
    """The parser of a whole command line."""
    top = _Parser(
        prog="readiness",
        description="GO or HOLD for each breeding bull on his turnout date: what is outstanding, "
        "by when, and why. Without a command it opens the screen; `guide` explains it. The vet "
        "decides; this informs.",
        parents=[_common()],
        allow_abbrev=False,
    )
    top.add_argument("--version", action="version", version=f"readiness {__version__}")
    flag(top, "--readonly", "the screen shows the book and writes nothing")
    top.set_defaults(command=NO_COMMAND)
    commands = top.add_subparsers(title="commands", metavar="COMMAND", parser_class=CommandParser)
    for name, (_, summary) in COMMANDS.items():
        description = f"{summary[0].upper()}{summary[1:]}."
        commands.add_parser(name, command=name, help=summary, description=description)
    return top


def built(top: ArgumentParser) -> dict[str, ArgumentParser]:
    """Each command's parser with all its arguments, for what tells of all of them."""
    (commands,) = (each for each in top._actions if isinstance(each, _SubParsersAction))
    for each in commands.choices.values():
        each.build()
    return dict(commands.choices)


def _common() -> _Parser:
    """The global options. Without defaults, so that one given before a command is not undone by
    its absence after it."""
    common = _Parser(add_help=False, argument_default=SUPPRESS)
    group = common.add_argument_group(COMMON)
    text = "the book (else READINESS_BOOK, else your own data folder)"
    argument(group, "--book", "FILE", text, type=path_argument)
    text = "your own rules (else READINESS_RULES, else the .toml beside the book)"
    argument(group, "--rules", "FILE", text, type=path_argument)
    text = "the day assessed, or the day of what is written (default today)"
    argument(group, "--on", "DATE", text, type=own_day_argument)
    text = "who says so (else your settings, else your user name)"
    argument(group, "--by", "WHO", text, type=person_argument)
    flag(group, "--no-color", "no colour (also NO_COLOR)")
    return common
