"""Hostile input for every reader there is: made up by hypothesis out of valid input, and watched.

``python -m tests.hostile --rows 100000`` does it at length and prints a table.
"""
