"""Reading and writing as the command line and the screens do it."""
