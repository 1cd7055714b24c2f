"""``man``: the manual page, made of the same definitions as the help."""

from __future__ import annotations

from argparse import SUPPRESS, ArgumentParser, Namespace

from readiness import __version__
from readiness.cli.arguments import json_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.parser import COMMON, built, parser


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    page = manual_page()
    if options.json:
        output.json({"page": page})
    else:
        output.raw(page)


def manual_page() -> str:
    """The page of section 1, as roff. What any command takes is said once, at the top."""
    from argparse_manpage.manpage import Manpage

    top = parser()
    for command in built(top).values():
        for group in command._action_groups:
            for action in group._group_actions:
                if group.title == COMMON or action.dest == "help":
                    action.help = SUPPRESS
    about = {
        "description": "GO or HOLD for each breeding bull on his turnout date",
        "version": __version__,
        "date": "readiness guide",  # where a day would stand: the page is the same on each
        "manual_title": "User Commands",
    }
    return str(Manpage(top, _data=about, format="single-commands-section"))
