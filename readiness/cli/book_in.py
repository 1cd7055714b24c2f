"""``book-in``: write a bull down, or say more of him."""

from __future__ import annotations

from argparse import ArgumentParser, BooleanOptionalAction, Namespace
from typing import TYPE_CHECKING, Any

from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.parser import day_argument
from readiness.cli.saved import report
from readiness.trade.temper import TEMPERS

if TYPE_CHECKING:
    from readiness.desk.desk import Desk

FIELDS = ("name", "breed", "born", "origin", "arrived", "temper", "heifer_safe", "pen", "farm")


def arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "tag", metavar="TAG", help="his whole tag; of a bull in the book, later fields replace"
    )
    parser.add_argument("--name", metavar="NAME", help="what he is called")
    parser.add_argument("--breed", metavar="BREED", help="his breed")
    parser.add_argument("--born", metavar="DATE", type=day_argument, help="the day he was born")
    parser.add_argument(
        "--origin",
        choices=("homebred", "bought", "hired"),
        help="bought and hired need --arrived, for quarantine",
    )
    parser.add_argument("--arrived", metavar="DATE", type=day_argument, help="the day he came")
    parser.add_argument("--temper", choices=TEMPERS, help="how to go near him")
    parser.add_argument(
        "--heifer-safe", action=BooleanOptionalAction, help="whether he may go on heifers"
    )
    parser.add_argument("--pen", metavar="PEN", help="where he stands")
    parser.add_argument("--farm", metavar="F", help="whose bull he is (default the unnamed farm)")
    parser.add_argument("--json", action="store_true", help="for programs")


def run(options: Namespace, context: Context, output: Output) -> int:
    from readiness.shorthand import words

    desk = context.desk()
    fields = {key: _as_json(getattr(options, key)) for key in FIELDS}
    content = {"kind": "bull", "on": desk.on.isoformat(), "bull": options.tag}
    content |= {key: value for key, value in fields.items() if value not in (None, "")}
    if context.who:
        content["by"] = context.who
    likely = _meant_perhaps(desk, options.tag)
    outcome = desk.add([content])
    output.warn(likely)
    report(outcome, output, as_json=options.json, words=words(content))
    return 0


def _as_json(value: Any) -> Any:
    return value.isoformat() if hasattr(value, "isoformat") else value


def _meant_perhaps(desk: Desk, tag: str) -> list[str]:
    """A warning where the end of another bull's tag was given: the other commands would find him
    by it, this one books a new bull."""
    from readiness.trade.tags import match_tag, tag_key

    booked = {entry.bull: entry.body["bull"] for entry in desk.standing() if entry.kind == "bull"}
    others = [booked[key] for key in match_tag(tag, booked) if key != tag_key(tag)]
    if not others:
        return []
    return [
        f"{tag} is booked as a new bull; the tag of {', '.join(others)} ends so too. If he was "
        "meant, take this back with `readiness undo` and give his whole tag."
    ]
