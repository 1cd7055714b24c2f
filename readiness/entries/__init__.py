"""Entries at the edge: what people and files say is checked here, once, and canonical after.

Everything past this package trusts an entry's content. It imports pydantic: what only reads the
book must not import it.
"""

from readiness.entries.ids import line_id, typed_id
from readiness.entries.jsonl import Reading, read_jsonl
from readiness.entries.oddities import oddities_of
from readiness.entries.problem import Problem
from readiness.entries.validate import validate

__all__ = ["Problem", "Reading", "line_id", "oddities_of", "read_jsonl", "typed_id", "validate"]
