"""What the program needs of the machine: errors, the clock, folders, files, threads."""
