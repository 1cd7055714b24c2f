"""What earlier windows left half entered, of which no assessment knows."""

from __future__ import annotations

from functools import partial

from readiness.book.drafts import Draft, Drafts
from readiness.desk.desk import Desk


def left_now(desk: Desk) -> dict[str, Draft]:
    """As ``half_entered``, for who keeps no drafts of their own."""
    drafts = Drafts(desk.book.path)
    try:
        return half_entered(desk, drafts)
    finally:
        drafts.close()


def half_entered(desk: Desk, drafts: Drafts) -> dict[str, Draft]:
    """By bull, the newest of each: of one who was given another tag since, it is of that. What was
    saved before its window went is not half entered any more."""
    kept = drafts.open()
    if kept and desk.book.exists():
        from readiness.book.former import key_since, renamed

        kept = drafts.follow(partial(key_since, renamed(desk.reading().shelf.everything)))
    left: dict[str, Draft] = {}
    for key, draft in {draft.key: draft for draft in kept}.items():
        last: Draft | None = draft
        while last is not None and last.ids and desk.holds(last.ids):
            last = drafts.drop(key)
        if last is not None:
            left[key] = last
    return left
