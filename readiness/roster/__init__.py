"""A roster of bulls as people keep it, in a spreadsheet: read, or refused cell by cell."""

from readiness.roster.changes import Changes, Importer, changes_of
from readiness.roster.read import Roster, read_roster

__all__ = ["Changes", "Importer", "Roster", "changes_of", "read_roster"]
