"""``board``: who can go, who can't, what next."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, day_argument, farm_option, flag, known_option
from readiness.cli.context import Context
from readiness.cli.output import Output
from readiness.cli.page_file import form_options, known_words, page_asked, write_page
from readiness.trade.words import full_day_words, plural

if TYPE_CHECKING:
    from readiness.cover.groups import GroupCover
    from readiness.desk.desk import Desk
    from readiness.engine.results import Board
    from readiness.herd.changes import Change

HOLD_FOUND = 1


def arguments(parser: ArgumentParser) -> None:
    form_options(parser, csv=True)
    farm_option(parser)
    argument(parser, "--group", "NAME", "only this group")
    argument(parser, "--turnout", "DATE", "what if turnout were then", type=day_argument)
    known_option(parser)
    flag(parser, "--fail-on-hold", f"exit {HOLD_FOUND} where a bull is on hold")


def run(options: Namespace, context: Context, output: Output) -> int:
    as_page = page_asked(options)
    desk = context.desk()
    asked = {name: getattr(options, name) for name in ("farm", "group", "turnout", "known")}
    carried: Sequence[GroupCover] = ()
    if options.json or options.csv:  # for what is carried programs ask `cover --json`
        board = desk.board(**asked)
    else:
        board, carried = desk.board_and_cover(**asked)
    changed = None if options.turnout is None else _changes(board, desk, options)
    if options.json:
        from readiness.report.as_json import board_json, changes_json

        more = {} if changed is None else {"changes": changes_json(changed)}
        output.json({**board_json(board), **more})
    elif options.csv:
        from readiness.report.csv_table import board_csv

        output.raw(board_csv(board))
    elif as_page:
        _page(board, carried, changed, desk, options, output)
    else:
        _text(board, carried, changed, desk, options, output)
    held = any(bull.status == "HOLD" for bull in board.bulls)
    return HOLD_FOUND if options.fail_on_hold and held else 0


def _changes(board: Board, desk: Desk, options: Namespace) -> tuple[Change, ...]:
    """The bulls that change if turnout were then."""
    from readiness.herd.changes import changes

    as_is = desk.board(farm=options.farm, group=options.group, known=options.known)
    return changes(as_is, board)


def _text(
    board: Board, carried: Sequence[GroupCover], changed: tuple[Change, ...] | None, desk: Desk,
    options: Namespace, output: Output,
) -> None:  # fmt: skip
    from readiness.report.board_text import board_text

    output.say(board_text(board, desk.rules(), output.look, carried))
    if changed is not None:
        from readiness.report.changes_text import changes_lines

        lines = "\n".join(changes_lines(changed, board.on, output.look))
        output.say(f"\nIf turnout were {full_day_words(options.turnout)}:\n{lines}")


def _page(
    board: Board, carried: Sequence[GroupCover], changed: tuple[Change, ...] | None, desk: Desk,
    options: Namespace, output: Output,
) -> None:  # fmt: skip
    from readiness.report.board_page import board_page

    pieces = board_page(
        board,
        desk.rules(),
        carried,
        large=options.large_print,
        turnout=options.turnout,
        changed=changed,
        known=known_words(options.known),
    )
    write_page(options, pieces, output, plural(len(board.bulls), "bull"))
