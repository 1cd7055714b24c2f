"""``schema``: the JSON Schema of each ``--json`` result, and of an entry."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.system.errors import UsageError


def arguments(parser: ArgumentParser) -> None:
    text = "a command, or entry (default: the names)"
    argument(parser, "name", "NAME", text, nargs="?")
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.report.schemas.results import NAMES, schema_of
    from readiness.rules.where import nearest

    if options.name is None:
        if options.json:
            output.json({"schemas": list(NAMES)})
        else:
            output.say("\n".join(NAMES))
        return
    if options.name not in NAMES:
        raise UsageError(f"There is no schema {options.name!r}. {nearest(options.name, NAMES)}")
    output.raw(json.dumps(schema_of(options.name), indent=None if options.json else 2) + "\n")
