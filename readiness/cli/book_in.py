"""``book-in``: write a bull down, or say more of him."""

from __future__ import annotations

from argparse import ArgumentParser, BooleanOptionalAction, Namespace
from typing import TYPE_CHECKING, Any

from readiness.cli.arguments import (
    argument,
    birth_argument,
    json_option,
    past_day_argument,
    word_argument,
)
from readiness.cli.context import Context
from readiness.cli.output import Output, report
from readiness.trade.ages import BORN

if TYPE_CHECKING:
    from readiness.desk.desk import Desk

FIELDS = ("name", "breed", BORN, "origin", "arrived", "temper", "heifer_safe", "pen", "farm")


def arguments(parser: ArgumentParser) -> None:
    text = "his whole tag; of a bull in the book, later fields replace"
    argument(parser, "tag", "TAG", text)
    argument(parser, "--name", "NAME", "what he is called")
    argument(parser, "--breed", "BREED", "his breed")
    text = "when: a day, mar 2023, 2023, or his age, as 3 years"
    argument(parser, "--born", "WHEN", text, type=birth_argument)
    text = "bought and hired need --arrived, for quarantine"
    argument(parser, "--origin", None, text, **_words("origin"))
    argument(parser, "--arrived", "DATE", "the day he came", type=past_day_argument)
    argument(parser, "--temper", None, "how to go near him", **_words("temper"))
    text = "whether he may go on heifers"
    argument(parser, "--heifer-safe", None, text, action=BooleanOptionalAction)
    argument(parser, "--pen", "PEN", "where he stands")
    argument(parser, "--farm", "F", "whose bull he is (default your settings' farm, else none)")
    json_option(parser)


def _words(name: str) -> dict[str, Any]:
    """A value by one of its words, or by what people call it."""
    from readiness.entries.columns import columns_of
    from readiness.entries.models import KINDS

    column = columns_of(KINDS["bull"])[name]
    return {"type": word_argument(column), "choices": column.words}


def run(options: Namespace, context: Context, output: Output) -> None:
    from readiness.history.groups import farms_named, spelt
    from readiness.shorthand import words
    from readiness.system.errors import DataError
    from readiness.trade.tags import no_tag
    from readiness.trade.words import sentence

    if why := no_tag(options.tag):
        raise DataError(f"{sentence(why)} Nothing was written.")
    desk = context.desk()
    fields = {key: _as_json(getattr(options, key)) for key in FIELDS if key != BORN}
    fields |= options.born.fields if options.born else {}
    content = {"kind": "bull", "on": desk.on.isoformat(), "bull": options.tag}
    content |= {key: value for key, value in fields.items() if value not in (None, "")}
    if farm := content.pop("farm", "") or _home(desk, options.tag):
        content["farm"] = spelt(farm.strip(), farms_named(desk.standing()))
    if context.who:
        content["by"] = context.who
    report(desk.add([content]), output, as_json=options.json, words=words(content))


def _home(desk: Desk, tag: str) -> str:
    """The farm of a bull who is new to the book, where none is named."""
    from readiness.trade.tags import tag_key

    there = any(entry.kind == "bull" and entry.bull == tag_key(tag) for entry in desk.standing())
    return "" if there else desk.settings.farm


def _as_json(value: Any) -> Any:
    return value.isoformat() if hasattr(value, "isoformat") else value
