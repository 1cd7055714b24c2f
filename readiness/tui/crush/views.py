"""What stands on the Crush screen, part by part. Pure: cards and pads in, styled text out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from textual.content import Content

from readiness.crush.before import advised, blocks_to_stay, last_visit, tasks, wraps_on
from readiness.crush.effects import Saved
from readiness.crush.meaning import odd
from readiness.crush.pad import Key, Pad
from readiness.herd.card import Card
from readiness.report import sentences
from readiness.report.blame import asked_first, blamed_but_foot
from readiness.report.spans import width_of
from readiness.system.width import cells
from readiness.trade.temper import CAUTION
from readiness.trade.words import full_day_words
from readiness.tui.shared.looks import ORANGE, QUIET, SKY, TEXT, YELLOW, Glyphs, big

Part = tuple[str, str]
WIDE_ENOUGH = 76
"""The cells from which there is room beside what has to be said."""


def top_line(
    where: str, done: int, race: int, half: int, today: date, width: int, glyphs: Glyphs
) -> Content:
    """The farm, how many are through, still come and are half entered, the day."""
    right = full_day_words(today)
    halves = f", {half} half{' entered' if width >= WIDE_ENOUGH else ''}" if half else ""
    middle = f"{done} done, {race} in the race{halves}"
    name = glyphs.fit(f"Crush{f', {where}' if where else ''}", width - len(right) - len(middle) - 8)
    gap = width - cells(name) - len(middle) - len(right) - 2
    left = max(gap // 2, 1)
    return Content.assemble(
        (f" {name}", f"bold {TEXT}"),
        " " * left,
        (middle, TEXT),
        " " * max(gap - left, 1),
        (right, TEXT),
    )


def head(card: Card, on: int, glyphs: Glyphs, tag: str, room: int) -> Content:
    """Who he is, and first how careful one has to be of him, in three lines of ``room`` cells;
    ``tag``: what the large digits leave out of it."""
    name = glyphs.text(card.assessment.name or "").upper()
    temper = CAUTION.get(str(card.state.profile.get("temper")))
    first: list[Part] = [(f"{name}  " if name else "", f"bold {TEXT}"), (tag, TEXT)]
    if temper:
        first.append((f"  {glyphs.late} {temper} ", f"bold reverse {ORANGE}"))
    lines = [
        Content.assemble(*first),
        Content.assemble((glyphs.fit(glyphs.text(sentences.person(card, on)), room), TEXT)),
        Content.assemble((glyphs.text(sentences.standing_in(card, on, room)), QUIET)),
    ]
    return Content("\n").join(lines)


def due(card: Card, today: date, rows: int, width: int, glyphs: Glyphs) -> Content:
    """What there is to do on him today; then what happened to what was blamed, blocks that stay,
    and what was last seen: as many lines as there are."""
    on = today.toordinal()
    found = tasks(card.assessment, on)
    parts: list[Part] = [(" today: ", QUIET)]
    if not found:
        parts.append(("nothing has to be done on him today", QUIET))
    for at, task in enumerate(found):
        parts.append((f" {glyphs.dot} " if at else "", QUIET))
        late = f"{glyphs.late} " if task.late else ""
        parts.append((late + glyphs.text(task.words), f"bold {ORANGE}" if task.late else TEXT))
    stays = (*wraps_on(card, on), *blocks_to_stay(card, on), *advised(card))
    more = [(words, YELLOW) for words in (*blamed_but_foot(card, on), *stays)]
    last = last_visit(card, on) or "His feet were never lifted here."
    lines = [Content.assemble(*parts)]
    lines += [Content.assemble((f" {glyphs.text(words)}", style)) for words, style in more]
    lines.append(Content.assemble((f" {glyphs.text(last)}", QUIET)))
    return _rows(lines, rows, width, glyphs)


def _rows(lines: Iterable[Content], rows: int, width: int, glyphs: Glyphs) -> Content:
    """The lines folded to ``width``; of more than ``rows`` the first, the cut one marked."""
    folded = [
        part if at == 0 else Content(" ") + part
        for line in lines
        for at, part in enumerate(line.wrap(max(width - 2, 20)))
    ]
    kept = folded[:rows]
    if len(folded) > rows and kept:
        kept[-1] = kept[-1].truncate(max(width - 2, 1)) + Content(glyphs.ellipsis)
    return Content("\n").join(kept)


# ---- feet --------------------------------------------------------------------------------------


def saved(last: Saved | None, rows: int, width: int, glyphs: Glyphs) -> Content:
    """The last thing saved, in words, and what it means."""
    if last is None:
        return Content("")
    lines = [Content.assemble((glyphs.text(last.title), f"bold {SKY}"))]
    lines += [Content.assemble((glyphs.text(words), TEXT)) for words in last.said]
    lines += [
        Content.assemble((f"{glyphs.arrow} ", QUIET), (glyphs.text(words), TEXT))
        for words in last.means
    ]
    lines[1:1] = [
        Content.assemble((f"{glyphs.late} {glyphs.text(words)}", f"bold {ORANGE}"))
        for words in last.odd
    ]
    return _rows(lines, rows, width, glyphs)


# ---- the line, the words, the question -----------------------------------------------------------


def line(text: str, unread: str, width: int, glyphs: Glyphs) -> Content:
    """The slip as shorthand, or what cannot be read as such: its end, where it does not fit."""
    shown = glyphs.text(unread or text)
    room = width - 4
    if cells(shown) > room:
        shown = glyphs.ellipsis + shown[-(room - len(glyphs.ellipsis)) :]
    return Content.assemble((" > ", QUIET), (shown, ORANGE if unread else f"bold {TEXT}"))


def warnings(pad: Pad, card: Card) -> list[str]:
    """What to think of before more is said."""
    asked = asked_first(pad.slip.contents, card.rules, pad.slip.lifted)
    found = [pad.said, asked, *odd(pad.slip, card, pad.mode.place)]
    return list(dict.fromkeys(filter(None, found)))


def words(
    pad: Pad, card: Card, last: Saved | None, rows: int, width: int, glyphs: Glyphs
) -> Content:
    """What will be saved, in words; before it what to think of. While nothing is said of this bull,
    what was last saved of another, large."""
    if not pad.slip and not pad.said and last is not None:
        return echoed(last, rows, width, glyphs)
    lines = [
        Content.assemble((f" {glyphs.late} {glyphs.text(each)}", f"bold {ORANGE}"))
        for each in warnings(pad, card)
    ]
    said = " ".join(pad.slip.said())
    lines.append(Content.assemble((f" {glyphs.text(said)}" if said else "", TEXT)))
    if sum(len(each.wrap(max(width - 2, 20))) for each in lines) > rows:
        lines = [Content("").join(lines)]  # each on from the one before: no half rows are lost
    return _rows(lines, rows, width, glyphs)


def wrong(why: str, glyphs: Glyphs) -> Content:
    """Why a line cannot be read."""
    return Content.styled(f" {glyphs.late} {glyphs.text(why)}", f"bold {ORANGE}")


def echoed(last: Saved | None, rows: int, width: int, glyphs: Glyphs) -> Content:
    """What was last saved, and what it means."""
    return Content("") if last is None else _rows([_echo(last, glyphs)], rows, width, glyphs)


def _echo(last: Saved, glyphs: Glyphs) -> Content:
    """What was saved and what it means, in one go."""
    parts: list[Part] = [(f" {glyphs.text(last.title)}", f"bold {SKY}")]
    parts += [(f" {glyphs.late} {glyphs.text(each)}.", f"bold {ORANGE}") for each in last.odd]
    for each in last.means:
        parts += [(f" {glyphs.arrow} ", QUIET), (glyphs.text(each), f"bold {TEXT}")]
    return Content.assemble(*parts)


def question(pad: Pad, width: int, rows: int, glyphs: Glyphs) -> Content:
    """The question, and the keys that answer it; where they take more than so many rows, words that
    can be spared go."""
    lines = _asked(pad.question, width, glyphs)
    keys = pad.keys
    shown = key_lines(keys, width, glyphs)
    if len(lines) + len(shown) > rows:
        bare = [each._replace(words="") if each.spare else each for each in keys]
        shown = key_lines(bare, width, glyphs)
    return Content("\n").join([*lines, *shown])


def typed(asks: str, below: str, width: int, glyphs: Glyphs) -> Content:
    """What is asked while one types."""
    lines = _asked(asks, width, glyphs)
    lines += [Content.assemble((f" {glyphs.text(below)}", QUIET))] if below else []
    return Content("\n").join(lines)


def _asked(words: str, width: int, glyphs: Glyphs) -> list[Content]:
    """What is asked, in as many lines as it takes."""
    asked = Content.assemble((f" {glyphs.text(words)}", f"bold {TEXT}"))
    first, *rest = asked.wrap(max(width, 20) - 1)
    return [first, *(Content.assemble(" ", line) for line in rest)]


def key_lines(keys: Iterable[Key], width: int, glyphs: Glyphs) -> list[Content]:
    """Keys and what they mean, whole ones only in each line."""
    lines: list[Content] = []
    parts: list[Part] = []
    room = width - 1
    for key, said, spare in keys:
        pair: list[Part] = [(f" {key}", f"bold {TEXT}"), (f" {glyphs.text(said)} ", QUIET)]
        if spare and said:  # of many it is the name that is looked for
            pair = [(f" {glyphs.text(said)} ", QUIET), (f"{key} ", f"bold {TEXT}")]
        needed = width_of(pair)
        if parts and needed > room:
            lines.append(Content.assemble(*parts))
            parts, room = [], width - 1
        parts += pair
        room -= needed
    return [*lines, Content.assemble(*parts)] if parts else lines


def big_foot(pad: Pad, glyphs: Glyphs) -> Content:
    """The foot that is meant, in large letters; empty where none is."""
    foot = pad.mode.place[0]
    if not foot:
        return Content("")
    return Content("\n").join(
        Content.assemble((f" {row} ", f"bold {SKY}")) for row in big(foot, glyphs)
    )


def coming(names: Sequence[str], width: int, glyphs: Glyphs) -> Content:
    """Who comes next in the race."""
    if not names:
        return Content.assemble(
            (
                " Nobody else is in the race: / picks a bull, g a group; Tab: who is left over.",
                QUIET,
            )
        )
    return Content.assemble(
        (" next: ", QUIET), (glyphs.fit(glyphs.text(", ".join(names)), width - 9), TEXT)
    )
