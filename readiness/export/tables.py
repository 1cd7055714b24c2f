"""All the tables of an export, each defined once."""

from __future__ import annotations

from readiness.export.derived import BULLS, DERIVED
from readiness.export.said import SAID, STRIKES
from readiness.export.shape import Table

# The bulls first: the others refer to them.
TABLES: tuple[Table, ...] = (BULLS, *SAID, STRIKES, *DERIVED)
