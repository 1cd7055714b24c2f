"""JSON Schema (2020-12) of every ``--json`` result, and of an entry."""
