"""``log``: write what was seen or done, in shorthand, and read it back in words."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter

from readiness.cli.arguments import argument, json_option
from readiness.cli.context import Context
from readiness.cli.output import Output, report
from readiness.trade.words import year_day_words

EXAMPLES = (
    ("lf rf lh ok; rh refused", "nothing to note; would not lift; all ok"),
    ("lf o su@4/2 pare wrap", "@zone /severity (unsaid: it holds), work"),
    ("rh dd:m2 dress; lh unwrap", ":stage of DD; a wrap taken off"),
    ("lf o su healed stable", "seen healed; was sh: called so before"),
    ("lf o wall 92 sole 7 groove 20", "measures in mm"),
    ("block lh i", "the claw that carries it; block lh i off, lost"),
    ("walk 1 lf; cond 3.25; kg 980", "scores in the farm's scales, weight"),
    ("fight lame lf shoulder", "incident; also fall, transport, ill, trouble"),
    ("vet ok cm 36 mot 65 norm 78", "examined: ok, again 3 may, no; feet, stands"),
    ("vetlook foot fit lf", "lame foot body illness other; fit unfit again"),
    ("body eyes wrong", "also watch, right; body joint lf watch"),
    ("given vet: the product no pain", "by whom, what; until 3 may, for a sore foot"),
    ("out hired", "in lame, left sold, join Heifers reserve"),
    ('done bvd-test "a note"', "also failed bvd-test; then: feet lifted again"),
)
"""What may be written, for the help: each line can be read, and every word of a part is there."""


def arguments(parser: ArgumentParser) -> None:
    lines = ["shorthand (parts parted by ; more: readiness guide shorthand):"]
    lines += [f"  {line:<30} {what}" for line, what in EXAMPLES]
    parser.formatter_class, parser.epilog = RawDescriptionHelpFormatter, "\n".join(lines)
    argument(parser, "tag", "TAG", "his tag, its last digits, or his name")
    text = 'as "lf o su@4/2 pare; walk 1; cond 3.25" (quote it: ; ends a shell command)'
    argument(parser, "shorthand", "SHORTHAND", text, nargs="+")
    json_option(parser)


def run(options: Namespace, context: Context, output: Output) -> None:
    desk = context.desk()
    outcome, words = desk.log(options.tag, " ".join(options.shorthand))
    if desk.on != desk.clock.today():  # it may have been given without its year
        words = f"{year_day_words(desk.on)}, {words}"
    report(outcome, output, as_json=options.json, words=words)
