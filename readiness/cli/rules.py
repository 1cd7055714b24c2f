"""``rules``: the rules in force, each with value, unit, standing and source."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from readiness.cli.arguments import argument, json_option, path_argument
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.rules.load import load_rules, values_table
from readiness.rules.model import RuleBook
from readiness.settings.settings import NONE_SET
from readiness.system.errors import NotFound, ReadinessError
from readiness.system.plain import name_key
from readiness.trade.words import plural


def arguments(parser: ArgumentParser) -> None:
    json_option(parser)
    argument(parser, "--check", "FILE", "only check this rules file", type=path_argument)
    argument(parser, "--farm", "NAME", "the rules of this farm")


def run(options: Namespace, context: Context, output: Output) -> None:
    path = options.check or context.rules
    settings = NONE_SET if options.check else context.settings
    rulebook = load_rules(path, settings.mine)
    settings.refuse_unknown_places(rulebook, path)
    farm = options.farm
    if farm is not None and name_key(farm) not in rulebook.by_key:
        _refuse_unknown(farm, rulebook, None if options.check else context)
        none = f"{farm} has no rules of its own: these are those of every farm."
        output.note(none) if options.json else output.say(f"{none}\n")
    rules = rulebook.common if farm is None else rulebook.for_farm(farm)
    if options.json:
        from readiness.report.as_json import rules_json

        output.json(rules_json(values_table(rules)))
    elif options.check:
        output.say(_checked(options.check, rulebook))
    else:
        from readiness.report.rules_text import rules_text

        output.say(rules_text(rules, output.look))
    for name in _for_nobody(rulebook, context):
        output.note(
            f"warning: these rules speak of the farm {name}, and the book {context.book.name} of "
            "none of that name: for whom are they? Spell it as the book does."
        )


def _for_nobody(rulebook: RuleBook, context: Context) -> list[str]:
    """The farms that have rules of their own, and that the book does not know."""
    if not rulebook.farms or not context.book.exists():
        return []
    try:
        known = set(map(name_key, context.desk().reading().farms))
    except ReadinessError:  # the rules can be right though the book cannot be read now
        return []
    return [name for name in rulebook.farms if name_key(name) not in known]


def _refuse_unknown(farm: str, rulebook: RuleBook, context: Context | None) -> None:
    """Raise ``NotFound`` for a farm of which the rules do not speak, nor the book (``context``;
    None: it is not asked)."""
    own = f"Farms with rules of their own: {', '.join(sorted(rulebook.farms)) or 'none'}."
    if context is None or not context.desk().book.exists():
        raise NotFound(f"The rules speak of no farm {farm}. {own}")
    try:
        context.desk().reading().refuse_unknown(farm=farm)
    except NotFound as problem:
        raise NotFound(f"{problem} {own}") from problem


def _checked(path: Path, rulebook: RuleBook) -> str:
    own = sum(value.overridden for value in rulebook.common.values.values())
    farms = f"; farms: {', '.join(sorted(rulebook.farms))}" if rulebook.farms else ""
    return f"{path} is in order: {plural(own, 'value')} of its own{farms}"
