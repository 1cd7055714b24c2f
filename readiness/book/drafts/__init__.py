"""Half-entered bulls that survive quit, crash and a killed terminal."""

from readiness.book.drafts.left import Half, Lineup
from readiness.book.drafts.window import Halves, unsaved_beside

__all__ = ["Half", "Halves", "Lineup", "unsaved_beside"]
