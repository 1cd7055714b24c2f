"""What the Crush screen asks of the desk: to read, to save, to take back. Imports no textual, and
runs in a thread."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from readiness.book.anew import MENDED, WRONG_BULL
from readiness.book.drafts import Draft
from readiness.crush.before import before_of, ending, unsaid
from readiness.crush.by_form import in_book
from readiness.crush.effects import (
    Back,
    Batch,
    Fetch,
    Give,
    Instead,
    KeepDraft,
    Save,
    Saved,
    Unsaved,
    Write,
)
from readiness.crush.giving import gave, given, of
from readiness.crush.meaning import NO_LONGER, meaning
from readiness.crush.mending import mended_in_book
from readiness.crush.race import Race
from readiness.crush.saving import saved, taken_back
from readiness.crush.session import Session, Step, stay
from readiness.crush.slip import Slip
from readiness.crush.top import pad_for
from readiness.desk.half_entered import half_entered
from readiness.entries.ids import again_id, typed_id
from readiness.herd.card import Card
from readiness.herd.done import Done
from readiness.report.bull_text import LEFT
from readiness.shorthand import WRITABLE, words
from readiness.system.errors import NotFound, ReadinessError
from readiness.trade.words import list_words
from readiness.tui.shared.reading import told

if TYPE_CHECKING:
    from readiness.book.drafts import Drafts
    from readiness.desk.desk import Desk
    from readiness.desk.writing import Outcome
    from readiness.engine.results import Assessment, Board
    from readiness.entries.entry import Entry


NOT_KEPT = "Not kept yet: the folder beside the book takes nothing. Enter saves him."


@dataclass(frozen=True, slots=True)
class CrushSheet:
    """The board, who has been handled on its day, and the bull in the crush, where there is one."""

    board: Board
    handled: Mapping[str, Done]
    card: Card | None


def about_to_write(desk: Desk) -> None:
    """What the first bull saved would wait for, now: the day's backup, and what judges entries."""
    if desk.readonly:
        return
    with suppress(ReadinessError):  # whatever bars it is said when he is saved
        if desk.book.exists():
            desk.book.back_up_first()
    from readiness.entries.validate import made_ready

    made_ready(WRITABLE)


def read_crush(desk: Desk, key: str | None) -> CrushSheet:
    """The board of the day and the bull of this key; without him where he is not there."""
    board = desk.board()
    return CrushSheet(board, desk.handled_on(desk.on), card_of(desk, key))


def left_over(desk: Desk, drafts: Drafts) -> dict[str, Unsaved]:
    """What earlier windows left half entered, by bull."""
    return {key: draft_of(draft) for key, draft in half_entered(desk, drafts).items()}


def draft_of(draft: Draft) -> Unsaved:
    return Unsaved(draft.line, date.fromisoformat(draft.on))


def race_left(drafts: Drafts, today: date) -> Race:
    """The race of this day as an earlier window left it."""
    kept = drafts.race()
    same_day = kept is not None and kept.day == today.isoformat()
    return Race(kept.keys, kept.dropped) if kept and same_day else Race()


def card_of(desk: Desk, key: str | None, *, last: bool = False) -> Card | None:
    """The card of a bull; None where he is not, or not any more, on the book. ``last``: as the book
    was when we last read it or wrote into it."""
    if key is None:
        return None
    try:
        return desk.card(key, last=last)
    except NotFound:
        return None


Errand = Fetch | Save | Give | Instead | Write
"""What is done in a thread, one after the other."""


def carry_out(desk: Desk, drafts: Drafts, session: Session, effect: Errand) -> Step:
    """Read or write what a session asks for; what came of it."""
    match effect:
        case Fetch(str(key), None):
            card = card_of(desk, key)
            return lambda now: now.arrived(key, card)
        case Fetch(str(key), Slip() as half):
            card = card_of(desk, key)
            return lambda now: given(now, key, card, half)
        case Save(card_before, slip, line, following):
            of = card_before.assessment.key
            ids = tuple(typed_id(desk.clock.now()) for _ in slip.contents)
            draft = Draft(of, line, slip.on.isoformat(), ids)
            last, after = save(desk, drafts, card_before, draft, slip, session.called(of))
            follows = card_of(desk, following, last=True)
            return lambda now: saved(now, of, ids, last, follows, after)
        case Give(batch, key):
            return give(desk, session, batch, key)
        case Instead(key):
            said = instead(desk, session, effect)
            return lambda now: mended_in_book(now, key, said)
        case Write(content):
            last = write(desk, content, session.called(session.key or ""))
            return lambda now: in_book(now, last)
    return stay


def keep(drafts: Drafts, draft: KeepDraft) -> Step:
    """Keep what is half said; what there is to say of that."""
    if draft.line.strip():
        kept = drafts.put(Draft(draft.key, draft.line, draft.on.isoformat()))
        return stay if kept else lambda now: now.say(NOT_KEPT)
    older = drafts.drop(draft.key)
    return (lambda now: now.left(draft.key, draft_of(older))) if older is not None else stay


def save(
    desk: Desk, drafts: Drafts, card: Card, draft: Draft, slip: Slip, called: str
) -> tuple[Saved, Assessment | None]:
    """Write the slip of the bull that is ``called`` so; what was written, and what it means; how
    he stands then, None where he has left.

    The ids go into ``draft`` before they go into the book: whoever finds that draft after a crash
    sees whether it was saved.
    """
    drafts.put(draft)
    done = desk.add(slip.contents, ids=draft.ids)
    drafts.drop(draft.key)
    after = desk.card(draft.key, last=True)
    last = _written(desk, f"saved {called}", slip, card, after, done)
    return last, None if after.state.gone else after.assessment


def _written(desk: Desk, title: str, slip: Slip, card: Card, after: Card, done: Outcome) -> Saved:
    """This slip is in the book. ``card``: his as it was before; ``after``: how he stands now."""
    before = before_of(card, slip.on)
    odd = (warning.text for warning in done.warnings)
    left = before.unanswered(slip)
    silent = [f"not spoken of, so it stays open: {found.words}" for found in left]
    held = [f"{list_words(slip.refused)} would not lift"] if slip.refused else []
    now = meaning(card.assessment, after.assessment, desk.on.toordinal())
    return Saved(
        title=title,
        said=tuple(slip.said()),
        means=(LEFT,) if after.state.gone else tuple(now),
        odd=tuple(
            dict.fromkeys((*held, *odd, *silent, *unsaid(before, slip), *ending(before, slip)))
        ),
    )


def give(desk: Desk, session: Session, batch: Batch, key: str) -> Step:
    """Say what was saved of one bull of the bull of this key: one batch, which one undo takes back.
    Raises ``DataError`` where it does not stand any more."""
    card = card_of(desk, key)
    if card is None:
        name = session.called(key)
        return lambda now: now.say(f"{name} is not on the book any more: nothing is given.")
    slip = of(batch.pad.slip, card.assessment.bull)
    done = desk.instead(batch.said, slip.contents, WRONG_BULL)
    after = [desk.card(of, last=True) for of in (key, batch.key)]
    title = f"saved {session.called(key)}, not {session.called(batch.key)}"
    last = _written(desk, title, slip, card, after[0], done)
    ids, strikes = frozenset(done.written), len(batch.said)
    said = frozenset(done.written[strikes:])
    his = Batch(key, pad_for(before_of(card, slip.on), slip), ids, said)
    stand = [each.assessment for each in after]
    return lambda now: gave(now, batch, his, last, stand)


def instead(desk: Desk, session: Session, what: Instead) -> Saved:
    """Say what was mended in place of what was saved. Raises ``DataError`` where that does not
    stand any more."""
    before = desk.card(what.key, last=True).assessment
    done = desk.instead(what.ids, what.contents, MENDED)
    after = desk.card(what.key, last=True).assessment
    means = meaning(before, after, desk.on.toordinal(), NO_LONGER)
    said = tuple(map(words, what.contents))
    odd = tuple(dict.fromkeys(warning.text for warning in done.warnings))
    return Saved(f"mended {session.called(what.key)}", said, tuple(means), odd)


def write(desk: Desk, content: Mapping[str, Any], whose: str) -> Saved:
    """Write one entry of a group, or of the bull called so."""
    done = desk.add([content])
    odd = tuple(warning.text for warning in done.warnings)
    return Saved(f"saved {content.get('group') or whose}", (words(content),), (), odd)


def undo(desk: Desk, session: Session, *, here: bool) -> Step:
    """Take back this device's last batch (``here``: it was saved here last). Raises ``NotFound``
    where there is none left."""
    from readiness.desk.writing import though_taken_back

    entries = desk.undo()
    with though_taken_back():
        what = told(desk, entries)
        key = next(iter(what.keys)) if len(what.keys) == 1 else ""
        his = card_of(desk, key or None)
        card = his or card_of(desk, session.key)
    if his is None:
        again = frozenset(again_id(entry.id) for entry in entries if entry.kind == "strike")
        back = Back(Saved("taken back", what.said), again=again)
    else:
        title = f"taken back: {session.called(key)}"
        slip = None if what.strikes else _slip_of(entries, his)
        done = desk.handled_on(desk.on).get(key)
        back = Back(Saved(title, what.said), key, slip, done=done)
    return lambda now: taken_back(now, back, card, here=here)


def _slip_of(entries: tuple[Entry, ...], card: Card) -> Slip | None:
    """What these entries said, to be said again; None where shorthand cannot say it."""
    first = entries[0].body
    said_alike = {(entry.body["on"], entry.body.get("by", "")) for entry in entries}
    if len(said_alike) > 1 or not all(entry.kind in WRITABLE for entry in entries):
        return None
    return Slip(
        card.assessment.bull,
        date.fromisoformat(first["on"]),
        first.get("by", ""),
        tuple(entry.body for entry in entries),
    )
