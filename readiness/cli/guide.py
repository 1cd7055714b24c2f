"""``guide``: the guide's topics, and each of them to be read."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from readiness.cli.arguments import argument, json_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.guide import contents, topic


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "topic", "TOPIC", "what to read of (default: what there is)", nargs="?")
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    found = topic(options.topic) if options.topic is not None else None
    if options.json:
        named = [{"topic": each.name, "title": each.title} for each in contents()]
        one = {"topic": found.name, "title": found.title, "text": found.text} if found else None
        output.json(one or {"topics": named})
    elif found:
        from readiness.guide.paint import topic_text

        look = output.look
        output.say(topic_text(look.plain_marks(found.text), look.width, colour=look.colour))
    else:
        lines = (f"  {each.name:<10}  {each.title}" for each in contents())
        output.say("\n".join(["readiness guide TOPIC", *lines]))
