"""A roster of bulls as people keep it in a spreadsheet, or a vet's sheet: read, or refused cell by
cell."""

from readiness.roster.changes import Changes, Importer, changes_of
from readiness.roster.read import read_roster
from readiness.roster.roster import Odd, Roster, problems_once, warnings_once
from readiness.roster.vet_sheet import vet_changes
from readiness.roster.way import COMMAND, on_screen

__all__ = [
    "COMMAND",
    "Changes",
    "Importer",
    "Odd",
    "Roster",
    "changes_of",
    "on_screen",
    "problems_once",
    "read_roster",
    "vet_changes",
    "warnings_once",
]
