"""``turnout``: who of a group goes out and who stays, and why; and letting them out."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, flag
from readiness.cli.context import Context
from readiness.cli.output import Output, report
from readiness.cli.page_file import form_options, page_asked, write_page
from readiness.system.errors import UsageError
from readiness.trade.words import list_words, plural

if TYPE_CHECKING:
    from readiness.cover.turnout import TurnoutDay
    from readiness.desk.desk import Desk
    from readiness.engine.results import Assessment

    Told = tuple[Assessment, str | None]


def arguments(parser: ArgumentParser) -> None:
    argument(parser, "name", "GROUP", "which group")
    form_options(parser)
    argument(parser, "--farm", "NAME", "whose it is, where several have one")
    flag(parser, "--let-out", "write that those who are GO are out, as one batch")
    text = "with --let-out: one who is on HOLD or in reserve, too; may be given again"
    argument(parser, "--also", "TAG", text, action="append", default=[])
    argument(parser, "--why", "TEXT", "why one on HOLD goes: it stays beside him")


def run(options: Namespace, context: Context, output: Output) -> None:
    as_page = page_asked(options)
    if (options.also or options.why) and not options.let_out:
        raise UsageError("--also and --why are of letting out: give --let-out with them.")
    desk = context.desk()
    day = desk.reading().turnout(options.name, options.farm)
    if options.let_out:
        _let_out(day, desk, options, context, output)
    elif options.json:
        from readiness.report.cover_data import turnout_json

        output.json(turnout_json(day))
    elif as_page:
        from readiness.report.turnout_page import turnout_page

        pieces = turnout_page(day, large=options.large_print)
        write_page(options, pieces, output, f"{plural(len(day.goes), 'bull')} to go")
    else:
        from readiness.report.turnout_text import turnout_text

        output.say(turnout_text(day, output.look))


def _let_out(
    day: TurnoutDay, desk: Desk, options: Namespace, context: Context, output: Output
) -> None:
    from readiness.cover.turnout import let_out
    from readiness.report.turnout_words import early_words, name

    going: list[Told] = [(goer.bull, None) for goer in day.goes]
    going += [_named(day, desk, tag, options.why) for tag in options.also]
    if not going:
        raise UsageError(
            f"Nobody of {day.cover.group} is GO and not out yet: nothing was written. One on HOLD, "
            "or GO only for a later day, goes only by his name and with a reason: --also TAG --why "
            "TEXT."
        )
    out = list_words(name(bull) for bull, _ in going)
    told = let_out(going, desk.on, context.who)
    report(desk.add(told), output, as_json=options.json, words=f"Out: {out}{early_words(day)}.")


def _named(day: TurnoutDay, desk: Desk, tag: str, why: str | None) -> Told:
    """One who goes by name. Raises ``UsageError`` where he is not of the group, goes anyway, or may
    not go and nobody says why he goes all the same."""
    from readiness.cover.turnout import may_go
    from readiness.report.turnout_words import is_held, why_not

    bull = day.who(desk.reading().find(tag))
    if bull is None:
        raise UsageError(f"{tag} is not in {day.cover.group}, or out already: nothing was written.")
    if any(goer.bull.key == bull.key for goer in day.goes):
        raise UsageError(f"{tag} is GO and goes anyway: take --also {tag} away.")
    if may_go(bull, day.on):
        return bull, None
    if not (why and why.strip()):
        raise UsageError(
            f"{tag} {is_held(bull)} {why_not(bull, day.on)}. "
            "Nothing was written. Say with --why what speaks for it: it stays beside him."
        )
    return bull, why
