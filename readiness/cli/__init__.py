"""The command line: one small file per command, imported only when that command is chosen."""
