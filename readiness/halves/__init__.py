"""Half-entered bulls that survive quit, crash and a killed terminal."""

from readiness.halves.left import Half, Race
from readiness.halves.window import Halves, unsaved_beside

__all__ = ["Half", "Halves", "Race", "unsaved_beside"]
