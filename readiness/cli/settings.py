"""``settings``: your own settings as they are, checked; a file for them where there is none."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from readiness.cli.arguments import json_option
from readiness.cli.context import Context, settings_file
from readiness.cli.output import Output
from readiness.rules.load import load_rules
from readiness.settings.read import TEMPLATE, read_settings
from readiness.settings.settings import Settings
from readiness.system.files import write_new

NAME_WIDTH = 18


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    path = settings_file().absolute()
    made = write_new(path, TEMPLATE.read_bytes())
    settings = read_settings(path)
    settings.refuse_unknown_places(load_rules(None, settings.mine), None)
    if settings.keys:
        from readiness.tui.app import keymaps

        keymaps(settings)
    if options.json:
        output.json(_as_json(settings, context) | {"made": made})
        return
    words = "made: every line in it says what it is for" if made else "in order"
    output.say(f"{path}: {words}")
    for name, said in _lines(settings, context):
        output.say(f"  {name:{NAME_WIDTH}} {said}")


def _lines(settings: Settings, context: Context) -> Iterator[tuple[str, str]]:
    """What holds, and what is set beside it."""
    yield "who", context.who or "nobody: what you say is written without a name"
    yield "farm", settings.farm or "none"
    yield "theme", settings.theme
    tables = {"scales": settings.scales, "visits": settings.visits}
    tables |= {f"keys.{screen}": table for screen, table in settings.keys.items()}
    for table, values in tables.items():
        for key, value in values.items():
            said = ", ".join(value) if isinstance(value, tuple) else value
            yield f"{table}.{key}", said


def _as_json(settings: Settings, context: Context) -> dict[str, Any]:
    return {
        "file": str(settings.file),
        "who": context.who or None,
        "farm": settings.farm or None,
        "theme": settings.theme,
        "scales": dict(settings.scales),
        "visits": dict(settings.visits),
        "keys": {screen: dict(table) for screen, table in settings.keys.items()},
    }
