"""``completion``: what a shell needs to complete commands, options and files."""

from __future__ import annotations

from argparse import Action, ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.parser import built, parser

SHELLS = ("bash", "zsh", "fish", "tcsh")
FOLDERS = ("folder",)


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "shell", None, "of which shell", choices=SHELLS)
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    script = completion(options.shell)
    if options.json:
        output.json({"shell": options.shell, "script": script})
    else:
        output.raw(script + "\n")


def completion(shell: str) -> str:
    """The script by which this shell completes command lines of the program."""
    import shtab

    top = parser()
    commands = built(top)
    for each in (top, *commands.values()):
        for action in each._actions:
            _offer(action)
    _words(commands)
    return shtab.complete(top, shell=shell)


def _offer(action: Action) -> None:
    """Where a path is wanted, files or folders."""
    import shtab

    if action.type is path_argument:
        offered = shtab.DIRECTORY if action.dest in FOLDERS else shtab.FILE
        action.complete = offered  # type: ignore[attr-defined]


def _words(commands: dict[str, ArgumentParser]) -> None:
    """Words that a command itself refuses one by one, with the nearest."""
    from readiness.guide import TOPICS
    from readiness.report.schemas.results import NAMES

    for command, dest, known in (("guide", "topic", TOPICS), ("schema", "name", NAMES)):
        (action,) = (each for each in commands[command]._actions if each.dest == dest)
        action.choices = known
