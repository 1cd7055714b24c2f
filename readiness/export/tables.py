"""All the tables of an export, each defined once."""

from __future__ import annotations

from readiness.export.bulls import BULLS
from readiness.export.derived import DERIVED
from readiness.export.groups import GROUPS
from readiness.export.said import SAID
from readiness.export.shape import Table
from readiness.export.strikes import STRIKES

# The bulls first: the others refer to them.
TABLES: tuple[Table, ...] = (BULLS, GROUPS, *SAID, STRIKES, *DERIVED)
