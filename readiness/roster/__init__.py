"""A roster of bulls as people keep it, in a spreadsheet: read, or refused cell by cell."""
