"""Half-entered bulls that survive quit, crash and a killed terminal."""

from readiness.book.drafts.journal import Draft, Lineup
from readiness.book.drafts.window import Drafts, unsaved_beside

__all__ = ["Draft", "Drafts", "Lineup", "unsaved_beside"]
