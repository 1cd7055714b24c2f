"""``board``: who can go, who can't, what next."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, day_argument, farm_option, flag, known_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, known_words, page_asked, write_page
from readiness.system.errors import UsageError
from readiness.trade.words import full_day_words, list_words, plural

if TYPE_CHECKING:
    from readiness.cover.results import GroupCover
    from readiness.cover.what_if import Seen, WhatIf
    from readiness.desk.desk import Desk
    from readiness.engine.results import Board, GroupLine

HOLD_FOUND = 1


def arguments(parser: ArgumentParser) -> None:
    form_options(parser, csv=True)
    farm_option(parser)
    argument(parser, "--group", "NAME", "only this group")
    argument(parser, "--turnout", "DATE", "what if a group's turnout were then", type=day_argument)
    known_option(parser)
    flag(parser, "--fail-on-hold", f"exit {HOLD_FOUND} where a bull is on hold")


def run(options: Namespace, context: Context, output: Output) -> int:
    as_page = page_asked(options)
    desk = context.desk()
    asked = {name: getattr(options, name) for name in ("farm", "group", "turnout", "known")}
    if options.json and desk.book.is_big() and all(each is None for each in asked.values()):
        from readiness.cli.big_board import print_big_board

        return HOLD_FOUND if print_big_board(desk, output) and options.fail_on_hold else 0
    carried: Sequence[GroupCover] = ()
    found = None
    if options.turnout is not None:
        as_is = _as_is(desk, options)
        board, carried = desk.board_and_cover(**asked)
        found = _what_if(as_is, (board, carried))
    elif options.json or options.csv:  # for what is carried programs ask `cover --json`
        board = desk.board(**asked)
    else:
        board, carried = desk.board_and_cover(**asked)
    if options.json:
        _json(board, found, output)
    elif options.csv:
        from readiness.report.csv_table import board_csv

        output.raw(board_csv(board))
    elif as_page:
        _page(board, carried, found, desk, options, output)
    else:
        _text(board, carried, found, desk, options, output)
    held = any(bull.status == "HOLD" for bull in board.bulls)
    return HOLD_FOUND if options.fail_on_hold and held else 0


def _as_is(desk: Desk, options: Namespace) -> Seen:
    """The board with turnouts as they are. Raises ``UsageError`` where several groups fit what was
    said and no farm was: one day for all of them is nobody's question."""
    seen = desk.board_and_cover(farm=options.farm, group=options.group, known=options.known)
    groups = seen[0].groups
    if options.farm is None and len(groups) > 1:
        farms = any(line.farm for line in groups)
        choices = list_words((_choice(line, farms=farms) for line in groups), "or")
        raise UsageError(f"Say whose turnout would be then: {choices}.")
    return seen


def _choice(line: GroupLine, *, farms: bool) -> str:
    farm = f' --farm "{line.farm or ""}"' if farms else ""
    return f'--group "{line.group}"{farm}'


def _what_if(as_is: Seen, then: Seen) -> WhatIf:
    from readiness.cover.what_if import what_if

    return what_if(as_is, then)


def _json(board: Board, found: WhatIf | None, output: Output) -> None:
    from readiness.report.as_json import board_json, changes_json, sum_json

    told = board_json(board)
    if found is not None:
        told |= {"changes": changes_json(found.changes), "sum": sum_json(found)}
    output.json(told)


def _text(
    board: Board, carried: Sequence[GroupCover], found: WhatIf | None, desk: Desk,
    options: Namespace, output: Output,
) -> None:  # fmt: skip
    from readiness.report.board_text import board_text

    output.say(board_text(board, desk.rules(), output.look, carried))
    if found is not None:
        from readiness.report.changes_text import what_if_lines

        lines = "\n".join(what_if_lines(found, board.on, output.look))
        output.say(f"\nIf turnout were {full_day_words(options.turnout)}:\n{lines}")


def _page(
    board: Board, carried: Sequence[GroupCover], found: WhatIf | None, desk: Desk,
    options: Namespace, output: Output,
) -> None:  # fmt: skip
    from readiness.report.board_page import board_page

    pieces = board_page(
        board,
        desk.rules(),
        carried,
        large=options.large_print,
        turnout=options.turnout,
        what_if=found,
        known=known_words(options.known),
    )
    write_page(options, pieces, output, plural(len(board.bulls), "bull"))
