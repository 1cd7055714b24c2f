"""Shorthand: a line as people type it, to entries and back, and entries in plain words."""

from readiness.shorthand.cursor import ShorthandError
from readiness.shorthand.line import Scales
from readiness.shorthand.read import read
from readiness.shorthand.say import words
from readiness.shorthand.write import WRITABLE, write

__all__ = ["WRITABLE", "Scales", "ShorthandError", "read", "words", "write"]
