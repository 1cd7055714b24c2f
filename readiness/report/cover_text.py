"""Cover as text: each group, whether its bulls are enough and how sure that is, and which moves
mend a shortage."""

from __future__ import annotations

from collections.abc import Sequence

from readiness.cover.moves import Move
from readiness.cover.put_off import PutOff
from readiness.cover.results import GroupCover
from readiness.cover.whole import Cover
from readiness.report import after_words
from readiness.report import cover_words as words
from readiness.report.cover_headline import NO_GROUPS, females_words
from readiness.report.look import Look, hanging, wrapped
from readiness.system.plain import plain
from readiness.trade.words import Day, full_day_words

_LABEL = 16


def cover_text(cover: Cover, look: Look) -> str:
    """The whole, ``look.width`` columns wide at most."""
    lines = [look.paint("head", f"Cover, {full_day_words(cover.on)}")]
    if not cover.groups:
        lines += wrapped(NO_GROUPS, look.width)
    farms = list(dict.fromkeys(group.farm for group in cover.groups))
    for farm in farms:
        if len(farms) > 1:
            lines += ["", look.paint("head", plain(farm or "no farm named"))]
        own = [group for group in cover.groups if group.farm == farm]
        for group in own:
            lines += ["", *_group(cover, group, look)]
        moves = [move for move in cover.moves if move.farm == farm]
        if moves or words.no_move(own):
            lines += ["", *_moves(moves, look)]
        if later := [each for each in cover.put_off if each.before.farm == farm]:
            lines += ["", *_later(later, cover.on, look)]
    if told := after_words.facts(cover):
        lines += ["", look.paint("head", after_words.TITLE)]
        for label, said in told:
            lines += _fact(label, said, look)
    lasts = ["", *wrapped(words.LASTS, look.width - 2)] if cover.groups else []
    return "\n".join([*lines, *lasts])


def _group(cover: Cover, group: GroupCover, look: Look) -> list[str]:
    mark = f"{look.sign('alert')} " if group.counts.short else ""
    title = mark + plain(words.title(group, cover.on))
    lines = [look.paint("alert" if group.counts.short else "head", title)]
    lines += wrapped(plain(females_words(group)), look.width - 2, "  ")
    for label, said in words.facts(cover, group):
        lines += _fact(label, said, look)
    return lines


def _fact(label: str, said: str, look: Look) -> list[str]:
    first, *rest = wrapped(plain(said), look.width - 2 - _LABEL) or [""]
    mark = f"{look.sign('alert')} " if label == after_words.STILL_OUT else ""
    head = f"  {mark}{label:<{_LABEL - len(mark)}}{first}".rstrip()
    return [head, *(" " * (2 + _LABEL) + line for line in rest)]


def _moves(moves: Sequence[Move], look: Look) -> list[str]:
    if not moves:
        return wrapped(words.NO_MOVE, look.width - 2)
    lines = [look.paint("head", f"{words.mends(moves)} (`readiness cover --take` writes it)")]
    for move in moves:
        lines += hanging(plain(words.move_words(move)), look.width)
    return lines


def _later(found: Sequence[PutOff], on: Day, look: Look) -> list[str]:
    lines = [look.paint("head", f"{words.LATER} (`readiness group NAME --turnout DATE` writes it)")]
    for each in found:
        lines += hanging(plain(words.put_off_words(each, on)), look.width)
    return lines
